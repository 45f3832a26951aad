"""Windows of the care year, north and south."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given, settings, strategies as st

from care.facts import MonthDay, Span, Stage, StageDay, WorkDone
from care.science.season import (
    Window,
    frost_free_days,
    growth_start,
    is_frost_season,
    is_in_span,
    last_frost_in,
    local_month,
    month_runs,
    month_window,
    next_on,
    season_date,
    season_of,
    start_of_growth,
    work_of_season,
)
from tests.care.rules.cases import (
    MILD,
    SHORT,
    WARM,
    WARM_SOUTH,
    morning,
    orange,
    species,
)

MONTHS = st.integers(1, 12)


@pytest.mark.parametrize(
    ("day", "southern", "season"),
    [
        (date(2013, 11, 1), False, 2014),
        (date(2014, 10, 31), False, 2014),
        (date(2014, 5, 1), True, 2014),
        (date(2015, 4, 30), True, 2014),
        (date(2015, 1, 15), True, 2014),
    ],
)
def test_a_season_is_named_by_the_year_its_growth_starts(day, southern, season):
    assert season_of(day, southern=southern) == season


@given(season=st.integers(1990, 2060), first=MONTHS, last=MONTHS)
@settings(max_examples=60)
def test_southern_windows_mirror_by_half_a_year(season, first, last):
    north = month_window(season, first, last, southern=False)
    south = month_window(season, first, last, southern=True)

    def months(day):
        return day.year * 12 + day.month

    assert months(south.start) - months(north.start) == 6
    assert months(south.end) - months(north.end) == 6
    assert south.start.day == north.start.day == 1


@given(season=st.integers(1990, 2060), month=MONTHS, day=st.integers(1, 31))
@settings(max_examples=60)
def test_a_date_of_a_season_lies_in_that_season(season, month, day):
    for southern in (False, True):
        found = season_date(season, month, day, southern=southern)
        assert season_of(found, southern=southern) == season


def test_windows_wrap_over_new_year():
    assert month_window(2014, 12, 1, southern=False) == Window(
        date(2013, 12, 1), date(2014, 1, 31)
    )
    assert month_window(2014, 8, 12, southern=False) == Window(
        date(2014, 8, 1), date(2014, 12, 31)
    )


def test_a_window_never_ends_before_it_starts():
    with pytest.raises(ValueError, match="ends before"):
        Window(date(2014, 2, 1), date(2014, 1, 1))


def test_a_window_knows_its_middle_and_its_parts():
    window = Window(date(2014, 1, 1), date(2014, 1, 4))
    assert window.middle == date(2014, 1, 2)
    assert date(2014, 1, 4) in window
    assert window.within(date(2014, 1, 3), date(2014, 2, 1)) == Window(
        date(2014, 1, 3), date(2014, 1, 4)
    )
    assert window.within(date(2014, 2, 1), date(2014, 3, 1)) is None


@pytest.mark.parametrize(
    ("months", "runs"),
    [
        ((1, 2, 3), ((1, 3),)),
        ((12, 1), ((12, 1),)),
        ((7, 8, 2), ((2, 2), (7, 8))),
        (tuple(range(1, 13)), ((11, 10),)),
        ((), ()),
    ],
)
def test_months_fall_into_unbroken_runs(months, runs):
    assert month_runs(months) == runs


def test_a_month_has_its_counterpart_half_a_year_on():
    assert local_month(3, southern=True) == 9
    assert local_month(8, southern=True) == 2
    with pytest.raises(ValueError, match="not a month"):
        local_month(13, southern=False)


def test_spans_wrap_and_turn_with_the_hemisphere():
    winter = Span(11, 2)
    assert is_in_span(date(2014, 1, 5), winter, southern=False)
    assert not is_in_span(date(2014, 1, 5), winter, southern=True)
    assert is_in_span(date(2014, 7, 5), winter, southern=True)


def test_growth_of_hardy_trees_starts_before_the_last_frost_and_of_tender_after():
    assert growth_start(2014, species(), SHORT) == date(2014, 4, 7)
    assert growth_start(2014, orange(), SHORT) == date(2014, 5, 5)
    assert growth_start(2014, species(), WARM) == date(2014, 3, 1)
    assert growth_start(2014, orange(), WARM) == date(2014, 2, 1)
    assert growth_start(2014, orange(), WARM_SOUTH) == date(2014, 8, 1)


def test_growth_starts_as_seen_else_as_modelled_else_by_the_months():
    bare = morning(date(2014, 4, 1))
    guess = StageDay(Stage.BUD_BREAK, 2014, date(2014, 3, 1), "months")
    assert start_of_growth(bare, 2014) == guess
    modelled = replace(guess, on=date(2014, 3, 20), basis="heat")
    seen = replace(guess, on=date(2014, 3, 27), basis="seen")
    assert start_of_growth(replace(bare, stages=(guess, modelled)), 2014) == modelled
    assert start_of_growth(replace(bare, stages=(modelled, seen)), 2014) == seen
    assert start_of_growth(replace(bare, stages=(seen,)), 2015).basis == "months"


def test_frost_dates_are_found_in_their_season():
    assert last_frost_in(2014, MILD) == date(2014, 3, 20)
    assert last_frost_in(2014, WARM) is None
    december = replace(MILD, last_frost=MonthDay(12, 20))
    assert last_frost_in(2014, december) == date(2013, 12, 20)
    south = replace(MILD, latitude_deg=-38.0, last_frost=MonthDay(9, 10))
    assert last_frost_in(2014, south) == date(2014, 9, 10)
    assert next_on(MonthDay(2, 29), date(2014, 12, 1)) == date(2015, 2, 28)
    assert frost_free_days(SHORT) == 153
    assert frost_free_days(WARM) is None


def test_frost_is_usual_between_the_first_and_the_last():
    assert is_frost_season(date(2014, 1, 5), MILD)
    assert not is_frost_season(date(2014, 4, 5), MILD)
    assert not is_frost_season(date(2014, 1, 5), WARM)
    unknown = replace(MILD, last_frost=None, first_frost=None)
    assert is_frost_season(date(2014, 12, 5), unknown)
    assert not is_frost_season(date(2014, 12, 5), replace(unknown, latitude_deg=-38.0))


def test_work_belongs_to_the_season_it_names_and_else_to_that_of_its_day():
    named = WorkDone(1, "feeding", "2014/2", date(2013, 10, 30))
    unasked = WorkDone(1, "feeding", "", date(2013, 11, 2))
    others = (
        WorkDone(1, "feeding", "2013/3", date(2013, 11, 5)),
        WorkDone(1, "feeding", "", date(2013, 10, 30)),
        WorkDone(1, "pruning", "2014/1", date(2014, 1, 5)),
    )
    situation = morning(date(2014, 2, 1), work=(unasked, *others, named))
    assert work_of_season(situation, "feeding", 2014) == (named, unasked)
