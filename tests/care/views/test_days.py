"""Days as people say them."""

from datetime import date, timedelta

import pytest

from care.views.days import (
    by_day,
    day_range,
    day_words,
    late_since,
    on_day,
    when_day,
)

TODAY = date(2025, 7, 2)  # a Wednesday


@pytest.mark.parametrize(
    ("days", "words"),
    [
        (-7, "25 June"),
        (-6, "Thursday"),
        (-1, "yesterday"),
        (0, "today"),
        (1, "tomorrow"),
        (2, "Friday"),
        (6, "Tuesday"),
        (7, "9 July"),
        (200, "18 January 2026"),
    ],
)
def test_a_day_is_named_by_its_distance(days, words):
    assert day_words(TODAY + timedelta(days=days), TODAY) == words


def test_when_something_is_needs_no_more_than_the_day_in_english():
    days = [TODAY + timedelta(days=days) for days in range(-9, 10)]
    assert [when_day(day, TODAY) for day in days] == [
        day_words(day, TODAY) for day in days
    ]


def test_what_can_wait_says_until_when():
    assert by_day(TODAY, TODAY) == "today"
    assert by_day(TODAY + timedelta(days=1), TODAY) == "by tomorrow"
    assert by_day(TODAY + timedelta(days=9), TODAY) == "by 11 July"


def test_what_is_late_says_since_when():
    assert late_since(TODAY - timedelta(days=1), TODAY) == "late since yesterday"
    assert late_since(TODAY - timedelta(days=3), TODAY) == "late since Sunday"


def test_a_planned_day_takes_its_preposition():
    assert on_day(TODAY + timedelta(days=1), TODAY) == "tomorrow"
    assert on_day(TODAY + timedelta(days=2), TODAY) == "on Friday"


@pytest.mark.parametrize(
    ("start", "end", "words"),
    [
        (date(2025, 6, 12), date(2025, 6, 18), "12\N{EN DASH}18 June"),
        (date(2025, 6, 28), date(2025, 7, 3), "28 June \N{EN DASH} 3 July"),
        (date(2025, 6, 12), date(2025, 6, 12), "12 June"),
        (date(2026, 1, 4), date(2026, 2, 8), "4 January \N{EN DASH} 8 February 2026"),
        (
            date(2025, 12, 30),
            date(2026, 1, 4),
            "30 December \N{EN DASH} 4 January 2026",
        ),
    ],
)
def test_a_range_is_as_short_as_it_can_be(start, end, words):
    assert day_range(start, end, TODAY) == words
