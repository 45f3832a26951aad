"""Rounds for the calendar tests, and what must be read in them."""

import re
import unicodedata
from datetime import UTC, date, datetime, timedelta, timezone
from uuid import UUID

from hypothesis import strategies as st

from care.calendars.events import CalendarRound
from care.calendars.ics import render_calendar

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
        re.sub("[\x00-\x08\x0b-\x1f\x7f\ud800-\udfff\ufeff]", "", line)
        for line in lines
    ]
    return unicodedata.normalize(
        "NFC", "\n".join(re.sub(r"\s+$", "", one) for one in lines)
    ).rstrip()


def expected_heading(text):
    return " ".join(line.strip() for line in expected_text(text).split("\n")).strip()
