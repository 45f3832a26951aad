"""Rounds as a calendar file: strict form, and what other programs read in it."""

import io
import re
import unicodedata
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta, timezone
from pathlib import Path
from uuid import UUID

import icalendar
import ics
import pytest
import recurring_ical_events  # type: ignore[import-untyped]  # it ships no types
import vobject
from hypothesis import given, strategies as st

from care.calendars.ics import CalendarRound, etag_of, render_calendar
from tests.care.calendars import strict_calendar
from tests.care.calendars.strict_calendar import problems, read

CHANGED = datetime(2026, 3, 30, 5, 4, 3, tzinfo=UTC)
SOUTH_WALL = CalendarRound(
    uid=UUID("7f1f9d0c-4a58-4f6e-9a0e-3c1f6f2a9b11"),
    day=date(2026, 4, 4),
    summary="South wall: water 3, mulch 1",
    description="Fig: 12 L\nPear: 20 L; soil still moist below, so slowly",
    sequence=2,
    changed_at=CHANGED,
    url="https://trees.example/rounds/7f1f9d0c/",
)
LONG_ROW = CalendarRound(
    uid=UUID("0b6a4a5e-8f0d-4c39-8f55-5b1d8a0f7c22"),
    day=date(2026, 4, 11),
    summary="Long row: prune 2",
    description="Plum: a dry spell, three days",
    sequence=0,
    changed_at=CHANGED,
)
GOOD = render_calendar("Alder Row", [SOUTH_WALL, LONG_ROW])

# Any text that a form can deliver, with the dangerous characters made common.
TEXTS = st.text(
    st.one_of(st.characters(), st.sampled_from('\\;,:"nN\r\n\t\x00\x0b🍎é'))
)
# Libraries that undo escapes one after the other misread a backslash, and split lines
# at every newline that Unicode knows; these texts are for them.
PLAIN_TEXTS = st.text(
    st.one_of(
        st.characters(codec="utf-8", exclude_categories=["Cc", "Zl", "Zp"]),
        st.sampled_from(";,: 🍎é"),
    ).filter(lambda character: character != "\\"),
    max_size=120,
)
DAYS = st.dates(date(1990, 1, 1), date(2100, 12, 31))
SECONDS = st.integers(0, 4_000_000_000) | st.floats(0, 4e9)  # 1970 to 2096
ZONES = st.integers(-14, 14).map(lambda hours: timezone(timedelta(hours=hours)))


def rounds(
    texts: st.SearchStrategy[str] = TEXTS,
) -> st.SearchStrategy[list[CalendarRound]]:
    one = st.builds(
        CalendarRound,
        uid=st.uuids(version=4),
        day=DAYS,
        summary=texts,
        description=texts,
        sequence=st.integers(0, 10_000),
        changed_at=st.builds(datetime.fromtimestamp, SECONDS, ZONES),
        url=st.one_of(st.none(), st.uuids().map("https://trees.example/{}/".format)),
    )
    return st.lists(one, max_size=4, unique_by=lambda one: one.uid)


def expected_text(text):
    """What must come back: written anew, by another way than the code's."""
    lines = re.split("\r\n|[\r\n\x85\u2028\u2029]", text)
    lines = [
        re.sub("[\x00-\x08\x0b-\x1f\x7f\ud800-\udfff]", "", line) for line in lines
    ]
    return unicodedata.normalize(
        "NFC", "\n".join(re.sub(r"\s+$", "", one) for one in lines)
    ).rstrip()


def expected_heading(text):
    return " ".join(line.strip() for line in expected_text(text).split("\n")).strip()


# The form


def test_a_calendar_breaks_no_rule():
    assert problems(GOOD) == set()


@given(st.text(max_size=80), rounds())
def test_no_title_breaks_a_rule(name, made):
    content = render_calendar(name, made)
    found = problems(content)
    # RFC 5545 3.6 wants a component; programs subscribe to an empty calendar all
    # the same, and there is nothing true to put into it.
    assert found == (set() if made else {"no component"})


@given(st.text(max_size=80), rounds())
def test_every_text_comes_back_as_it_was_meant(name, made):
    calendar = read(render_calendar(name, made))
    assert calendar.text("NAME") == expected_heading(name)
    assert calendar.text("X-WR-CALNAME") == expected_heading(name)
    by_uid = {str(one.uid): one for one in made}
    assert len(calendar.components) == len(made)
    for event in calendar.components:
        one = by_uid[event.text("UID")]
        assert event.text("SUMMARY") == expected_heading(one.summary)
        assert event.text("DESCRIPTION") == expected_text(one.description)
        assert event.text("SEQUENCE") == str(one.sequence)


