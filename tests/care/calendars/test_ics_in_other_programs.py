"""What general calendar libraries read in our calendar file."""

import io
from dataclasses import replace
from datetime import timedelta

import icalendar
import ics
import recurring_ical_events  # type: ignore[import-untyped]  # it ships no types
import vobject
from hypothesis import given

from care.calendars.ics import render_calendar
from tests.care.calendars.calendar_cases import (
    LONG_ROW,
    PLAIN_TEXTS,
    expected_heading,
    rounds,
)
from tests.care.calendars.strict_calendar import problems


def seen(made):
    return {(str(one.uid), one.day, expected_heading(one.summary)) for one in made}


@given(rounds(PLAIN_TEXTS))
def test_icalendar_reads_the_rounds(made):
    calendar = icalendar.Calendar.from_ical(render_calendar("Alder Row", made))
    assert {
        (str(e["uid"]), e.start, str(e["summary"])) for e in calendar.events
    } == seen(made)
    assert all(
        event.end - event.start == timedelta(days=1) for event in calendar.events
    )
    assert calendar.get_missing_tzids() == set()
    assert calendar.calendar_name == "Alder Row"


@given(rounds(PLAIN_TEXTS))
def test_vobject_reads_the_rounds(made):
    calendar = vobject.readOne(io.StringIO(render_calendar("", made).decode()))
    events = calendar.contents.get("vevent", [])
    assert all(event.validate(raiseException=True) for event in events)
    assert {(e.uid.value, e.dtstart.value, e.summary.value) for e in events} == seen(
        made
    )


@given(rounds(PLAIN_TEXTS))
def test_ics_reads_the_rounds(made):
    events = ics.Calendar(render_calendar("", made).decode()).events
    assert {(e.uid, e.begin.date(), e.name or "") for e in events} == seen(made)
    assert all(event.all_day and event.transparent for event in events)


@given(rounds(PLAIN_TEXTS))
def test_every_round_is_found_on_its_day_and_on_no_other(made):
    calendar = icalendar.Calendar.from_ical(render_calendar("", made))
    query = recurring_ical_events.of(calendar)
    for one in made:
        for offset in (-1, 0, 1):
            on = one.day + timedelta(days=offset)
            found = {str(event["uid"]) for event in query.at(on)}
            assert found == {str(other.uid) for other in made if other.day == on}


def test_folded_lines_are_whole_for_every_library():
    long = "🍎 Apfelbäume, 桃の木; " * 30 + "."
    made = [replace(LONG_ROW, summary=long, description=f"{long}\n{long}")]
    content = render_calendar(long, made)
    assert problems(content) == set()
    (event,) = icalendar.Calendar.from_ical(content).events
    assert str(event["description"]) == f"{long}\n{long}"
    assert (
        vobject.readOne(content.decode()).vevent.description.value == f"{long}\n{long}"
    )
    (event,) = ics.Calendar(content.decode()).events
    assert event.description == f"{long}\n{long}"
