"""Shifts made, changed, moved, cancelled and begun; and what their holders are told."""

from datetime import date, time, timedelta

import pytest
from django.utils import timezone

from care.actions.shift_changes import (
    SeriesDayError,
    cancel_shift,
    move_shift,
    revive_shift,
)
from care.actions.shifts import (
    NotNowError,
    PlacesHeldError,
    begin_shift,
    change_shift,
    make_shift,
    remove_draft,
)
from care.models import HandOver, Shift, ShiftPlace
from orchard.models import AuditEntry, Message
from orchard.views.trail_words import WHAT_WORDS
from tests.conftest import TODAY

NOW = timezone.now()
SATURDAY, SUNDAY = date(2025, 7, 5), date(2025, 7, 6)


@pytest.fixture
def make(site, cast):
    def make(skills=("", ""), **values):
        facts = {"name": "Row", "day": SATURDAY, "starts_at": time(9), "minutes": 120}
        return make_shift(
            site=site,
            values={**facts, **values},
            skills=skills,
            person=cast.coordinator,
            now=NOW,
        )

    return make


def publish(shift, *holders):
    """Publish a shift with holders of its first places, as the rota does."""
    Shift.objects.filter(pk=shift.pk).update(status="published", published_at=NOW)
    for place, holder in zip(shift.places.all(), holders, strict=False):
        place.state, place.holder, place.busy_on = "held", holder, shift.day
        place.save()
    shift.refresh_from_db()


def told(person):
    rows = Message.objects.filter(person=person).order_by("id")
    return [(one.body["title"], one.body["lines"]) for one in rows]


def places_of(shift):
    return [
        (place.number, place.skill, place.state, place.busy_on)
        for place in shift.places.all()
    ]


@pytest.fixture
def by(cast):
    return {"person": cast.coordinator, "now": NOW}


def test_a_shift_is_made_with_its_places_and_noted(make, site):
    site.refresh_from_db()
    revision = site.revision
    shift = make(["ladder", ""])
    site.refresh_from_db()
    assert site.revision == revision + 1
    assert places_of(shift) == [(1, "ladder", "open", None), (2, "", "open", None)]
    entry = AuditEntry.objects.latest("id")
    assert (entry.what, entry.subject) == ("shift_made", "Row, Saturday 5 July, 9:00")
    names = ("made", "changed", "moved", "cancelled", "revived", "begun", "removed")
    assert all(f"shift_{name}" in WHAT_WORDS for name in names)
    assert {"series_made", "series_ended"} <= set(WHAT_WORDS)


def test_changed_places_keep_their_holders(make, cast, by):
    shift = make(["ladder", "", ""])
    publish(shift, cast.grower)
    change_shift(shift=shift, values={"minutes": 150}, skills=["first_aid", ""], **by)
    shift.refresh_from_db()
    # The ladder is asked for no more: its holder stays, as one who needs no skill.
    held = [(place.skill, place.holder) for place in shift.places.all()]
    assert held == [("", cast.grower), ("first_aid", None)]
    assert (shift.minutes, shift.sequence) == (150, 1)
    assert [title for title, _ in told(cast.grower)] == ["Row takes another time now"]
    assert told(cast.coordinator) == []
    with pytest.raises(PlacesHeldError, match="grower"):
        change_shift(shift=shift, values={"minutes": 90}, skills=["saw"], **by)
    shift.refresh_from_db()
    assert shift.minutes == 150  # nothing half saved
    change_shift(
        shift=shift, values={"name": "Long row"}, skills=["first_aid", ""], **by
    )
    shift.refresh_from_db()
    assert (shift.name, shift.sequence) == ("Long row", 1)
    before = AuditEntry.objects.count()
    change_shift(
        shift=shift, values={"name": "Long row"}, skills=["", "first_aid"], **by
    )
    assert AuditEntry.objects.count() == before