def test_an_event_says_all_of_a_round():
    first, _ = read(GOOD).components
    assert {one.name: one.value for one in first.properties} == {
        "UID": "7f1f9d0c-4a58-4f6e-9a0e-3c1f6f2a9b11",
        "DTSTAMP": "20260330T050403Z",
        "LAST-MODIFIED": "20260330T050403Z",
        "SEQUENCE": "2",
        "DTSTART": "20260404",
        "DTEND": "20260405",
        "SUMMARY": r"South wall: water 3\, mulch 1",
        "DESCRIPTION": r"Fig: 12 L\nPear: 20 L\; soil still moist below\, so slowly",
        "TRANSP": "TRANSPARENT",
        "X-MICROSOFT-CDO-BUSYSTATUS": "FREE",
        "URL": "https://trees.example/rounds/7f1f9d0c/",
    }


def test_a_calendar_says_its_name_and_when_to_ask_again():
    assert {one.name: (one.value, one.parameters) for one in read(GOOD).properties} == {
        "VERSION": ("2.0", {}),
        "PRODID": ("-//Orchard Care//Rounds//EN", {}),
        "CALSCALE": ("GREGORIAN", {}),
        "NAME": ("Alder Row", {}),
        "X-WR-CALNAME": ("Alder Row", {}),
        "REFRESH-INTERVAL": ("PT4H", {"VALUE": "DURATION"}),
        "X-PUBLISHED-TTL": ("PT4H", {}),
    }


@pytest.mark.parametrize(
    ("first", "next_day"),
    [
        (date(2028, 2, 28), "20280229"),
        (date(2028, 2, 29), "20280301"),
        (date(2026, 2, 28), "20260301"),
        (date(2026, 12, 31), "20270101"),
    ],
)
def test_an_event_ends_on_the_morning_after(first, next_day):
    (event,) = read(render_calendar("", [replace(LONG_ROW, day=first)])).components
    assert [one.value for one in event.all("DTEND")] == [next_day]


def test_the_time_of_a_change_is_told_in_universal_time():
    elsewhere = datetime(
        2026, 3, 30, 10, 49, 3, 999_999, timezone(timedelta(hours=5.75))
    )
    content = render_calendar("Alder Row", [replace(SOUTH_WALL, changed_at=elsewhere)])
    assert content == render_calendar("Alder Row", [SOUTH_WALL])


def test_a_backslash_before_an_n_is_no_newline():
    odd = replace(LONG_ROW, summary=r"C:\New \n, \; and \\", description=r"\N")
    (event,) = read(render_calendar("", [odd])).components
    assert event.text("SUMMARY") == odd.summary
    assert event.text("DESCRIPTION") == odd.description


@given(rounds(), st.randoms(use_true_random=False))
def test_two_renders_are_equal_byte_for_byte_in_any_order(made, random):
    content = render_calendar("Alder Row", made)
    shuffled = random.sample(made, len(made))
    assert render_calendar("Alder Row", shuffled) == content
    assert etag_of(content) == etag_of(bytes(bytearray(content)))


def test_events_come_by_day_and_then_by_id():
    twin = replace(LONG_ROW, uid=UUID(int=1))
    content = render_calendar("", [LONG_ROW, twin, SOUTH_WALL])
    uids = [event.text("UID") for event in read(content).components]
    assert uids == [str(one.uid) for one in (SOUTH_WALL, twin, LONG_ROW)]


@pytest.mark.parametrize(
    "change",
    [
        {"day": date(2026, 4, 12)},
        {"summary": "Long row: prune 3"},
        {"description": ""},
        {"sequence": 1},
        {"changed_at": CHANGED + timedelta(seconds=1)},
        {"url": "https://trees.example/"},
    ],
    ids=lambda change: next(iter(change)),
)
def test_every_change_changes_the_etag(change):
    changed = render_calendar("Alder Row", [SOUTH_WALL, replace(LONG_ROW, **change)])
    assert etag_of(changed) != etag_of(GOOD)
    assert etag_of(render_calendar("Alder Row", [SOUTH_WALL])) != etag_of(GOOD)


def test_an_etag_is_strong_and_quoted():
    # SHA-256 of nothing, FIPS 180-4 examples as commonly reprinted.
    digest = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
    assert etag_of(b"") == f'"{digest}"'


# Refusals


def test_a_change_without_a_time_zone_is_refused():
    with pytest.raises(ValueError, match="no time zone"):
        replace(LONG_ROW, changed_at=CHANGED.replace(tzinfo=None))


