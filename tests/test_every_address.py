"""Every address x role: what each gets. An address that is not listed fails.

The roles are those of ``orchard/access.py``, a person who is not signed in, the owner
of another orchard and a former member, who must learn nothing, not even that the
address exists, and a helper: nobody is signed in, but their cookie opens one round.
Outside their own pages helpers get what everybody gets who is not signed in.
"""

import uuid
from datetime import timedelta
from typing import Any

import pytest
from allauth.usersessions.models import UserSession
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver, reverse
from django.utils import timezone

from care.actions.calendar_links import make_calendar_link
from care.actions.helper_links import make_helper_link
from care.actions.tasks import complete_task
from care.models import Helper, LogEntry, Round, Task
from orchard.actions.invites import make_invite
from orchard.actions.members import remove_member
from orchard.actions.station_keys import make_key
from orchard.actions.weather import import_days
from orchard.models import DoubtedValue, Membership, NeighbourTree, Planting
from tests.address_roles import (
    ANYBODY,
    EDIT,
    EDIT_PAGE,
    GOVERN,
    GOVERN_PAGE,
    HELPER,
    HELPER_PAGE,
    HOME,
    LOGIN,
    NOT_SIGNED_IN,
    OWN,
    ROLES,
    SEE,
    SIGNED_IN,
    TICK,
    row,
)
from tests.conftest import TODAY, person
from tests.plan_addresses import PLAN_TABLE, draw_something

