"""Ids of another orchard under one's own addresses: nothing is found or changed."""

from dataclasses import replace
from datetime import timedelta

import pytest
from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.urls import reverse
from django.utils import timezone

from care.actions.calendar_links import revoke_calendar_link
from care.actions.helper_links import make_helper_link, revoke_helper_link
from care.models import LogEntry, Round, Task
from orchard.actions.in_care import leave, take
from orchard.actions.invites import revoke_invite
from orchard.actions.members import change_role, help_back_in, remove_member
from orchard.actions.people import found_orchard
from orchard.actions.places import add_site, block_named
from orchard.actions.weather import take_back_evening, take_back_reading
from orchard.models import Block, FrostEvening, InCare, Membership, Tree
from tests.address_table import TABLE
from tests.conftest import TODAY, person
from tests.ids_of_half import ids_of
from tests.said_by_orchard import lasting, said_outside, said_to, text
from tests.test_every_address import parameters
from tests.two_orchards import (
    MARKS,
    browser_of,
    link_calendar,
    live_on,
    make_half,
    plant,
    read_rain,
)

# Addresses that name a thing of a site, and so could name another orchard's.
NAMING = sorted(
    name for name in TABLE if "site" in parameters(name) and len(parameters(name)) > 1
)
OF_SITE = sorted(name for name in TABLE if "site" in parameters(name))
# These answer with words, whoever's id it was; that nothing changes is what counts.
SAYS_SO_IN_WORDS = {
    "calendar_revoke": 302,
    "helper_link_revoke": 302,
    "station_key_revoke": 302,
}


@pytest.fixture(scope="module")
def world(django_db_setup, django_db_blocker):
    """Both orchards, made once: each test's own changes are undone after it."""
    with django_db_blocker.unblock(), transaction.atomic():
        first = make_half(MARKS[0])
        everything_said(first)  # to be read for the first time changes what is said
        alone = everything_said(first)
        yield first, make_half(MARKS[1]), alone
        transaction.set_rollback(True)


def everything_said(half):
    said = said_to(half, half.owner) | said_outside(half)
    by_grower = said_to(half, half.grower)
    return lasting(said | {f"grower {name}": by_grower[name] for name in by_grower})


def own_copy(half):
    """Return an orchard whose secrets and helpers are this test's own to add to."""
    secrets = {name: list(tokens) for name, tokens in half.secrets.items()}
    return replace(half, secrets=secrets, helpers=list(half.helpers))


@pytest.fixture
def ours(world, db):
    return own_copy(world[0])


@pytest.fixture
def theirs(world, db):
    return own_copy(world[1])


@pytest.fixture
def owner(ours):
    return browser_of(ours.owner)


def ask(browser, name, values, posted=None):
    method, _, usual = TABLE[name]
    path = reverse(name, kwargs={key: values[key] for key in parameters(name)})
    return getattr(browser, method)(path, usual if posted is None else posted)


def test_an_orchard_says_word_for_word_what_it_says_when_it_is_alone(
    world, ours, theirs
):
    """Whatever is done next door: no count, list, choice or number moves."""
    before = ours.footprint()
    live_on(theirs)
    assert ours.footprint() == before
    now, alone = everything_said(ours), world[2]
    assert now.keys() == alone.keys()
    assert {name: now[name] for name in now if now[name] != alone[name]} == {}


def test_an_empty_orchard_says_so_whatever_grows_next_door(db):
    newcomer = person("newcomer")
    orchard = found_orchard(person=newcomer, name="New")
    place = {"latitude_deg": 47.0, "longitude_deg": -122.0, "own_today": TODAY}
    site = add_site(orchard=orchard, values={"name": "New", **place})
    browser = browser_of(newcomer)

    def said():
        names = ("round", "trees", "weather", "in_care", "log", "season")
        paths = {name: reverse(name, args=[site.slug]) for name in names}
        return lasting({name: text(browser.get(paths[name])) for name in paths})

    alone = said()
    live_on(make_half("Marabuvale"))  # the two others may be there already
    assert said() == alone


