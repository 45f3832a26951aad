"""Shifts in a calendar file: their time in every zone, what they say, what is refused."""

import io
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import icalendar
import ics
import pytest
import recurring_ical_events  # type: ignore[import-untyped]  # it ships no types
import vobject
from hypothesis import given, strategies as st

from care.calendars.ics import etag_of, render_calendar
from tests.care.calendars.calendar_cases import LONG_ROW
from tests.care.calendars.shift_cases import instant, shift_at
from tests.care.calendars.strict_calendar import problems, read

SATURDAY = date(2026, 7, 4)
ZONES = st.sampled_from(
    [
        *("Pacific/Pago_Pago", "America/Los_Angeles", "America/St_Johns", "UTC"),
        *("Europe/Oslo", "Europe/Dublin", "Africa/Casablanca", "Asia/Kathmandu"),
        *("Australia/Lord_Howe", "Pacific/Auckland", "Pacific/Kiritimati"),
    ]
)


def starts(content):
    """Return when each shift begins and ends, as a general library understands it."""
    calendar = icalendar.Calendar.from_ical(content)
    assert calendar.get_missing_tzids() == set()
    return [
        (event.start.astimezone(UTC), event.end.astimezone(UTC))
        for event in calendar.events
        if isinstance(event.start, datetime)
    ]


@given(
    ZONES,
    st.dates(date(2025, 1, 1), date(2027, 12, 31)),
    st.times().map(lambda at: at.replace(second=0, microsecond=0)),
    st.integers(1, 600),
)
def test_a_shift_is_at_its_moment_in_every_zone(zone, day, at, minutes):
    one = shift_at(zone, day, at, minutes=minutes)
    content = render_calendar("Alder Row", [LONG_ROW], [one])
    assert problems(content) == set()
    begins = one.begins.astimezone(UTC)
    assert starts(content) == [(begins, begins + timedelta(minutes=minutes))]


def test_an_event_says_all_of_a_shift():
    one = shift_at(
        "America/Los_Angeles", SATURDAY, sequence=3, url="https://trees.example/s/1/"
    )
    zone, event = read(render_calendar("", [], [one])).components
    assert zone.text("TZID") == "America/Los_Angeles"
    assert {name.name: name.value for name in event.properties} == {
        "UID": "7f1f9d0c-4a58-4f6e-9a0e-000000000001",
        "DTSTAMP": "20260330T050403Z",
        "LAST-MODIFIED": "20260330T050403Z",
        "SEQUENCE": "3",
        "DTSTART": "20260704T090000",
        "DTEND": "20260704T120000",
        "SUMMARY": "Saturday pruning: 3 of 4 people",
        "DESCRIPTION": r"Where: Long row\nWhat: pruning",
        "STATUS": "CONFIRMED",
        "TRANSP": "OPAQUE",
        "X-MICROSOFT-CDO-BUSYSTATUS": "BUSY",
        "URL": "https://trees.example/s/1/",
    }
    assert event.all("DTSTART")[0].parameters == {"TZID": "America/Los_Angeles"}


def test_a_cancelled_shift_says_so_in_its_words_too():
    one = shift_at("Europe/Oslo", SATURDAY, is_cancelled=True)
    event = read(render_calendar("", [], [one])).components[1]
    assert event.text("SUMMARY") == "Cancelled: Saturday pruning: 3 of 4 people"
    assert (event.text("STATUS"), event.text("TRANSP")) == ("CANCELLED", "TRANSPARENT")


def test_half_past_two_in_the_night_that_has_none_is_the_first_time_after():
    """29 March 2026: clocks in Norway go from 2 to 3 (Directive 2000/84/EC)."""
    one = shift_at("Europe/Oslo", date(2026, 3, 29), time(2, 30), minutes=60)
    content = render_calendar("", [], [one])
    assert starts(content) == [
        (datetime(2026, 3, 29, 1, tzinfo=UTC), datetime(2026, 3, 29, 2, tzinfo=UTC))
    ]
    assert b"DTSTART;TZID=Europe/Oslo:20260329T030000" in content


