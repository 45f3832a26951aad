"""The days of growth round a morning, and turns of work that repeats."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, strategies as st

from care.facts import MonthDay, Stage, StageDay
from care.science.growing_season import growing_season, next_turn
from tests.care.rules.cases import MILD, SHORT, WARM, WARM_SOUTH, morning, tree


@pytest.mark.parametrize(
    ("site", "today", "start", "end"),
    [
        (MILD, date(2014, 6, 1), date(2014, 3, 1), date(2014, 10, 31)),
        (SHORT, date(2014, 6, 1), date(2014, 4, 7), date(2014, 10, 5)),
        (WARM, date(2014, 6, 1), date(2014, 3, 1), date(2014, 10, 31)),
        (WARM_SOUTH, date(2014, 12, 1), date(2014, 9, 1), date(2015, 4, 30)),
    ],
)
def test_from_the_start_of_growth_to_frost_or_october(site, today, start, end):
    season = growing_season(morning(today, tree(), site))
    assert (season.start, season.end) == (start, end)


def test_bud_break_that_was_seen_begins_it():
    seen = StageDay(Stage.BUD_BREAK, 2014, date(2014, 4, 2), "seen")
    season = growing_season(morning(date(2014, 6, 1), stages=(seen,)))
    assert season.start == date(2014, 4, 2)


def test_growth_that_starts_after_the_frost_is_a_single_day():
    late = StageDay(Stage.BUD_BREAK, 2014, date(2014, 11, 20), "seen")
    early = replace(MILD, first_frost=MonthDay(10, 1), last_frost=MonthDay(3, 1))
    situation = morning(date(2014, 6, 1), tree(), early, stages=(late,))
    assert growing_season(situation).start == growing_season(situation).end


@given(
    due=st.dates(date(2014, 1, 1), date(2014, 12, 31)),
    days=st.integers(-60, 400),
    between=st.integers(15, 100),
    window=st.integers(0, 14),
)
def test_a_turn_is_kept_until_its_window_ends_and_then_comes_again(
    due, days, between, window
):
    today = due + timedelta(days=days)
    turn = next_turn(due, today, between, window)
    assert (turn - due).days % between == 0
    assert turn + timedelta(days=window) >= today
    if days <= window:
        assert turn == due
    else:
        assert (turn - today).days < between
