"""When to plant, in several climates of both hemispheres."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings, strategies as st

from care.facts import MonthDay, RainFacts, RainState, Stage, StageDay, Stock
from care.science.planting_windows import is_dry_summer, planting_windows, windows_for
from care.science.season import growth_start
from tests.care.rules.cases import (
    MILD,
    SHORT,
    WARM,
    WARM_SOUTH,
    morning,
    orange,
    species,
    tree,
)

APPLE, ORANGE = species(), orange()
OLIVE = species("olive", leaf="evergreen", feed_group="other", move_in_temp_c=-7.0)
MANGO = replace(orange(), key="mango", feed_group="tropical")
WINTER_RAIN = RainFacts(RainState.AWAITED, usual_start=283, usual_end=100)
SUMMER_RAIN = RainFacts(RainState.AWAITED, usual_start=145, usual_end=290)
NO_SEASON = RainFacts(RainState.NO_SEASON)
MILD_SOUTH = replace(
    MILD,
    latitude_deg=-47.6,
    last_frost=MonthDay(9, 20),
    first_frost=MonthDay(5, 10),
)
BARE, POT = Stock.BARE_ROOT, Stock.CONTAINER_GROWN


def windows(kind, stock, site, rains=None, season=2015, **known):
    known.setdefault("bud_break", growth_start(season, kind, site))
    return planting_windows(kind, stock, site, rains, season, **known)


def best(*args, **known):
    first = windows(*args, **known)[0]
    return first.code, first.window.start, first.window.end


@pytest.mark.parametrize("stock", [BARE, Stock.BALLED])
def test_bare_roots_go_in_between_leaf_drop_and_bud_break(stock):
    assert best(APPLE, stock, MILD) == (
        "planting_bare_root_in_dormancy",
        date(2014, 12, 1),
        date(2015, 2, 22),
    )
    seen = best(
        APPLE, stock, MILD, leaf_drop=date(2014, 11, 20), bud_break=date(2015, 3, 20)
    )
    assert seen[1:] == (date(2014, 11, 20), date(2015, 3, 13))


def test_where_the_ground_freezes_bare_roots_wait_for_early_spring():
    assert best(APPLE, BARE, SHORT) == (
        "planting_bare_root_in_spring",
        date(2015, 2, 24),
        date(2015, 3, 31),
    )


def test_leaves_that_fall_late_leave_some_weeks_all_the_same():
    late = best(
        APPLE, BARE, WARM, leaf_drop=date(2015, 2, 20), bud_break=date(2015, 3, 1)
    )
    assert late[1:] == (date(2015, 1, 18), date(2015, 2, 22))


def test_hardy_pots_go_in_in_autumn_where_summers_are_dry():
    # Rains from 10 October
    assert best(APPLE, POT, MILD, WINTER_RAIN) == (
        "planting_autumn_of_dry_summer",
        date(2014, 10, 10),
        date(2014, 12, 24),
    )
    codes = [one.code for one in windows(OLIVE, BARE, MILD, WINTER_RAIN)]
    assert codes == ["planting_autumn_of_dry_summer", "planting_hardy_in_spring"]


@pytest.mark.parametrize("rains", [None, NO_SEASON, SUMMER_RAIN])
def test_hardy_pots_go_in_in_spring_or_autumn_where_summers_are_moist(rains):
    spring, autumn = windows(APPLE, POT, MILD, rains)
    assert spring.code == "planting_hardy_in_spring"
    assert (spring.window.start, spring.window.end) == (
        date(2015, 3, 1),
        date(2015, 6, 15),
    )
    assert autumn.code == "planting_hardy_in_autumn"
    assert (autumn.window.start, autumn.window.end) == (
        date(2014, 9, 15),
        date(2014, 11, 10),
    )
    unknown = replace(MILD, first_frost=None)
    assert windows(APPLE, POT, unknown, rains)[1].window.end == date(2014, 11, 15)


def test_hardy_pots_go_in_in_spring_only_where_winter_is_long():
    (spring,) = windows(APPLE, POT, SHORT, WINTER_RAIN)
    assert spring.window.start == date(2015, 4, 7)


def test_tender_trees_wait_for_the_last_frost_and_are_in_before_the_heat():
    assert best(ORANGE, POT, MILD) == (
        "planting_tender_after_frost",
        date(2015, 3, 21),
        date(2015, 6, 15),
    )
    safe = replace(MILD, safe_last_frost=MonthDay(4, 10))
    assert best(ORANGE, POT, safe)[1] == date(2015, 4, 11)
    unknown = replace(MILD, last_frost=None)
    assert best(ORANGE, POT, unknown)[1] == date(2015, 4, 2)


def test_tender_trees_are_in_before_the_daily_rains():
    # Daily rains from 25 May
    assert best(ORANGE, POT, MILD, SUMMER_RAIN)[2] == date(2015, 5, 25)
    assert best(ORANGE, POT, MILD, WINTER_RAIN)[2] == date(2015, 6, 15)
    late = replace(MILD, last_frost=MonthDay(5, 20))
    # No less than thirty days
    assert best(ORANGE, POT, late, SUMMER_RAIN)[1:] == (
        date(2015, 5, 21),
        date(2015, 6, 20),
    )


@pytest.mark.parametrize("kind", [MANGO, OLIVE])
def test_without_frost_the_weeks_before_the_rains_are_best(kind):
    before, within = windows(kind, POT, WARM, SUMMER_RAIN)
    assert (before.code, within.code) == (
        "planting_before_rains",
        "planting_in_first_rains",
    )
    assert (before.window.start, before.window.end) == (
        date(2015, 3, 26),
        date(2015, 5, 25),
    )
    assert within.window.end == date(2015, 7, 24)


@pytest.mark.parametrize("rains", [None, NO_SEASON])
def test_without_frost_or_wet_season_any_time_will_do(rains):
    code, start, end = best(MANGO, POT, WARM, rains)
    assert code == "planting_at_any_time"
    assert (end - start).days == 364


def test_a_tree_in_a_situation_is_planted_by_its_own_stages():
    stages = (
        StageDay(Stage.LEAF_DROP, 2014, date(2014, 11, 18), "seen"),
        StageDay(Stage.BUD_BREAK, 2015, date(2015, 3, 18), "heat"),
    )
    young = tree(APPLE, stock=BARE, planted_on=None)
    (window,) = windows_for(morning(date(2014, 12, 1), young, stages=stages), 2015)
    assert (window.window.start, window.window.end) == (
        date(2014, 11, 18),
        date(2015, 3, 11),
    )
    (guess,) = windows_for(morning(date(2014, 12, 1), young), 2015)
    assert guess.window.start == date(2014, 12, 1)


def test_summers_are_dry_where_the_wet_season_leaves_them_out():
    assert is_dry_summer(WINTER_RAIN, southern=False)
    assert not is_dry_summer(SUMMER_RAIN, southern=False)
    assert not is_dry_summer(WINTER_RAIN, southern=True)
    assert is_dry_summer(SUMMER_RAIN, southern=True)
    assert not is_dry_summer(NO_SEASON, southern=False)
    assert not is_dry_summer(None, southern=False)
    half = RainFacts(RainState.AWAITED, usual_start=283)
    assert not is_dry_summer(half, southern=False)


def half_a_year_on(rains):
    if rains is None:
        return None
    return replace(
        rains,
        usual_start=(rains.usual_start + 181) % 365 or 365,
        usual_end=(rains.usual_end + 181) % 365 or 365,
    )


@settings(max_examples=80)
@given(
    st.sampled_from([APPLE, ORANGE, OLIVE, MANGO]),
    st.sampled_from(Stock),
    st.sampled_from([(MILD, MILD_SOUTH), (WARM, WARM_SOUTH)]),
    st.sampled_from([None, WINTER_RAIN, SUMMER_RAIN]),
    st.integers(1990, 2060),
)
def test_windows_mirror_by_half_a_year(kind, stock, sites, rains, season):
    north = windows(kind, stock, sites[0], rains, season)
    south = windows(kind, stock, sites[1], half_a_year_on(rains), season)
    assert [one.code for one in north] == [one.code for one in south]
    for here, there in zip(north, south, strict=True):
        for a, b in (
            (here.window.start, there.window.start),
            (here.window.end, there.window.end),
        ):
            # Half-years and months differ in length by a few days
            assert abs((b - a).days - 182) <= 5


@settings(max_examples=80)
@given(
    st.sampled_from([APPLE, ORANGE, OLIVE, MANGO]),
    st.sampled_from(Stock),
    st.sampled_from([MILD, SHORT, WARM, MILD_SOUTH, WARM_SOUTH]),
    st.integers(1, 365),
    st.integers(30, 300),
)
def test_every_window_gives_some_weeks(kind, stock, site, wet_from, wet_days):
    wet_until = (wet_from + wet_days - 1) % 365 + 1
    rains = RainFacts(RainState.AWAITED, usual_start=wet_from, usual_end=wet_until)
    for one in windows(kind, stock, site, rains):
        assert one.window.end - one.window.start >= timedelta(days=29)