# name: (method, what each role gets, the values posted)
TABLE: dict[str, tuple[str, dict[str, int], dict[str, object]]] = {
    "healthz": ("get", ANYBODY, {}),
    "home": ("get", HOME, {}),
    "signin_once": ("get", row(*[410] * 6), {}),
    "start": ("get", SIGNED_IN, {}),
    "you": ("get", SIGNED_IN, {}),
    "session_end": ("post", row(LOGIN, 404, 404, 404, 302, 404), {}),
    "join": ("get", ANYBODY, {}),
    "people": ("get", SEE, {}),
    "people_trail": ("get", GOVERN_PAGE, {}),
    "people_trail_csv": ("get", GOVERN_PAGE, {}),
    "people_invite": ("post", EDIT_PAGE, {"note": "Ana", "role": "viewer"}),
    "invite_revoke": ("post", EDIT, {}),
    "people_role": ("post", GOVERN, {"role": "grower"}),
    "people_help_in": ("post", GOVERN_PAGE, {}),
    "people_remove": ("post", GOVERN, {}),
    "people_leave": ("post", OWN, {}),
    "helper_links": ("get", EDIT_PAGE, {}),
    "helper_link_revoke": ("post", EDIT, {}),
    "helper_open": ("get", row(200, 200, 200, 200, 200, 200, helper=302), {}),
    "helper": ("get", HELPER_PAGE, {}),
    "helper_tick": ("post", HELPER, {}),
    "helper_note": ("post", HELPER, {"note": "Leaves curl."}),
    "helper_undo": ("post", HELPER, {}),
    "helper_units": ("post", HELPER, {"units": "us"}),
    "differing_sources": ("get", SIGNED_IN, {}),
    "round": ("get", SEE, {}),
    "trees": ("get", SEE, {}),
    "tree": ("get", SEE, {}),
    "task": ("get", SEE, {}),
    "task_working": ("get", SEE, {}),
    "log": ("get", SEE, {}),
    "weather": ("get", SEE, {}),
    "season": ("get", SEE, {}),
    "away": ("get", SEE, {}),
    "hindcast": ("get", SEE, {}),
    "hindcast_wish": ("post", EDIT, {}),
    "in_care": ("get", SEE, {}),
    "plan": ("get", SEE, {}),
    "plan_drawing": ("get", SEE, {}),
    "plantings": ("get", SEE, {}),
    "planting": ("get", SEE, {}),
    "planting_add": ("get", EDIT_PAGE, {}),
    "planting_edit": ("get", EDIT_PAGE, {}),
    "planting_days": ("post", EDIT, {"on": "2025-09-20"}),
    "wanted_add": ("get", EDIT_PAGE, {}),
    "wanted_edit": ("get", EDIT_PAGE, {}),
    "wanted_day": ("get", EDIT_PAGE, {}),
    "wanted_remove": ("post", EDIT, {}),
    "planting_sheet": ("get", SEE, {}),
    "planting_shopping": ("get", SEE, {}),
    "wanted_sheet": ("get", SEE, {}),
    "wanted_step": ("post", TICK, {}),
    "wanted_step_undo": ("post", TICK, {}),
    "wanted_stands": ("post", TICK, {}),
    "tree_planting_sheet": ("post", TICK, {}),
    "partners": ("get", SEE, {}),
    "neighbour_add": ("post", EDIT, {"species": "apple"}),
    "neighbour_remove": ("post", EDIT, {}),
    "kinds": ("get", SEE, {}),
    "kind": ("get", SEE, {}),
    "kind_add": ("get", EDIT_PAGE, {}),
    "kind_figure": ("get", EDIT_PAGE, {}),
    "kind_remove": ("post", EDIT, {}),
    "cultivar_add": ("get", EDIT_PAGE, {}),
    "cultivar_figure": ("get", EDIT_PAGE, {}),
    "cultivar_remove": ("post", EDIT, {}),
    "tree_figure": ("get", EDIT_PAGE, {}),
    "calendar_links": ("get", SEE, {}),
    "calendar": ("get", ANYBODY, {}),
    "message_choices": ("post", row(*[302] * 6), {"wanted": "cold_tonight"}),
    "in_care_take": ("post", TICK, {"thing": "block-0"}),
    "in_care_leave": ("post", TICK, {"thing": "block-0"}),
    "task_done": ("post", TICK, {}),
    "task_skip": ("post", TICK, {"reason": "no_time"}),
    "task_later": ("post", TICK, {"until": str(TODAY + timedelta(days=2))}),
    "task_answer": ("post", EDIT, {"answer": "no"}),
    "block_done": ("post", TICK, {"kind": "watering", "action": "water"}),
    "water_all": ("post", TICK, {"litres": "10", "on": str(TODAY)}),
    "water_none": ("post", TICK, {}),
    "water_seen": ("post", TICK, {"answer": "all", "on": str(TODAY)}),
    "entry_undo": ("post", TICK, {}),
    "live_on": ("post", TICK, {"days": "1"}),
    "tree_observe": ("post", TICK, {"what": "soil_feel", "word": "wet"}),
    "tree_water": ("post", TICK, {"amount": "5", "on": str(TODAY)}),
    "tree_harvest": ("post", TICK, {"mass": "2", "on": str(TODAY)}),
    "tree_spray": (
        "post",
        TICK,
        {"product": "Soap", "waiting_days": "7", "on": str(TODAY)},
    ),
    "tree_manure": ("post", TICK, {"fruit": "touches", "on": str(TODAY)}),
    "tree_move": ("post", TICK, {"place": "indoors_unheated", "on": str(TODAY)}),
    "tree_note": ("post", TICK, {"note": "Leaves curl.", "on": str(TODAY)}),
    "tree_repot": (
        "post",
        TICK,
        {"litres": "60", "medium": "mix", "on": str(TODAY)},
    ),
    "tree_to_ground": ("post", TICK, {"ball": "50", "on": str(TODAY)}),
    "tree_to_pot": (
        "post",
        TICK,
        {"litres": "60", "medium": "mix", "on": str(TODAY)},
    ),
    "tree_replace": ("post", EDIT, {}),
    "tree_graft": ("post", TICK, {"cultivar": "Eureka", "on": str(TODAY)}),
    "tree_graft_end": ("post", TICK, {"on": str(TODAY)}),
    "tree_end": ("post", EDIT, {"status": "lost", "on": str(TODAY), "reason": "Frost"}),
    "calendar_revoke": ("post", OWN, {}),
    **PLAN_TABLE,
    "fit": ("get", SEE, {}),
    "fit_kind": ("get", SEE, {}),
    "ripening": ("get", SEE, {}),
    "tree_add": ("get", EDIT_PAGE, {}),
    "trees_paste": ("get", EDIT_PAGE, {}),
    "tree_edit": ("get", EDIT_PAGE, {}),
    "irrigation": ("get", EDIT_PAGE, {}),
    "irrigation_end": ("post", EDIT, {"where": "all"}),
    "site_settings": ("get", EDIT_PAGE, {}),
    "weather_import": ("get", EDIT_PAGE, {}),
    "weather_normals": ("get", EDIT_PAGE, {}),
    "weather_sources": ("get", SEE, {}),
    "weather_ask": ("post", TICK, {}),
    "weather_take_back": ("post", EDIT, {}),
    "station_keys": ("get", SEE, {}),
    "station_key_revoke": ("post", EDIT, {}),
    "doubt_settle": ("post", TICK, {"answer": "wrong"}),
    # Whoever holds the secret sends; a sending without weather is refused in words.
    "station_push": ("get", row(*[400] * 6), {}),
    "station_push_bare": ("get", row(*[200] * 6), {"dateutc": "now", "tempf": "50"}),
    "station_push_ending": ("get", row(*[400] * 6), {"tempf": "warm"}),
}