def test_a_sequence_below_zero_is_refused():
    with pytest.raises(ValueError, match="below zero"):
        replace(LONG_ROW, sequence=-1)


@pytest.mark.parametrize(
    "url",
    ["", "rounds/1", "javascript:alert(1)", "https://a.example/\r\nX:1", "https://é/"],
)
def test_what_is_not_an_address_is_refused(url):
    with pytest.raises(ValueError, match="not an address"):
        replace(LONG_ROW, url=url)


def test_two_rounds_with_one_id_are_refused():
    with pytest.raises(ValueError, match="two rounds have the id"):
        render_calendar("", [LONG_ROW, replace(LONG_ROW, day=date(2026, 4, 12))])


# The judge: each rule of the strict reader, broken once, must be caught

UID_LINE = b"UID:7f1f9d0c-4a58-4f6e-9a0e-3c1f6f2a9b11\r\n"
OTHER_UID = b"0b6a4a5e-8f0d-4c39-8f55-5b1d8a0f7c22"
ALARM = b"BEGIN:VALARM\r\nACTION:DISPLAY\r\nTRIGGER:-PT1H\r\nEND:VALARM\r\n"
MUTATIONS = [
    (b"END:VCALENDAR\r\n", b"END:VCALENDAR", "last line does not end in CRLF"),
    (b"VERSION:2.0\r\n", b"VERSION:2.0\n", "bare CR or LF"),
    (b"water 3", b"water\r3", "bare CR or LF"),
    (b"NAME:Alder", b"NAME:" + b"A" * 75, "line longer than 75 octets"),
    (b"NAME:Alder", b"NAME:" + "é".encode() * 36, "line longer than 75 octets"),
    (UID_LINE, UID_LINE + b"\r\n", "empty line"),
    (b"BEGIN:VCAL", b" BEGIN:VCAL", "first line is a continuation"),
    (b"BEGIN:VCAL", b"\xef\xbb\xbfBEGIN:VCAL", "byte order mark"),
    (b"Alder Row", b"\xc3\r\n \xa9", "line is not whole UTF-8"),
    (b"Alder Row", b"\xff", "line is not whole UTF-8"),
    (b"Alder Row", b"Alder\x0bRow", "control character"),
    (b"Alder Row", b"Alder\x7fRow", "control character"),
    (b"TRANSP:TRANSPARENT", b"TRANSP", "line is not name:value"),
    (b"TRANSP:", b"TR ANSP:", "line is not name:value"),
    (b"END:VEVENT\r\nEND:V", b"END:VTODO\r\nEND:V", "END without its BEGIN"),
    (b"END:VEVENT\r\nEND:V", b"END:V", "BEGIN without its END"),
    (b"END:VCALENDAR\r\n", b"", "BEGIN without its END"),
    (GOOD, GOOD + GOOD, "not one VCALENDAR"),
    (GOOD, b"VERSION:2.0\r\n", "not one VCALENDAR"),
    (b"BEGIN:VCAL", b"X-A:1\r\nBEGIN:VCAL", "line outside the VCALENDAR"),
    (b"VERSION:2.0\r\n", b"", "no VERSION"),
    (b"VERSION:2.0", b"VERSION:2.0\r\nVERSION:2.0", "VERSION twice"),
    (b"VERSION:2.0", b"VERSION:1.0", "value of VERSION"),
    (b"PRODID:-//Orchard Care//Rounds//EN\r\n", b"", "no PRODID"),
    (b"PRODID:", b"PRODID:a\r\nPRODID:", "PRODID twice"),
    (b"CALSCALE:GREGORIAN", b"CALSCALE:JULIAN", "value of CALSCALE"),
    (b"VERSION:", b"METHOD:PUBLISH\r\nVERSION:", "METHOD in a published calendar"),
    (b";VALUE=DURATION", b"", "REFRESH-INTERVAL without VALUE=DURATION"),
    (b"DURATION:PT4H", b"DURATION:4H", "value of REFRESH-INTERVAL"),
    (b"DURATION:PT4H", b"DURATION:-PT4H", "value of REFRESH-INTERVAL"),
    (b"TTL:PT4H", b"TTL:PT", "value of X-PUBLISHED-TTL"),
    (b"VERSION:", b"X-UNHEARD-OF:1\r\nVERSION:", "unknown X-UNHEARD-OF"),
    (GOOD[GOOD.index(b"BEGIN:VEVENT") :], b"END:VCALENDAR\r\n", "no component"),
    (UID_LINE, UID_LINE + ALARM, "component VALARM"),
    (b"VEVENT", b"VTODO", "component VTODO"),
    (UID_LINE, b"", "no UID"),
    (UID_LINE, UID_LINE * 2, "UID twice"),
    (b"7f1f9d0c-4a58-4f6e-9a0e-3c1f6f2a9b11\r", OTHER_UID + b"\r", "UID twice"),
    (b"UID:7f1f9d0c", b"UID:ash@trees.example", "UID is not a random id"),
    (b"DTSTAMP:20260330T050403Z\r\n", b"", "no DTSTAMP"),
    (b"DTSTAMP:", b"DTSTAMP:20260330T050403Z\r\nDTSTAMP:", "DTSTAMP twice"),
    (b"DTSTAMP:20260330T050403Z", b"DTSTAMP:20260330T050403", "value of DTSTAMP"),
    (b"DTSTAMP:20260330", b"DTSTAMP:20260230", "value of DTSTAMP"),
    (b"DTSTAMP:20260330", b"DTSTAMP:20260331", "DTSTAMP is not LAST-MODIFIED"),
    (b"LAST-MODIFIED:20260330T050403Z\r\n", b"", "no LAST-MODIFIED"),
    (b"LAST-MODIFIED:20260330T", b"LAST-MODIFIED:20260330 ", "value of LAST-MODIFIED"),
    (b"SEQUENCE:2", b"SEQUENCE:-2", "value of SEQUENCE"),
    (b"SEQUENCE:2", b"SEQUENCE:2\r\nSEQUENCE:2", "SEQUENCE twice"),
    (b"DTSTART;VALUE=DATE:20260404\r\n", b"", "no DTSTART"),
    (b"DTSTART;VALUE=DATE:20260404", b"DTSTART:20260404", "value of DTSTART"),
    (b"DTSTART;VALUE=DATE:20260404", b"DTSTART:20260404T090000", "value of DTSTART"),
    (b"DATE:20260404", b"DATE:20260431", "value of DTSTART"),
    (
        b"DTSTART;VALUE=DATE:20260404",
        b"DTSTART;TZID=Europe/Oslo:20260404T090000",
        "value of DTSTART",
    ),
    (b"DTSTART;VALUE", b"DTSTART;RANGE=A;VALUE", "parameter of DTSTART"),
    (b"DTEND;VALUE=DATE:20260405\r\n", b"", "no DTEND"),
    (b"DATE:20260405", b"DATE:20260404", "DTEND not after DTSTART"),
    (b"DATE:20260405", b"DATE:20260403", "DTEND not after DTSTART"),
    (
        b"DTEND;VALUE=DATE:20260405",
        b"DTEND:20260405T000000Z",
        "DTEND of another type",
    ),
    (rb"3\, mulch", b"3, mulch", "value of SUMMARY"),
    (rb"3\, mulch", rb"3\x mulch", "value of SUMMARY"),
    (rb"20 L\; soil", b"20 L; soil", "value of DESCRIPTION"),
    (b"SUMMARY:South", "SUMMARY:e\u0301".encode(), "value of SUMMARY"),
    (b"SUMMARY:South", b"SUMMARY;FMTTYPE=a:South", "parameter of SUMMARY"),
    (b"SUMMARY:South", b"SUMMARY:a\r\nSUMMARY:South", "SUMMARY twice"),
    (b"TRANSP:TRANSPARENT", b"TRANSP:FREE", "value of TRANSP"),
    (b"BUSYSTATUS:FREE", b"BUSYSTATUS:IDLE", "value of X-MICROSOFT-CDO-BUSYSTATUS"),
    (b"URL:https://", b"URL:", "value of URL"),
    (b"URL:https://", b"URL:https://a b", "value of URL"),
    (b"TRANSP:TRANSPARENT", b"RRULE:FREQ=DAILY", "unknown RRULE"),
]


@pytest.mark.parametrize(
    ("old", "new", "rule"), MUTATIONS, ids=lambda part: str(part)[:40]
)
def test_each_rule_broken_once_is_caught(old, new, rule):
    assert old in GOOD
    assert rule in problems(GOOD.replace(old, new, 1 if old != b"VEVENT" else -1))


def test_each_rule_that_the_judge_knows_is_broken_above():
    source = Path(strict_calendar.__file__).read_text(encoding="utf-8")
    named = set(re.findall(r'(?:add\(|return \{)"([^"]+)"', source))
    assert len(named) > 15
    assert named <= {rule for _, _, rule in MUTATIONS}


# What other programs read


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
