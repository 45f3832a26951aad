"""Messages: written once, leased by one worker, kept with what went wrong."""

from collections import Counter
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import HealthCheck, given, settings, strategies as st

from orchard.actions import messages
from orchard.actions.messages import (
    FIRST_WAIT,
    KEEPS,
    LEASE,
    MOST_ATTEMPTS,
    Told,
    choose_messages,
    give_up,
    lease_next,
    messages_for,
    note_failure,
    note_sent,
    tell_invite_accepted,
    tell_removed,
    tell_role_changed,
    wanted_by,
    why_not_now,
    write_message,
)
from orchard.models import Invite, Membership, Message, Person, Role

NOW = datetime(2026, 3, 1, 16, 0, tzinfo=UTC)


def write(person, orchard=None, *, key="k", due_at=NOW, what=Told.COLD_TONIGHT):
    return write_message(
        person=person,
        orchard=orchard,
        what=what,
        key=key,
        why="You look after them.",
        title="Cold tonight",
        lines=["Bring the lemon in"],
        due_at=due_at,
    )


def test_a_person_is_told_each_thing_once(cast):
    assert write(cast.grower) is not None
    assert write(cast.grower) is None
    assert write(cast.owner) is not None
    assert write(cast.grower, key="another") is not None
    assert Message.objects.count() == 3


def test_a_kind_switched_off_is_not_written(cast):
    choose_messages(person=cast.grower, wanted=[Told.REMOVED])
    assert wanted_by(cast.grower) == {Told.REMOVED}
    assert wanted_by(cast.owner) == set(Told)
    assert write(cast.grower) is None
    assert write(cast.owner) is not None
    choose_messages(person=cast.grower, wanted=list(Told))
    assert write(cast.grower) is not None


def test_nothing_is_taken_before_it_is_due(cast):
    write(cast.grower, due_at=NOW + timedelta(seconds=1))
    assert lease_next(now=NOW) is None
    assert lease_next(now=NOW + timedelta(seconds=1)) is not None


def test_a_leased_message_is_free_again_when_the_lease_ran_out(cast):
    write(cast.grower)
    assert lease_next(now=NOW) is not None
    almost = NOW + LEASE - timedelta(seconds=1)
    assert lease_next(now=almost) is None
    assert lease_next(now=NOW + LEASE).attempts == 2


def test_each_failure_doubles_the_wait_and_is_kept_until_it_is_given_up(cast):
    written = write(cast.grower)
    now, waits = NOW, []
    while (message := lease_next(now=now)) is not None:
        note_failure(message=message, error="OSError: no route", now=now)
        written.refresh_from_db()
        waits.append(written.lease_until - now)
        now = written.lease_until
    assert waits[:4] == [FIRST_WAIT * factor for factor in (1, 2, 4, 8)]
    assert len(waits) == MOST_ATTEMPTS
    assert written.error == "OSError: no route"
    assert written.sent_at is None


def test_the_failure_of_a_worker_that_lost_its_lease_changes_nothing(cast):
    write(cast.grower)
    slow = lease_next(now=NOW)
    later = NOW + LEASE
    quick = lease_next(now=later)
    note_failure(message=slow, error="timed out", now=later)
    row = Message.objects.get()
    assert (row.error, row.lease_until) == ("", quick.lease_until)


def test_what_went_out_is_never_taken_again(cast):
    write(cast.grower)
    note_sent(message=lease_next(now=NOW), channel="email", now=NOW)
    assert lease_next(now=NOW + timedelta(days=1)) is None
    assert Message.objects.get().channel == "email"


def test_a_message_is_not_sent_when_it_is_of_no_more_use(cast, site):
    message = write(cast.grower, site.orchard)
    assert why_not_now(message, NOW + KEEPS) == ""
    assert why_not_now(message, NOW + KEEPS + timedelta(seconds=1)) == (
        "Too late to be of use."
    )
    choose_messages(person=cast.grower, wanted=[])
    assert why_not_now(message, NOW) == "Switched off meanwhile."
    choose_messages(person=cast.grower, wanted=list(Told))
    Membership.objects.filter(person=cast.grower).delete()
    assert why_not_now(message, NOW) == "No longer a member."
    give_up(message=message, why="No longer a member.")
    assert lease_next(now=NOW) is None


