"""Series fill four weeks, fall silent where rain did the work, and come back."""

from datetime import UTC, date, datetime, time, timedelta

import pytest

from care.actions.shift_changes import cancel_shift, move_shift, revive_shift
from care.actions.shift_series import (
    FILLED_DAYS,
    SILENT,
    end_series,
    fill_series,
    make_series,
)
from care.models import Shift, Task
from orchard.models import Message
from tests.conftest import TODAY

# Nine in the morning there: the site lives on 2 July 2025, a Wednesday.
NOW = datetime(2025, 7, 2, 16, tzinfo=UTC)
LAST = TODAY + timedelta(days=FILLED_DAYS)
SATURDAYS = [date(2025, 7, day) for day in (5, 12, 19, 26)]


@pytest.fixture
def make(site, cast):
    def make(**values):
        facts = {
            "name": "Watering",
            "weekdays": "5",
            "starts_at": time(8),
            "minutes": 90,
            "skills": ["", ""],
            "kinds": ["watering"],
            "from_on": TODAY,
            "until_on": date(2025, 9, 30),
            **values,
        }
        return make_series(site=site, values=facts, person=cast.owner, now=NOW)

    return make


@pytest.fixture
def fill(site):
    def fill(today=TODAY, until=LAST):
        filled = fill_series(site=site, today=today, until=until, now=NOW)
        return filled.made, filled.silenced, filled.revived

    return fill


@pytest.fixture
def watering(make_tree, make_task):
    return make_task(make_tree("Apple"), days=3)  # may be done from Thursday the 3rd


def days(**status):
    return list(Shift.objects.filter(**status).values_list("day", flat=True))


def delay(task, first):
    """Let rain put the next watering off to a first day."""
    Task.objects.filter(pk=task.pk).update(
        earliest=first, due=first, latest=first + timedelta(days=2)
    )


def publish(holder):
    """Publish all shifts, one place of each held."""
    Shift.objects.update(status="published", published_at=NOW)
    for shift in Shift.objects.all():
        shift.places.filter(number=1).update(
            state="held", holder=holder, busy_on=shift.day
        )


def test_a_series_fills_four_weeks_and_only_once(
    make, fill, watering, django_assert_max_num_queries
):
    make()
    assert fill() == (4, 0, 0)
    assert days() == SATURDAYS
    shift = Shift.objects.first()
    assert (shift.name, shift.minutes, shift.places.count()) == ("Watering", 90, 2)
    with django_assert_max_num_queries(6):
        assert fill() == (0, 0, 0)
    # A week later one more; the first stays as it is.
    assert fill(TODAY + timedelta(days=7), LAST + timedelta(days=7)) == (1, 0, 0)


def test_drafts_go_where_rain_did_it_and_come_back(make, fill, watering, cast):
    make()
    fill()
    delay(watering, date(2025, 7, 14))
    touched = Shift.objects.get(day=SATURDAYS[1])
    touched.places.filter(number=1).update(
        state="held", holder=cast.grower, busy_on=touched.day
    )
    assert fill() == (0, 2, 0)
    # Somebody was put on the second: it is called off, not lost.
    assert days(status="draft") == SATURDAYS[2:]
    assert days(status="cancelled") == [SATURDAYS[1]]
    assert not Message.objects.exists()
    delay(watering, date(2025, 7, 4))
    assert fill() == (1, 0, 1)
    assert days(status="draft") == SATURDAYS
    touched.refresh_from_db()
    assert touched.places.filter(holder=cast.grower, busy_on=touched.day).exists()


def test_published_shifts_fall_silent_when_near_and_are_brought_back(
    make, fill, watering, cast
):
    make()
    fill()
    publish(cast.grower)
    delay(watering, date(2025, 7, 14))
    # On Wednesday Saturday is three days off: Saturday's rota does not change yet.
    assert fill() == (0, 0, 0)
    thursday = TODAY + timedelta(days=1)
    assert fill(thursday) == (0, 1, 0)
    first = Shift.objects.get(day=SATURDAYS[0])
    assert (first.status, first.cancelled_why) == ("cancelled", SILENT)
    assert fill(thursday) == (0, 0, 0)
    delay(watering, date(2025, 7, 5))
    assert fill(thursday) == (0, 0, 1)
    first.refresh_from_db()
    assert (first.status, first.cancelled_why) == ("published", "")
    titles = [one.body["title"] for one in Message.objects.order_by("id")]
    assert titles == ["Watering is cancelled", "Watering takes place after all"]


