"""Two orchards live side by side, in any order of events: neither hears of the other.

Every text of an orchard holds its own word, and its ids and secrets are known. However
its people plant, tick, write, invite, leave and come back, no page, calendar, table,
message or command of one orchard says a word of the other, and whoever does not belong
to an orchard finds nothing at its addresses.
"""

import os
from datetime import timedelta

import pytest
from django.db import transaction
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from hypothesis import settings, strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    invariant,
    rule,
    run_state_machine_as_test,
)

from care.models import LogEntry, Task
from care.planning.plan_site import ensure_planned
from orchard.actions.invites import accept_invite
from orchard.actions.members import change_role, remove_member
from orchard.models import Block, Membership, Site
from tests.address_table import TABLE
from tests.conftest import TODAY, person
from tests.ids_of_half import ids_of
from tests.said_by_orchard import SITE_PAGES, named, said_outside, said_to, text
from tests.test_every_address import parameters
from tests.two_orchards import (
    MARKS,
    Half,
    browser_of,
    invite,
    link_calendar,
    link_helper,
    make_half,
    plant,
    read_rain,
)

RUNS, STEPS = {"deep": (200, 30), "brief": (1, 8)}.get(
    os.environ.get("HYPOTHESIS_PROFILE", ""), (2, 8)
)

HALVES = st.sampled_from([0, 1])
GUESTS = st.sampled_from([0, 1])
ROLES = st.sampled_from(["viewer", "grower", "coordinator"])


def assert_says_nothing_of(other: Half, said: dict[str, str]) -> None:
    canaries = [one.casefold() for one in other.canaries()]
    for name, words in said.items():
        told = [one for one in canaries if one in words.casefold()]
        assert not told, f"{name} tells of {other.mark}: {told}"