# These lead on without a sign-in, or to one by way of the first page.
LEAD_ON = {
    "home",
    "helper_open",
    "helper_tick",
    "helper_note",
    "helper_undo",
    "helper_units",
}

# Pages of the account library: `tests/test_account_addresses.py` holds their table.
LIBRARY = ("account_", "mfa_", "openid_connect_", "socialaccount_", "usersessions_")


def names(patterns: list[URLPattern | URLResolver]) -> set[str]:
    found: set[str] = set()
    for pattern in patterns:
        if isinstance(pattern, URLResolver):
            found |= names(pattern.url_patterns)
        else:
            found.add(pattern.name or str(pattern.pattern))
    return found


def test_every_address_is_listed():
    ours = {
        name
        for name in names(get_resolver().url_patterns)
        if not name.startswith(LIBRARY)
    }
    assert ours == set(TABLE)


@pytest.fixture
def addresses(site, cast, make_tree):
    """One of everything an address can name."""
    pot = make_tree(
        "Lemon", species_key="lemon", in_container=True, container_litres=50.0
    )
    task = Task.objects.create(
        site=site,
        tree=pot,
        kind="watering",
        key="next",
        action="water",
        earliest=TODAY,
        due=TODAY,
        latest=TODAY + timedelta(days=3),
        amount=9.0,
        unit="L",
        reason={"code": "container_dry", "facts": [], "would_change": []},
    )
    one = Round.objects.create(
        site=site, block=pot.block, day=TODAY, changed_at=timezone.now()
    )
    task.round = one
    task.save(update_fields=["round"])
    entry = LogEntry.objects.create(
        site=site,
        tree=pot,
        what="note",
        kind="note",
        note="x",
        on=TODAY,
        recorded_at=timezone.now(),
    )
    batch = import_days(
        site=site, days=[(TODAY, {"rain_mm": 1.0})], label="x", person=None
    )
    drawn = draw_something(site, cast.owner)
    # The plan must not withdraw the task before it is asked for.
    site.refresh_from_db()
    site.planned_revision, site.planned_on = site.revision, TODAY
    site.save(update_fields=["planned_revision", "planned_on"])
    membership = Membership.objects.get(person=cast.owner, orchard=site.orchard)
    link, token = make_calendar_link(membership=membership, label="Phone")
    invite, invitation = make_invite(
        membership=membership, role="grower", note="Ana", now=timezone.now()
    )
    helper_link, helper_token = make_helper_link(
        membership=membership, one=one, now=timezone.now()
    )
    viewer = Membership.objects.get(person=cast.viewer)
    key, secret = make_key(
        site=site,
        name="Roof",
        wind_height_m=2.0,
        person=cast.owner,
        now=timezone.now(),
    )
    doubt = DoubtedValue.objects.create(
        series=batch.series,
        batch=batch,
        day=TODAY,
        variable="tmin_c",
        value=-40.0,
        why="spike",
        found_at=timezone.now(),
    )
    session = UserSession.objects.create(
        user=cast.owner, ip="192.0.2.1", session_key="phone", user_agent="Phone"
    )
    planting = Planting.objects.create(site=site, name="Beds", begun_on=TODAY)
    wanted = planting.wanted.create(name="Fig", species_key="fig")
    return {
        "session": session.pk,
        "member": viewer.pk,
        "invite": invite.pk,
        "invitation": invitation,
        "site": site.slug,
        "tree": pot.public_id,
        "task": task.public_id,
        "entry": entry.public_id,
        "block": site.blocks.first().pk,
        "batch": batch.pk,
        "link": link.pk,
        "token": token,
        "helper_link": helper_link.pk,
        "helper_token": helper_token,
        "key": key.pk,
        "key_token": secret,
        "ending": "updateweatherstation.php",
        "doubt": doubt.pk,
        **drawn,
        "graft": pot.grafts.create(
            species_key="lemon", cultivar="Meyer", grafted_on=TODAY
        ).pk,
        "planting": wanted.planting.public_id,
        "wanted": wanted.public_id,
        "step": "turf_ring",
        "kind": "apple",
        "cultivar": "apple_anna",
        "figure": "chill_hours_min",
        "own_kind": site.orchard.own_species.create(
            key="own-medlar",
            common_name="Medlar",
            botanical_name="Mespilus germanica",
            like_key="quince",
            source="A book",
        ).key,
        "own_cultivar": site.orchard.own_cultivars.create(
            species_key="apple", name="Old Yard", source="Seen here"
        ).pk,
        "neighbour": NeighbourTree.objects.create(site=site, species_key="apple").pk,
    }