def test_what_a_person_lets_take_place_after_all_is_silenced_no_more(
    make, fill, watering, cast
):
    make()
    fill()
    publish(cast.grower)
    delay(watering, date(2025, 7, 14))
    thursday = TODAY + timedelta(days=1)
    fill(thursday)
    first = Shift.objects.get(day=SATURDAYS[0])
    revive_shift(shift=first, person=cast.owner, now=NOW)
    assert fill(thursday) == (0, 0, 0)
    first.refresh_from_db()
    assert first.status == "published"


def test_a_draft_that_was_changed_by_hand_is_not_lost(make, fill, watering):
    make()
    fill()
    first, second, third, _ = Shift.objects.order_by("day")
    first.places.create(number=3, skill="ladder")
    Shift.objects.filter(pk=second.pk).update(note="Bring a can")
    Shift.objects.filter(pk=third.pk).update(is_hazardous=True)
    delay(watering, date(2025, 9, 1))
    assert fill() == (0, 4, 0)
    assert days(status="cancelled") == SATURDAYS[:3]


def test_nothing_that_a_person_did_is_undone(make, fill, watering, cast):
    make()
    fill()
    by = {"person": cast.owner, "now": NOW}
    first, second = Shift.objects.order_by("day")[:2]
    cancel_shift(shift=first, why="Fair in town", **by)
    move_shift(shift=second, day=date(2025, 7, 13), starts_at=time(8), **by)
    assert fill() == (0, 0, 0)
    delay(watering, date(2025, 9, 1))
    assert fill() == (0, 2, 0)
    assert days(status="draft") == [date(2025, 7, 13)]
    first.refresh_from_db()
    assert first.cancelled_why == "Fair in town"


def test_what_is_no_series_of_rain_never_falls_silent(make, fill, make_tree):
    make(silent_when_wet=False, kinds=[], weekdays="06", name="Open day")
    make()  # nothing waters here at all: it stays silent
    assert fill() == (8, 0, 0)
    assert {shift.name for shift in Shift.objects.all()} == {"Open day"}


def test_an_ended_series_makes_no_more_and_its_published_ones_stay_or_go(
    make, fill, watering, cast, site
):
    one, other = make(), make(weekdays="6", name="Sundays")
    fill()
    publish(cast.grower)
    fill(until=LAST + timedelta(days=7))
    by = {"person": cast.owner, "today": TODAY, "now": NOW}
    assert end_series(series=one, is_all_off=False, **by) == 4
    assert end_series(series=one, is_all_off=True, **by) == 0  # ended already
    assert days(series=one) == SATURDAYS
    assert end_series(series=other, is_all_off=True, **by) == 0
    assert days(series=other, status="published") == []
    assert fill(until=LAST + timedelta(days=14)) == (0, 0, 0)


def test_a_time_that_a_clock_change_skips_gives_way_that_night(make, fill, site):
    # Clocks go from 2:00 to 3:00 on 9 March 2025 in Los Angeles.
    site.own_today = date(2025, 3, 1)
    site.save()
    make(
        silent_when_wet=False,
        kinds=[],
        weekdays="6",
        starts_at=time(2, 30),
        from_on=date(2025, 3, 1),
        until_on=date(2025, 3, 20),
    )
    assert fill(date(2025, 3, 1), date(2025, 3, 28)) == (3, 0, 0)
    times = Shift.objects.values_list("day", "starts_at")
    assert list(times) == [
        (date(2025, 3, 2), time(2, 30)),
        (date(2025, 3, 9), time(3)),
        (date(2025, 3, 16), time(2, 30)),
    ]