def test_their_ids_under_our_site_open_and_change_nothing(ours, theirs, owner):
    mixed = {**ids_of(theirs), "site": ours.site.slug}
    before = theirs.footprint()
    for name in NAMING:
        answer = ask(owner, name, mixed)
        assert answer.status_code == SAYS_SO_IN_WORDS.get(name, 404), name
        assert theirs.footprint() == before, name


@pytest.mark.parametrize("who", ["owner", "grower", "former"])
def test_whoever_belongs_elsewhere_finds_nothing_at_our_addresses(ours, theirs, who):
    browser = browser_of(getattr(theirs, who))
    before = ours.footprint()
    for name in OF_SITE:
        assert ask(browser, name, ids_of(ours)).status_code == 404, name
    assert ours.footprint() == before


def test_a_former_member_finds_nothing_at_the_old_addresses(ours):
    browser = browser_of(ours.former)
    before = ours.footprint()
    for name in OF_SITE:
        assert ask(browser, name, ids_of(ours)).status_code == 404, name
    assert ours.footprint() == before


def test_a_volunteer_ticks_and_undoes_nothing_elsewhere(ours, theirs):
    before = theirs.footprint()
    for name in ("helper_tick", "helper_note", "helper_undo"):
        answer = ask(ours.helpers[0], name, ids_of(theirs))
        assert answer.status_code == 404, name
    ticked = LogEntry.objects.filter(site=theirs.site).latest("pk")
    ticked.task = Task.objects.filter(site=theirs.site).latest("pk")
    ticked.save()
    before = theirs.footprint()
    assert ask(ours.helpers[0], "helper_undo", ids_of(theirs)).status_code == 404
    assert theirs.footprint() == before


def test_forms_that_choose_a_thing_do_not_take_theirs(ours, theirs, owner):
    ids = ids_of(theirs)
    their_tree, their_round = theirs.trees()[0], Round.objects.filter(site=theirs.site)
    ours_before, theirs_before = ours.footprint(), theirs.footprint()
    at_ours = ids_of(ours)
    for name, posted in (
        ("water_all", {"litres": "5", "on": str(TODAY), "block": ids["block"]}),
        ("in_care_take", {"thing": f"tree-{their_tree.pk}"}),
        ("in_care_take", {"thing": f"block-{ids['block']}"}),
        ("in_care_leave", {"thing": f"block-{ids['block']}"}),
        (
            "in_care_take",
            {"thing": f"block-{at_ours['block']}", "member": ids["member"]},
        ),
    ):
        ask(owner, name, at_ours, posted)
        assert theirs.footprint() == theirs_before, (name, posted)
        assert ours.footprint() == ours_before, (name, posted)
    links = reverse("helper_links", args=[ours.site.slug])
    answer = owner.post(links, {"round": str(their_round.latest("pk").uid)})
    assert answer.status_code == 422
    assert theirs.footprint() == theirs_before


def test_what_is_done_to_all_of_a_site_leaves_the_other_alone(ours, theirs, owner):
    before = theirs.footprint()
    at_ours = ids_of(ours)
    ask(owner, "water_all", at_ours, {"litres": "5", "on": str(TODAY)})
    ask(owner, "block_done", at_ours)
    ask(owner, "water_none", at_ours)
    for kind, facts in (
        ("tree_spray", {"product": "Soap", "waiting_days": "7"}),
        ("tree_manure", {"fruit": "touches"}),
    ):
        ask(owner, kind, at_ours, {**facts, "on": str(TODAY), "reach": "block"})
    for tree in ours.trees():
        tree.block = None
        tree.save()
    for tree in theirs.trees():
        tree.block = None
        tree.save()
    before = theirs.footprint()
    ask(
        owner,
        "tree_manure",
        at_ours,
        {"fruit": "touches", "on": str(TODAY), "reach": "block"},
    )
    assert theirs.footprint() == before


def test_members_of_another_orchard_are_nobody_s_to_govern(ours, theirs):
    by, other = ours.membership(ours.owner), theirs.membership(theirs.grower)
    before, now = theirs.footprint(), timezone.now()
    with pytest.raises(Membership.DoesNotExist):
        change_role(by=by, member_id=other.pk, role="viewer", now=now)
    with pytest.raises(Membership.DoesNotExist):
        remove_member(by=by, member_id=other.pk, now=now)
    with pytest.raises(Membership.DoesNotExist):
        help_back_in(by=by, member_id=other.pk, now=now)
    assert theirs.footprint() == before