def parameters(name: str) -> list[str]:
    """Return the names an address needs."""
    ways: Any = get_resolver().reverse_dict[name]
    return list(ways[0][0][1])


def address(name: str, values: dict[str, object]) -> str:
    return reverse(name, kwargs={key: values[key] for key in parameters(name)})


@pytest.fixture
def browser_of(cast, site, addresses, client_of):
    """Return the browser of a role; a former member's was signed in and is again."""

    def browse(role):
        if role == "ex_member":
            return client_of(_former_member(cast, site))
        if role in NOT_SIGNED_IN:
            browser = Client()
            if role == "helper":
                browser.post(address("helper_open", addresses), {"name": "Sam"})
            return browser
        return client_of(getattr(cast, role))

    return browse


def _former_member(cast, site):
    former = person("former")
    member = Membership.objects.create(
        person=former, orchard=site.orchard, role="coordinator"
    )
    owner = Membership.objects.get(person=cast.owner, orchard=site.orchard)
    remove_member(by=owner, member_id=member.pk, now=timezone.now())
    return former


def _tick_of_helper(addresses):
    """Give the helper something of their own to undo."""
    task = Task.objects.select_related("tree", "site").get(public_id=addresses["task"])
    outcome = complete_task(
        task=task,
        person=None,
        helper=Helper.objects.get(),
        on=TODAY,
        now=timezone.now(),
    )
    return {**addresses, "entry": outcome.entry.public_id}


@pytest.mark.parametrize("role", ROLES)
@pytest.mark.parametrize("name", sorted(TABLE))
def test_each_role_gets_what_the_table_says(name, role, addresses, cast, browser_of):
    method, expected, values = TABLE[name]
    browser = browser_of(role)
    if (name, role) == ("helper_undo", "helper"):
        addresses = _tick_of_helper(addresses)
    if name == "calendar_revoke" and role in ("viewer", "grower", "coordinator"):
        person = getattr(cast, role)
        own, _ = make_calendar_link(
            membership=Membership.objects.get(person=person), label="Own"
        )
        addresses = {**addresses, "link": own.pk}
    answer = getattr(browser, method)(address(name, addresses), values)
    assert answer.status_code == expected[role]
    if expected[role] == LOGIN and role in NOT_SIGNED_IN and name not in LEAD_ON:
        assert answer.headers["Location"].startswith("/accounts/login/")


POSTED = sorted(name for name, (method, _, _) in TABLE.items() if method == "post")


@pytest.mark.parametrize("name", POSTED)
def test_reading_an_address_that_writes_changes_nothing(
    name, addresses, cast, client_of
):
    answer = client_of(cast.owner).get(address(name, addresses))
    assert answer.status_code == 405


@pytest.mark.parametrize(
    "name",
    [
        *sorted(
            n for n in TABLE if n.startswith(("tree_", "task")) and n != "tree_add"
        ),
        *("invite_revoke", "people_role", "people_help_in", "people_remove"),
    ],
)
def test_another_orchards_thing_under_ones_own_site_is_not_found(
    name, addresses, cast, client_of, site
):
    """The owner of "Elsewhere" may not reach our trees through their own address."""
    method, _, values = TABLE[name]
    theirs = {**addresses, "site": "elsewhere"}
    answer = getattr(client_of(cast.stranger), method)(address(name, theirs), values)
    assert answer.status_code == 404


def test_an_unknown_tree_is_not_found(addresses, cast, client_of):
    path = address("tree", {**addresses, "tree": uuid.uuid4()})
    assert client_of(cast.owner).get(path).status_code == 404
