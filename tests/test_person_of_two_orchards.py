"""Somebody who belongs to two orchards: what happens in one stays in that one."""

import pytest
from django.urls import reverse
from django.utils import timezone

from care.actions.helper_links import LinkState, links, make_helper_link, state_of
from care.models import Round
from orchard.actions.in_care import care_of_site, leave
from orchard.actions.invites import (
    InviteState,
    accept_invite,
    find_invite,
    make_invite,
    state_of as invite_state,
)
from orchard.actions.members import change_role, help_back_in, remove_member
from orchard.actions.messages import (
    Told,
    choose_messages,
    messages_for,
    wanted_by,
    write_message,
)
from orchard.actions.people import make_signin_link, use_signin_link
from orchard.actions.places import change_site
from orchard.models import Membership, Message
from tests.conftest import person
from tests.two_orchards import MARKS, browser_of, make_half, plant

NOW = timezone.now()


@pytest.fixture
def ours(db):
    return make_half(MARKS[0])


@pytest.fixture
def theirs(ours):
    return make_half(MARKS[1])


@pytest.fixture
def both(ours, theirs):
    """Return a coordinator of both."""
    someone = person("both")
    for half in (ours, theirs):
        Membership.objects.create(
            person=someone, orchard=half.orchard, role="coordinator"
        )
    return someone


def remove(half, someone):
    by, member = half.membership(half.owner), half.membership(someone)
    remove_member(by=by, member_id=member.pk, now=NOW)


def invited(half, by, role="viewer"):
    return make_invite(membership=half.membership(by), role=role, note="", now=NOW)[1]


def told(half, someone, key):
    return write_message(
        person=someone,
        orchard=half.orchard,
        what=Told.COLD_TONIGHT,
        key=key,
        why="",
        title=key,
        lines=[],
        due_at=NOW,
    )


def test_a_member_elsewhere_joins_as_what_the_invitation_says(ours, theirs):
    token = invited(ours, ours.owner, role="grower")
    page = browser_of(theirs.owner).get(reverse("join", args=[token]))
    assert page.context["state"] == "open"
    joining = accept_invite(token=token, person=theirs.owner, now=NOW)
    assert joining.is_new
    assert joining.membership == ours.membership(theirs.owner)
    assert joining.membership.role == "grower"


def test_a_stranger_is_nobody_for_having_seen_members(ours, theirs):
    token = invited(theirs, theirs.owner)
    guest = browser_of(person("guest"))
    assert guest.get(reverse("join", args=[token])).context["state"] == "open"
    answer = guest.post(reverse("join", args=[token]))
    assert answer.headers["Location"] == reverse("round", args=[theirs.site.slug])


def test_who_is_removed_here_keeps_their_invitations_and_messages_there(
    ours, theirs, both
):
    here, there = invited(ours, both), invited(theirs, both)
    of_owner = invited(ours, ours.owner)
    for half in (ours, theirs):
        told(half, both, f"to both in {half.mark}")
    told(ours, ours.owner, "to the owner")
    remove(ours, both)
    states = [invite_state(find_invite(t), NOW) for t in (here, there, of_owner)]
    assert states == [InviteState.REVOKED, InviteState.OPEN, InviteState.OPEN]
    left = Message.objects.filter(what=Told.COLD_TONIGHT)
    assert set(left.values_list("key", flat=True)) == {
        f"to both in {theirs.mark}",
        "to the owner",
    }


def test_who_has_an_orchard_left_stays_signed_in_and_who_has_none_does_not(
    ours, theirs, both
):
    links_in = {
        one: make_signin_link(person=one).rstrip("/").rsplit("/", 1)[1]
        for one in (both, ours.grower, theirs.grower)
    }
    stays, goes = browser_of(both), browser_of(ours.grower)
    remove(ours, both)
    remove(ours, ours.grower)
    assert stays.get(reverse("you")).status_code == 200
    assert goes.get(reverse("you")).status_code == 302
    works = [use_signin_link(token=token, now=NOW) for token in links_in.values()]
    assert works == [both, None, theirs.grower]


def test_a_way_in_is_handed_to_who_belongs_here_alone(ours, theirs, both):
    by = ours.membership(ours.owner)
    member = ours.membership(ours.grower)
    assert "/signin/" in help_back_in(by=by, member_id=member.pk, now=NOW)
    page = browser_of(ours.owner).get(reverse("people", args=[ours.site.slug]))
    why = {row.name: row.why_no_link for row in page.context["rows"]}
    assert why[ours.grower.shown_name] == ""
    assert "another orchard" in why[both.shown_name]


def test_a_link_ends_when_its_maker_may_no_longer_arrange_here(ours, theirs, both):
    made = [
        make_helper_link(
            membership=half.membership(both),
            one=Round.objects.filter(site=half.site)[0],
            now=NOW,
        )[0]
        for half in (ours, theirs)
    ]
    by = ours.membership(ours.owner)
    pk = ours.membership(both).pk
    change_role(by=by, member_id=pk, role="grower", now=NOW)
    states = [state_of(links().get(pk=one.pk), NOW) for one in made]
    assert states == [LinkState.REVOKED, LinkState.OPEN]


def test_messages_of_an_orchard_one_has_left_are_not_read(ours, theirs, both):
    for half in (ours, theirs):
        message = told(half, both, half.mark)
        Message.objects.filter(pk=message.pk).update(sent_at=NOW)
    told(ours, ours.owner, "to the owner")
    remove(ours, both)
    keys = [one.key for one in messages_for(both) if one.what == Told.COLD_TONIGHT]
    assert keys == [theirs.mark]


def test_one_person_s_choice_of_messages_is_nobody_else_s(ours, both):
    choose_messages(person=both, wanted=[])
    assert wanted_by(both) == set()
    assert wanted_by(ours.owner) == set(Told)
    assert told(ours, both, "no") is None
    assert told(ours, ours.owner, "yes") is not None


def test_care_elsewhere_is_no_care_here(ours, theirs):
    by = ours.membership(ours.owner)
    block = ours.site.blocks.get()
    leave(by=by, member=by, thing=block, now=NOW)
    assert not care_of_site(ours.site).is_arranged
    assert care_of_site(theirs.site).is_arranged


def test_days_without_feeding_are_those_of_the_one_site(ours, theirs, both):
    spans = [(1, 1, 12, 31)]
    change_site(site=theirs.fresh_site, values={}, spans=spans, person=theirs.owner)
    shown = [
        browser_of(both).get(reverse("site_settings", args=[half.site.slug])).context
        for half in (ours, theirs)
    ]
    assert [len(each["blackouts"]) for each in shown] == [0, 1]


def test_places_in_the_row_count_the_trees_of_one_site(ours, theirs):
    plant(theirs, None, "apple")
    assert [plant(ours, None, "apple").position for _ in range(2)] == [0, 1]
