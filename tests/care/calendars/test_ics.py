"""Rounds as a calendar file: its form, its bytes, and what it refuses."""

from dataclasses import replace
from datetime import date, datetime, timedelta, timezone
from uuid import UUID

import pytest
from hypothesis import given, strategies as st

from care.calendars.ics import etag_of, render_calendar
from tests.care.calendars.calendar_cases import (
    CHANGED,
    GOOD,
    LONG_ROW,
    SOUTH_WALL,
    expected_heading,
    expected_text,
    rounds,
)
from tests.care.calendars.strict_calendar import problems, read

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


def test_half_a_surrogate_pair_is_left_out():
    odd = replace(LONG_ROW, summary="pru\ud83cne", description="\udf4e")
    (event,) = read(render_calendar("\ud83c", [odd])).components
    assert (event.text("SUMMARY"), event.text("DESCRIPTION")) == ("prune", "")


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
    with pytest.raises(ValueError, match="two events have the id"):
        render_calendar("", [LONG_ROW, replace(LONG_ROW, day=date(2026, 4, 12))])