class TwoOrchards(RuleBasedStateMachine):
    """What people may do in either orchard, one after the other."""

    def __init__(self) -> None:
        super().__init__()
        self.undone = transaction.atomic()
        self.undone.__enter__()
        self.halves = [make_half(mark) for mark in MARKS]
        # They may belong to none, either or both, so no orchard's word is in a name.
        self.guests = [person("guest-one"), person("guest-two")]
        self.count = 0

    def teardown(self) -> None:
        try:
            for half, other in self._pairs():
                assert_says_nothing_of(other, said_outside(half))
                for someone in (half.owner, half.grower):
                    assert_says_nothing_of(other, said_to(half, someone))
        finally:
            transaction.set_rollback(True)
            self.undone.__exit__(None, None, None)

    def _pairs(self) -> list[tuple[Half, Half]]:
        one, two = self.halves
        return [(one, two), (two, one)]

    def _post(self, half: Half, name: str, posted: dict[str, object], **ids) -> None:
        path = reverse(name, kwargs={"site": half.site.slug, **ids})
        answer = browser_of(half.owner).post(path, posted)
        assert answer.status_code in {200, 302, 409, 422}, (name, answer.status_code)

    def _open(self, half: Half) -> list[Task]:
        ensure_planned(half.fresh_site, TODAY)
        return list(Task.objects.filter(site=half.site, status="open", is_firm=True))

    @rule(at=HALVES, species=st.sampled_from(["lemon", "apple", "fig"]))
    def tree_is_planted(self, at, species):
        block = Block.objects.filter(site=self.halves[at].site).first()
        plant(self.halves[at], block, species)

    @rule(at=HALVES)
    def rain_is_read_and_a_plan_made(self, at):
        self.count += 1
        read_rain(self.halves[at], TODAY - timedelta(days=self.count), 2.0)
        ensure_planned(self.halves[at].fresh_site, TODAY)

    @rule(at=HALVES, what=st.sampled_from(["task_done", "task_skip"]))
    def task_is_answered(self, at, what):
        half = self.halves[at]
        for task in self._open(half)[:1]:
            note = {"note": f"{half.mark} did it", "reason": "no_time"}
            self._post(half, what, note, task=task.public_id)

    @rule(at=HALVES)
    def volunteer_ticks(self, at):
        half = self.halves[at]
        link_helper(half)
        for task in self._open(half)[:1]:
            path = reverse("helper_tick", args=[task.public_id])
            note = {"note": f"{half.mark} volunteer"}
            answer = half.helpers[-1].post(path, note)
            assert answer.status_code in {200, 302, 404, 422}

    @rule(at=HALVES, what=st.sampled_from(["tree_note", "tree_observe", "tree_spray"]))
    def something_is_written_of_a_tree(self, at, what):
        half = self.halves[at]
        said = {"note": f"{half.mark} note", "product": f"{half.mark} soap"}
        self._post(
            half, what, {**TABLE[what][2], **said}, tree=half.trees()[0].public_id
        )

    @rule(at=HALVES)
    def whole_site_is_watered(self, at):
        self._post(self.halves[at], "water_all", TABLE["water_all"][2])

    @rule(at=HALVES)
    def last_entry_is_undone(self, at):
        half = self.halves[at]
        entry = LogEntry.objects.filter(site=half.site, voided_at=None).last()
        if entry:
            self._post(half, "entry_undo", {}, entry=entry.public_id)

    @rule(at=HALVES, takes=st.booleans())
    def block_is_taken_or_left(self, at, takes):
        half = self.halves[at]
        block = Block.objects.filter(site=half.site).earliest("pk")
        what = "in_care_take" if takes else "in_care_leave"
        self._post(half, what, {"thing": f"block-{block.pk}"})

    @rule(at=HALVES, is_own=st.booleans())
    def calendar_is_linked(self, at, is_own):
        half = self.halves[at]
        link_calendar(half, half.grower, only_in_care=is_own)

    @rule(at=HALVES, what=st.sampled_from(["helper_link", "link", "invite"]))
    def link_is_closed(self, at, what):
        half = self.halves[at]
        view = {"link": "calendar_revoke"}.get(what, f"{what}_revoke")
        self._post(half, view, {}, **{what: ids_of(half)[what]})

    @rule(at=HALVES, who=GUESTS, role=ROLES)
    def guest_joins(self, at, who, role):
        token = invite(self.halves[at], role)
        accept_invite(token=token, person=self.guests[who], now=timezone.now())
        assert self._governed(at, who)

    @rule(at=HALVES, who=GUESTS, role=ROLES)
    def guest_gets_another_role(self, at, who, role):
        for by, member in self._governed(at, who):
            change_role(by=by, member_id=member.pk, role=role, now=timezone.now())

    @rule(at=HALVES, who=GUESTS)
    def guest_is_removed(self, at, who):
        for by, member in self._governed(at, who):
            remove_member(by=by, member_id=member.pk, now=timezone.now())

    def _governed(self, at: int, who: int) -> list[tuple[Membership, Membership]]:
        half = self.halves[at]
        by = half.membership(half.owner)
        found = Membership.objects.filter(person=self.guests[who], orchard=half.orchard)
        return [(by, member) for member in found]

    @rule(at=HALVES, name=st.sampled_from(SITE_PAGES))
    def somebody_reads(self, at, name):
        half, other = self._pairs()[at]
        path = reverse(name, kwargs=named(name, ids_of(half)))
        for someone in (half.owner, half.grower):
            said = {name: text(browser_of(someone).get(path))}
            assert_says_nothing_of(other, said)

    @rule(at=HALVES, name=st.sampled_from(sorted(TABLE)))
    def outsider_tries(self, at, name):
        if "site" not in parameters(name):
            return
        half, other = self._pairs()[at]
        method, _, posted = TABLE[name]
        path = reverse(name, kwargs=named(name, ids_of(half)))
        before = half.footprint()
        for someone in (other.owner, other.grower, other.former, half.former):
            answer = getattr(browser_of(someone), method)(path, posted)
            assert answer.status_code == 404
        answer = getattr(Client(), method)(path, posted)
        assert answer.headers["Location"].startswith("/accounts/login/")
        assert half.footprint() == before

    @invariant()
    def guests_find_exactly_the_orchards_they_belong_to(self):
        for guest in self.guests:
            theirs = set(guest.memberships.values_list("orchard_id", flat=True))
            for half in self.halves:
                path = reverse("people", args=[half.site.slug])
                status = browser_of(guest).get(path).status_code
                assert status == (200 if half.orchard.pk in theirs else 404)


@pytest.mark.django_db
def test_neither_orchard_hears_of_the_other():
    assert Site.objects.count() == 0
    run_state_machine_as_test(
        TwoOrchards,
        settings=settings(max_examples=RUNS, stateful_step_count=STEPS, deadline=None),
    )


@pytest.mark.django_db
def test_the_words_looked_for_are_really_said():
    """Else the silence above would prove nothing."""
    half = make_half(MARKS[0])
    heard = said_to(half, half.owner) | said_outside(half)
    mark = half.mark.casefold()
    silent = {name for name, words in heard.items() if mark not in words.casefold()}
    wordless = {"sendings", "photo", "photo_small"}
    assert silent <= {"differing_sources", "usersessions_list"} | wordless