def test_an_owner_elsewhere_does_not_count_as_an_owner_here(ours, theirs, owner):
    page = owner.get(reverse("people", args=[ours.site.slug]))
    assert "An orchard needs an owner" in page.content.decode()
    mine = ours.membership(ours.owner)
    owner.post(reverse("people_leave", args=[ours.site.slug]))
    owner.post(
        reverse("people_role", args=[ours.site.slug, mine.pk]), {"role": "viewer"}
    )
    mine.refresh_from_db()
    assert mine.role == "owner"


def test_actions_themselves_refuse_what_is_of_another_orchard(ours, theirs):
    by, now, ids = ours.membership(ours.owner), timezone.now(), ids_of(theirs)
    before = theirs.footprint()
    their_member = theirs.membership(theirs.owner)
    their_block = Block.objects.get(pk=ids["block"])
    assert not revoke_invite(membership=by, invite_id=ids["invite"], now=now)
    assert not revoke_calendar_link(membership=by, link_id=ids["link"], now=now)
    assert not revoke_helper_link(membership=by, link_id=ids["helper_link"], now=now)
    with pytest.raises(PermissionDenied):
        make_helper_link(
            membership=by, one=Round.objects.filter(site=theirs.site)[0], now=now
        )
    for member in (by, their_member):
        with pytest.raises(PermissionDenied):
            take(by=by, member=member, thing=their_block, now=now)
        with pytest.raises(PermissionDenied):
            leave(by=by, member=member, thing=their_block, now=now)
    assert theirs.footprint() == before


def test_a_member_closes_no_link_of_another_member(ours):
    link_calendar(ours, ours.grower, only_in_care=False)
    of_grower = ids_of(ours)["link"]
    now = timezone.now()
    by = ours.membership(ours.owner)
    assert not revoke_calendar_link(membership=by, link_id=of_grower, now=now)
    by = ours.membership(ours.grower)
    assert revoke_calendar_link(membership=by, link_id=of_grower, now=now)


def test_only_the_one_s_own_care_ends(ours, theirs):
    now, block = timezone.now(), Block.objects.get(site=ours.site)
    by, grower = ours.membership(ours.owner), ours.membership(ours.grower)
    take(by=by, member=grower, thing=block, now=now)
    leave(by=by, member=grower, thing=block, now=now)
    assert [row.membership for row in InCare.objects.filter(block=block)] == [by]


def test_blocks_and_clumps_of_the_same_name_stay_apart(ours, theirs):
    before = theirs.footprint()
    made = block_named(site=ours.site, name=f"{theirs.mark} row")
    assert made.site_id == ours.site.pk
    tree = plant(ours, made, "apple")
    assert tree.clump.site_id == ours.site.pk
    assert theirs.footprint() == before
    alike = replace(ours, mark=theirs.mark)
    assert plant(alike, None, "apple").clump.site_id == ours.site.pk


def test_a_tag_is_taken_by_the_trees_of_one_s_own_site_alone(ours, theirs, owner):
    for half, tag in ((ours, "OURS1"), (theirs, "THEIRS1")):
        Tree.objects.filter(pk=half.trees()[0].pk).update(tag=tag)
    address = reverse("tree_add", args=[ours.site.slug])
    taken = "Another tree here has the tag"
    assert taken in owner.post(address, {"tag": "OURS1"}).content.decode()
    assert taken not in owner.post(address, {"tag": "THEIRS1"}).content.decode()


def test_readings_and_evenings_of_one_day_stay_apart(ours, theirs):
    day = TODAY - timedelta(days=1)
    before = theirs.footprint()
    assert take_back_reading(site=ours.site, day=day, person=ours.owner)
    assert take_back_evening(site=ours.site, on=TODAY)
    assert theirs.footprint() == before
    assert FrostEvening.objects.filter(site=theirs.site).count() == 1
    read_rain(ours, day, 8.0)
    assert theirs.footprint() == before