def test_what_ends_in_the_hour_that_comes_twice_is_told_in_universal_time():
    """25 October 2026: 2:30 comes twice in Norway; a local time means the first."""
    one = shift_at("Europe/Oslo", date(2026, 10, 25), time(1, 45), minutes=105)
    content = render_calendar("", [], [one])
    assert b"DTSTART:20261024T234500Z" in content
    assert b"DTEND:20261025T013000Z" in content
    assert problems(content) == set()


def test_a_night_at_the_edge_of_a_southern_year():
    one = shift_at("Pacific/Auckland", date(2026, 12, 31), time(23), minutes=120)
    content = render_calendar("", [], [one])
    # New Zealand's summer is 13 hours ahead.
    assert starts(content) == [
        (datetime(2026, 12, 31, 10, tzinfo=UTC), datetime(2026, 12, 31, 12, tzinfo=UTC))
    ]
    assert b"DTEND;TZID=Pacific/Auckland:20270101T010000" in content


def test_a_zone_without_rules_is_told_in_universal_time():
    content = render_calendar("", [], [shift_at("Africa/Casablanca", SATURDAY)])
    assert b"VTIMEZONE" not in content
    assert b"DTSTART:20260704T080000Z" in content


# The library ics splits a time in a way that Python 3.13 would rather have otherwise.
@pytest.mark.filterwarnings("ignore:'maxsplit' is passed:DeprecationWarning")
def test_other_programs_read_the_shift():
    made = [shift_at("America/Los_Angeles", SATURDAY)]
    content = render_calendar("Alder Row", [LONG_ROW], made)
    expected = instant("America/Los_Angeles", 2026, 7, 4, 9)
    calendar = vobject.readOne(io.StringIO(content.decode()))
    by_uid = {event.uid.value: event for event in calendar.contents["vevent"]}
    event = by_uid[str(made[0].uid)]
    assert event.validate(raiseException=True)
    assert event.dtstart.value.astimezone(UTC) == expected
    (read_by_ics,) = [
        event
        for event in ics.Calendar(content.decode()).events
        if event.uid == str(made[0].uid)
    ]
    assert read_by_ics.begin.datetime == expected
    assert not read_by_ics.transparent
    query = recurring_ical_events.of(icalendar.Calendar.from_ical(content))
    assert [str(event["uid"]) for event in query.at(SATURDAY)] == [str(made[0].uid)]
    assert query.at(SATURDAY + timedelta(days=1)) == []


def test_zones_stand_once_each_and_the_bytes_are_the_same_in_any_order():
    made = [
        shift_at("Europe/Oslo", SATURDAY, number=1),
        shift_at("Europe/Oslo", date(2027, 1, 9), number=2),
        shift_at("Pacific/Auckland", SATURDAY, number=3),
    ]
    content = render_calendar("", [], made)
    assert content.count(b"BEGIN:VTIMEZONE") == 2
    assert render_calendar("", [], made[::-1]) == content
    moved = replace(made[0], sequence=1)
    assert etag_of(render_calendar("", [], [moved, *made[1:]])) != etag_of(content)


def test_a_shift_and_a_round_of_one_id_are_refused():
    one = replace(LONG_ROW, uid=shift_at("UTC", SATURDAY).uid)
    with pytest.raises(ValueError, match="two events have the id"):
        render_calendar("", [one], [shift_at("UTC", SATURDAY)])


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"begins": datetime(2026, 7, 4, 9)}, "no named time zone"),  # noqa: DTZ001
        ({"begins": datetime(2026, 7, 4, 9, tzinfo=UTC)}, "no named time zone"),
        (
            {"ends": datetime(2026, 7, 4, 12, tzinfo=ZoneInfo("UTC"))},
            "another time zone",
        ),
        (
            {"ends": datetime(2026, 7, 4, 9, tzinfo=ZoneInfo("Europe/Oslo"))},
            "ends before it begins",
        ),
        ({"sequence": -1}, "below zero"),
        ({"url": "shifts/1"}, "not an address"),
    ],
)
def test_what_a_program_would_misread_is_refused(change, why):
    with pytest.raises(ValueError, match=why):
        replace(shift_at("Europe/Oslo", SATURDAY), **change)
