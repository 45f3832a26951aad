"""Every address x role: what each gets. An address that is not listed fails.

The roles are those of ``orchard/access.py``, a person who is not signed in, the owner
of another orchard and a former member, who must learn nothing, not even that the
address exists, and a helper: nobody is signed in, but their cookie opens one round.
Outside their own pages helpers get what everybody gets who is not signed in.
"""

from contextlib import contextmanager
from typing import Any

import pytest
from django.db import transaction
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver, reverse
from django.utils import timezone

from care.actions.calendar_links import make_calendar_link
from care.actions.tasks import complete_task
from care.models import Helper, Photo, Task
from orchard.actions.members import remove_member
from orchard.models import Membership
from tests.address_roles import (
    LOGIN,
    NOT_SIGNED_IN,
    ROLES,
)
from tests.address_table import TABLE
from tests.conftest import TODAY, person
from tests.one_of_everything import one_of_everything

# These lead on without a sign-in, or to one by way of the first page.
LEAD_ON = {
    "home",
    "helper_open",
    "helper_tick",
    "helper_note",
    "helper_photo_add",
    "helper_photo_undo",
    "helper_undo",
    "helper_units",
    "tree_tell",
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
    return one_of_everything(site, cast, make_tree)


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


def _photo_of_helper(addresses):
    """Let one photo be the helper's own."""
    photo = Photo.objects.get(public_id=addresses["photo"])
    photo.helper = Helper.objects.get()
    photo.save(update_fields=["helper"])
    return addresses


@contextmanager
def undone():
    """Leave the database as it was, so that the next one finds all as the first did."""
    with transaction.atomic():
        yield
        transaction.set_rollback(True)


def asked(name, role, addresses, cast, browser_of):
    """Return what one role is answered at an address."""
    method, _, values = TABLE[name]
    browser = browser_of(role)
    if (name, role) == ("helper_undo", "helper"):
        addresses = _tick_of_helper(addresses)
    if name.startswith("helper_photo") and role == "helper":
        addresses = _photo_of_helper(addresses)
    if name == "calendar_revoke" and role in ("viewer", "grower", "coordinator"):
        person = getattr(cast, role)
        own, _ = make_calendar_link(
            membership=Membership.objects.get(person=person), label="Own"
        )
        addresses = {**addresses, "link": own.pk}
    return getattr(browser, method)(address(name, addresses), values)


@pytest.mark.parametrize("name", sorted(TABLE))
def test_each_role_gets_what_the_table_says(name, addresses, cast, browser_of):
    answers = {}
    for role in ROLES:
        with undone():
            answers[role] = asked(name, role, addresses, cast, browser_of)
    expected = TABLE[name][1]
    assert {role: one.status_code for role, one in answers.items()} == expected
    for role in NOT_SIGNED_IN:
        if expected[role] == LOGIN and name not in LEAD_ON:
            assert answers[role].headers["Location"].startswith("/accounts/login/")


#: Read, these ask whether it shall be; posted, they do it.
ASK_FIRST = {"shift_cancel", "series_end"}


def test_reading_an_address_that_writes_is_refused(addresses, cast, client_of):
    browser = client_of(cast.owner)
    posted = [name for name, (method, _, _) in TABLE.items() if method == "post"]
    codes = {name: browser.get(address(name, addresses)).status_code for name in posted}
    assert len(codes) > 50
    assert {name for name, code in codes.items() if code != 405} == ASK_FIRST
    assert {codes[name] for name in ASK_FIRST} == {200}


PEOPLES = ("invite_revoke", "people_role", "people_help_in", "people_remove")


def test_another_orchards_thing_under_ones_own_site_is_not_found(
    addresses, cast, client_of
):
    """The owner of "Elsewhere" may not reach our trees through their own address."""
    browser = client_of(cast.stranger)
    theirs = {**addresses, "site": "elsewhere"}
    tried = {
        name
        for name in TABLE
        if name.startswith(("tree_", "task", "wanted_")) and "site" in parameters(name)
    } - {"tree_add", "tree_labels", "wanted_add"} | set(PEOPLES)
    found = set()
    for name in sorted(tried):
        method, _, values = TABLE[name]
        with undone():
            answer = getattr(browser, method)(address(name, theirs), values)
        if answer.status_code != 404:
            found.add((name, answer.status_code))
    assert found == set()
    assert len(tried) > 30