def test_who_left_reads_only_that_they_left(cast, site):
    write(cast.grower, site.orchard)
    write(cast.owner, site.orchard)
    assert messages_for(cast.grower).count() == 1
    Membership.objects.filter(person=cast.grower).delete()
    assert not messages_for(cast.grower).exists()
    tell_removed(person=cast.grower, orchard=site.orchard, by=cast.owner, now=NOW)
    left = messages_for(cast.grower).get()
    assert left.body["title"] == "You are no longer in Test orchard"
    assert why_not_now(left, NOW) == ""


def test_the_maker_of_an_invite_hears_who_took_it(cast, site):
    invite = Invite.objects.create(
        orchard=site.orchard,
        role=Role.GROWER,
        token_hash="x",
        made_by=cast.owner,
        made_at=NOW,
        expires_at=NOW + timedelta(days=7),
    )
    message = tell_invite_accepted(invite=invite, person=cast.grower, now=NOW)
    assert (message.person, message.body["title"]) == (
        cast.owner,
        "grower joined Test orchard",
    )
    assert tell_invite_accepted(invite=invite, person=cast.grower, now=NOW) is None
    invite.made_by = None
    assert tell_invite_accepted(invite=invite, person=cast.grower, now=NOW) is None


def test_a_member_hears_of_each_change_of_role_but_not_of_their_own(cast):
    membership = Membership.objects.get(person=cast.grower)
    for minute, role in enumerate((Role.VIEWER, Role.GROWER)):
        membership.role = role
        when = NOW + timedelta(minutes=minute)
        assert tell_role_changed(membership=membership, by=cast.owner, now=when)
    titles = [message.body["title"] for message in messages_for(cast.grower)]
    assert titles == [
        "Your role in Test orchard is now grower",
        "Your role in Test orchard is now viewer",
    ]
    assert tell_role_changed(membership=membership, by=cast.grower, now=NOW) is None


def test_who_leaves_by_themselves_is_not_told(cast, site):
    told = tell_removed(
        person=cast.grower, orchard=site.orchard, by=cast.grower, now=NOW
    )
    assert told is None


step = st.tuples(
    st.sampled_from(["take", "send", "fail", "die"]),
    st.integers(0, 1),  # which worker
    st.integers(0, 400),  # seconds that pass before it
)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(steps=st.lists(step, max_size=40))
def test_two_workers_send_a_message_twice_only_after_a_lease_ran_out(db, steps):
    """Any order of taking, sending, failing and dying, at any pace."""
    Message.objects.all().delete()
    person, _ = Person.objects.get_or_create(username="told")
    for number in range(2):
        write(person, key=str(number))
    now, held, in_time = NOW, {0: None, 1: None}, Counter()
    for what, worker, seconds in steps:
        now += timedelta(seconds=seconds)
        if held[worker] is None:
            held[worker] = lease_next(now=now) if what == "take" else None
            living = [m.pk for m in held.values() if m and now < m.lease_until]
            assert len(living) == len(set(living))
            continue
        message = held[worker]
        if what == "send":
            in_time[message.pk] += now < message.lease_until
            note_sent(message=message, channel="email", now=now)
        if what == "fail":
            note_failure(message=message, error="no", now=now)
        if what != "take":
            held[worker] = None
    assert all(number <= 1 for number in in_time.values())


@pytest.mark.parametrize("loser_is_first", [True, False])
def test_of_two_workers_that_saw_the_same_row_one_gets_it(
    cast, monkeypatch, loser_is_first
):
    """Both have read the list before either wrote: the second finds it taken."""
    write(cast.grower)
    take, meanwhile = messages._take, []

    def late(pk, now):
        if loser_is_first and not meanwhile:
            meanwhile.append(take(pk, now))
        return take(pk, now)

    monkeypatch.setattr(messages, "_take", late)
    assert (lease_next(now=NOW) is None) is loser_is_first
    assert Message.objects.get().attempts == 1