def test_a_cancelled_shift_frees_its_holders_tells_them_and_may_come_back(
    make, cast, by
):
    shift = make()
    publish(shift, cast.grower, cast.coordinator)
    assert cancel_shift(shift=shift, why="The gate is locked.", **by)
    assert not cancel_shift(shift=shift, why="Twice", **by)
    shift.refresh_from_db()
    assert (shift.status, shift.sequence) == ("cancelled", 1)
    assert places_of(shift) == [(1, "", "held", None), (2, "", "held", None)]
    assert told(cast.grower) == [
        ("Row is cancelled", ["Saturday 5 July, 9:00.", "The gate is locked."])
    ]
    assert told(cast.coordinator) == []  # whoever does it knows
    with pytest.raises(NotNowError):
        change_shift(shift=shift, values={"name": "x"}, skills=["", ""], **by)
    with pytest.raises(NotNowError):
        move_shift(shift=shift, day=SUNDAY, starts_at=time(9), **by)
    # Meanwhile the grower took another shift that day.
    other = make([""], name="Other")
    publish(other, cast.grower)
    assert revive_shift(shift=shift, **by)
    assert not revive_shift(shift=shift, **by)
    shift.refresh_from_db()
    assert (shift.status, shift.cancelled_why) == ("published", "")
    assert places_of(shift) == [(1, "", "open", None), (2, "", "held", SATURDAY)]
    title, lines = told(cast.grower)[-1]
    assert (title, "open again" in lines[1]) == ("Row takes place after all", True)
    hand_over = HandOver.objects.get()
    assert (hand_over.from_person, hand_over.version) == (cast.grower, 1)


def test_a_moved_shift_keeps_its_holders_but_who_is_busy_that_day(make, cast, by):
    shift, other = make(), make([""], name="Other", day=SUNDAY)
    publish(shift, cast.grower, cast.viewer)
    publish(other, cast.viewer)
    learner = shift.places.create(
        number=3, is_learner=True, state="held", holder=cast.owner, busy_on=SATURDAY
    )
    publish(make([""], name="Third", day=SUNDAY), cast.owner)
    assert move_shift(shift=shift, day=SUNDAY, starts_at=time(7, 30), **by)
    assert not move_shift(shift=shift, day=SUNDAY, starts_at=time(7, 30), **by)
    shift.refresh_from_db()
    assert (shift.day, shift.moved_from, shift.sequence) == (SUNDAY, SATURDAY, 1)
    assert places_of(shift) == [(1, "", "held", SUNDAY), (2, "", "open", None)]
    assert not ShiftPlace.objects.filter(pk=learner.pk).exists()
    title, lines = told(cast.grower)[0]
    assert title == "Row moves to Sunday 6 July, 7:30"
    assert "still yours" in lines[1]
    assert "open again" in told(cast.viewer)[0][1][1]
    # Once more: the first day stays known, and going back to it is no move.
    move_shift(shift=shift, day=SUNDAY, starts_at=time(8), **by)
    shift.refresh_from_db()
    assert (shift.moved_from, shift.sequence) == (SATURDAY, 2)
    move_shift(shift=shift, day=SATURDAY, starts_at=time(8), **by)
    shift.refresh_from_db()
    assert shift.moved_from is None


def test_a_shift_of_a_series_does_not_move_onto_the_next_one(make, site, cast, by):
    series = site.shift_series.create(
        name="Water",
        weekdays="56",
        starts_at=time(8),
        minutes=60,
        from_on=TODAY,
        until_on=SUNDAY,
    )
    first, _ = make(series=series), make(series=series, day=SUNDAY)
    with pytest.raises(SeriesDayError):
        move_shift(shift=first, day=SUNDAY, starts_at=time(9), **by)
    with pytest.raises(NotNowError):
        remove_draft(shift=first, **by)


def test_nobody_is_told_of_a_draft_which_may_be_removed(make, cast, by):
    shift = make()
    shift.places.filter(number=1).update(
        state="held", holder=cast.grower, busy_on=SATURDAY
    )
    move_shift(shift=shift, day=SUNDAY, starts_at=time(9), **by)
    assert told(cast.grower) == []
    with pytest.raises(NotNowError):
        begin_shift(shift=shift, trees=[], **by)
    remove_draft(shift=shift, **by)
    assert not Shift.objects.filter(pk=shift.pk).exists()
    published = make()
    publish(published)
    with pytest.raises(NotNowError):
        remove_draft(shift=published, **by)


def test_a_shift_begins_once_with_its_order_frozen(make, cast, by):
    shift = make()
    publish(shift, cast.grower)
    assert begin_shift(shift=shift, trees=[7, 3, 7, 5], **by)
    later = NOW + timedelta(minutes=1)
    assert not begin_shift(shift=shift, trees=[3], person=cast.owner, now=later)
    shift.refresh_from_db()
    assert (shift.order, shift.begun_at) == ([7, 3, 5], NOW)
    for change in (
        lambda: cancel_shift(shift=shift, why="", **by),
        lambda: move_shift(shift=shift, day=SUNDAY, starts_at=time(9), **by),
    ):
        with pytest.raises(NotNowError):
            change()
