"""The judge of calendar files: each rule, broken once, must be caught."""

import re
from datetime import date
from pathlib import Path

import pytest

from care.calendars.ics import render_calendar
from tests.care.calendars import strict_calendar
from tests.care.calendars.calendar_cases import GOOD
from tests.care.calendars.shift_cases import shift_at
from tests.care.calendars.strict_calendar import problems

UID_LINE = b"UID:7f1f9d0c-4a58-4f6e-9a0e-3c1f6f2a9b11\r\n"
OTHER_UID = b"0b6a4a5e-8f0d-4c39-8f55-5b1d8a0f7c22"
ALARM = b"BEGIN:VALARM\r\nACTION:DISPLAY\r\nTRIGGER:-PT1H\r\nEND:VALARM\r\n"
ZONE = b"BEGIN:VTIMEZONE\r\nTZID:Europe/Oslo\r\nEND:VTIMEZONE\r\n"
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
        "TZID without its VTIMEZONE",
    ),
    (b"BEGIN:VEVENT", ZONE + b"BEGIN:VEVENT", "VTIMEZONE without a rule"),
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


IN_ZONE = render_calendar("", [], [shift_at("Europe/Oslo", date(2026, 7, 4))])
ZONE_MUTATIONS = [
    (b"TZID:Europe/Oslo\r\n", b"", "no TZID"),
    (b"TZID:Europe/Oslo", b"TZID:Europe/Paris", "TZID without its VTIMEZONE"),
    (b"TZOFFSETTO:+0100\r\n", b"", "no TZOFFSETTO"),
    (b"TZOFFSETFROM:+0100", b"TZOFFSETFROM:1 h", "value of TZOFFSETFROM"),
    (b"TZOFFSETFROM:+0100", b"TZOFFSETFROM:-0000", "value of TZOFFSETFROM"),
    (b"BYDAY=-1SU", b"BYDAY=SU", "value of RRULE"),
    (b"FREQ=YEARLY", b"FREQ=DAILY", "value of RRULE"),
    (b"RRULE:", b"RDATE:20260329T020000\r\nRRULE:", "unknown RDATE"),
    (b"DTSTART:2025", b"DTSTART;VALUE=DATE:2025", "value of DTSTART"),
    (b"DAYLIGHT", b"SUMMER", "component SUMMER"),
    (b"STATUS:CONFIRMED", b"STATUS:SURE", "value of STATUS"),
]


@pytest.mark.parametrize(("old", "new", "rule"), ZONE_MUTATIONS)
def test_each_rule_of_zones_broken_is_caught(old, new, rule):
    assert problems(IN_ZONE) == set()
    assert old in IN_ZONE
    assert rule in problems(IN_ZONE.replace(old, new))
