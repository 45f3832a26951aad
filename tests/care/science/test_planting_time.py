"""When to plant one tree: now, wait, or never outdoors, in several climates."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from care.facts import MonthDay, RainFacts, RainState, Stage, StageDay, Stock
from care.science.frost_dates import FrostYear, frost_dates
from care.science.hottest_weeks import hottest_from
from care.science.planting_time import AHEAD_DAYS, IN_WINTER, Verdict
from tests.care.rules.cases import MILD, SHORT, WARM, WARM_SOUTH, orange, species
from tests.care.science.planting_places import (
    SEATTLE_YEAR,
    climate,
    place,
    time_of,
)

APPLE, ORANGE = species(), orange()
OLIVE = species("olive", leaf="evergreen", feed_group="other", move_in_temp_c=-7.0)
MANGO = replace(orange(), key="mango", feed_group="tropical", move_in_temp_c=7.0)
WINTER_RAIN = RainFacts(RainState.AWAITED, usual_start=283, usual_end=100)
SUMMER_RAIN = RainFacts(RainState.AWAITED, usual_start=145, usual_end=290)
JULY = date(2015, 7, 2)
INCH_MM = 25.4


def codes(time):
    return [span.code for span in time.spans]


# Climates of sources/husbandry 4.5: extension pages on the time of planting


def test_in_dry_summers_a_hardy_pot_waits_for_autumn_and_may_wait_for_spring():
    time = time_of(APPLE, JULY, rains=WINTER_RAIN)
    assert (time.verdict, time.current) == (Verdict.WAIT, None)
    assert time.next == time.spans[0]
    assert time.next.code == "planting_autumn_of_dry_summer"
    assert time.next.window.start == date(2015, 10, 10)
    # Extension pages plant bare trees from pots from autumn to early spring.
    assert codes(time) == [
        *["planting_autumn_of_dry_summer"] * 2,
        *[IN_WINTER] * 2,
        "planting_hardy_in_spring",
    ]
    winter = next(span for span in time.spans if span.code == IN_WINTER)
    assert (winter.window.start, winter.window.end) == (
        date(2015, 12, 25),
        date(2016, 2, 29),
    )
    # Evergreens are not planted in the middle of winter.
    assert IN_WINTER not in codes(time_of(OLIVE, JULY, rains=WINTER_RAIN))

    # Rains that come at the end of December leave no days between.
    late = RainFacts(RainState.AWAITED, usual_start=354, usual_end=100)
    assert IN_WINTER not in codes(time_of(APPLE, JULY, rains=late))


def test_in_a_time_that_is_not_the_best_both_are_told():
    time = time_of(APPLE, date(2015, 4, 10), rains=WINTER_RAIN)
    assert time.verdict is Verdict.NOW
    assert time.current.code == "planting_hardy_in_spring"
    assert time.better.code == "planting_autumn_of_dry_summer"
    best = time_of(APPLE, date(2015, 10, 20), rains=WINTER_RAIN)
    assert best.verdict is Verdict.NOW
    assert best.better is None
    assert best.current.best_on == date(2015, 10, 20)
    assert best.holds(date(2016, 1, 10)).code == IN_WINTER
    assert best.holds(date(2016, 8, 1)) is None


def test_where_winter_is_long_spring_is_the_only_time():
    time = time_of(APPLE, JULY, SHORT, place(zone=5), rains=WINTER_RAIN)
    assert codes(time) == ["planting_hardy_in_spring"]
    assert time.next.window.start == date(2016, 4, 7)
    bare = time_of(APPLE, JULY, SHORT, place(zone=5), stock=Stock.BARE_ROOT)
    assert set(codes(bare)) == {"planting_bare_root_in_spring"}


def test_bare_roots_wait_for_dormancy_in_pots_too():
    for in_pot in ({}, {"in_container": True, "container_litres": 60.0}):
        time = time_of(
            APPLE, JULY, year=place(SEATTLE_YEAR), stock=Stock.BARE_ROOT, **in_pot
        )
        assert set(codes(time)) == {"planting_bare_root_in_dormancy"}
        assert time.verdict is Verdict.WAIT


def test_tender_trees_wait_until_one_year_in_ten_has_a_later_frost():
    # Day numbers of the last frosts of ten springs: NOAA's P10 of a normal fit is day
    # 110.2 (test_frost_dates), and one of the ten came later.
    last = [95, 101, 88, 110, 99, 104, 92, 97, 115, 90]
    spring = [date(2001, 1, 1) + timedelta(days=number - 1) for number in last]
    years = tuple(
        FrostYear(
            year,
            day.replace(year=year),
            None,
            is_spring_known=True,
            is_autumn_known=True,
        )
        for year, day in zip(range(2001, 2011), spring, strict=True)
    )
    safe = frost_dates(years, 0.1, southern=False).last_spring
    site = replace(MILD, safe_last_frost=safe)
    time = time_of(ORANGE, date(2015, 1, 10), site)
    first = time.next.window.start
    assert first == date(2015, 4, 22)
    number = first.timetuple().tm_yday
    assert sum(day >= number for day in last) == 1


def test_the_hot_weeks_of_the_record_end_a_time_not_the_calendar():
    usual = hottest_from(SEATTLE_YEAR.tmin_c, SEATTLE_YEAR.tmax_c)
    assert usual.month == 7
    hot = replace(MILD, hottest_from=usual)
    end = time_of(ORANGE, date(2015, 4, 1), hot).current.window.end
    assert end == usual.in_year(2015) - timedelta(days=28)
    early = replace(MILD, hottest_from=MonthDay(5, 25))
    assert time_of(ORANGE, date(2015, 4, 1), early).current.window.end == date(
        2015, 4, 27
    )


def test_without_frost_tropical_fruit_goes_in_before_the_rains_or_with_them():
    # UF/IFAS (Crane): spring and summer, the warm and wet half of the year
    time = time_of(MANGO, date(2015, 1, 10), WARM, rains=SUMMER_RAIN)
    assert codes(time)[0] == "planting_before_rains"
    assert time.spans[0].window.end == date(2015, 5, 25)
    always = time_of(MANGO, JULY, WARM)
    assert codes(always) == ["planting_at_any_time"]
    assert always.verdict is Verdict.NOW
    assert always.current.window.end > JULY + timedelta(days=AHEAD_DAYS - 366)
    assert always.current.months_left is None


# Pots


def test_a_tender_pot_waits_for_warm_nights_and_an_impossible_one_stays_in():
    pot = {"in_container": True, "container_litres": 50.0}
    lemon = orange(move_in_temp_c=4.0)
    winter = time_of(lemon, date(2015, 1, 10), year=place(SEATTLE_YEAR), **pot)
    assert winter.verdict is Verdict.WAIT
    assert winter.next.code == "planting_pot_after_cold_nights"
    summer = time_of(lemon, JULY, year=place(SEATTLE_YEAR), **pot)
    assert summer.verdict is Verdict.NOW
    assert summer.current.window.end.month in (10, 11)
    hardy = time_of(APPLE, JULY, year=place(SEATTLE_YEAR), **pot)
    assert hardy.current.code == "planting_pot_in_mild_weather"
    cacao = orange(move_in_temp_c=15.0)
    never = time_of(cacao, JULY, year=place(SEATTLE_YEAR), **pot)
    assert (never.verdict, never.why_never) == (Verdict.NEVER, "nights_too_cold")
    assert never.next is None
    warm = time_of(lemon, JULY, WARM, place(climate(23.0, 2.0)), **pot)
    assert codes(warm) == ["planting_at_any_time"]
    # Without any weather the frosts alone tell.
    blind = time_of(lemon, JULY, year=place(), **pot)
    assert codes(blind) == ["planting_tender_after_frost"]
    assert blind.spans[0].months_left is None


# Never, and too late


@pytest.mark.parametrize(
    ("coldest_c", "verdict"),
    # An orange bears -3.3; covers help by some degrees (from memory).
    [(-6.2, Verdict.WAIT), (-6.4, Verdict.NEVER), (None, Verdict.WAIT)],
)
def test_what_no_cover_saves_is_never_planted_out(coldest_c, verdict):
    time = time_of(ORANGE, JULY, year=place(coldest_c=coldest_c))
    assert time.verdict is verdict
    assert (time.why_never == "too_cold_in_ground") is (verdict is Verdict.NEVER)
    unknown = replace(ORANGE, damage_temp_mature_c=None)
    cold = place(SEATTLE_YEAR, -40.0)
    assert time_of(unknown, JULY, year=cold).verdict is Verdict.WAIT
    pot = time_of(ORANGE, JULY, year=cold, in_container=True, container_litres=50.0)
    assert pot.verdict is Verdict.NOW


def test_months_of_growth_are_held_against_those_a_trunk_needs():
    # Florida's specification: four months an inch in zone 8. From 1 April to the first
    # frost of 10 November are 223 days.
    time = time_of(ORANGE, date(2015, 4, 1), caliper_mm=INCH_MM)
    assert time.current.months_needed == pytest.approx((4.0, 4.0))
    assert time.current.months_left == pytest.approx(223 / 30.4375)
    assert not time.current.is_short
    # UF/IFAS: a one-inch tree of zone 5 takes its season of twelve months.
    cold = time_of(APPLE, JULY, SHORT, place(zone=5), caliper_mm=INCH_MM)
    assert cold.next.is_short
    assert cold.next.months_needed == pytest.approx((12.0, 12.0))
    # One frost in ten comes before the usual one.
    safe = replace(MILD, safe_first_frost=MonthDay(10, 20))
    sooner = time_of(ORANGE, date(2015, 4, 1), safe, caliper_mm=INCH_MM)
    assert sooner.current.months_left == pytest.approx(202 / 30.4375)


def test_late_in_its_time_a_thick_trunk_is_better_off_next_year():
    late = time_of(ORANGE, date(2015, 6, 14), caliper_mm=1.6 * INCH_MM)
    assert late.verdict is Verdict.NOW
    assert late.current.is_short
    assert late.better.window.start == date(2016, 3, 21)
    assert late.spans[0] == late.better


def test_trees_that_go_in_dormant_count_from_the_growth_that_follows():
    time = time_of(APPLE, date(2015, 10, 20), rains=WINTER_RAIN, caliper_mm=INCH_MM)
    assert time.current.grows_from == date(2016, 3, 1)
    assert time.current.grows_until == date(2016, 11, 10)
    stages = (StageDay(Stage.LEAF_DROP, 2016, date(2016, 10, 1), "heat"),)
    known = time_of(APPLE, date(2015, 10, 20), rains=WINTER_RAIN, stages=stages)
    assert known.current.grows_until == date(2016, 10, 1)


def test_where_nothing_ends_the_season_no_months_are_told():
    endless = replace(MILD, first_frost=None)
    time = time_of(ORANGE, date(2015, 4, 1), endless)
    assert time.current.months_left is None
    assert not time.current.is_short
    # Leaves that fell already leave no season to speak of.
    stages = (StageDay(Stage.LEAF_DROP, 2015, date(2015, 5, 1), "seen"),)
    odd = time_of(APPLE, date(2015, 5, 20), stages=stages)
    assert odd.holds(date(2015, 5, 20)).months_left is None


# Laws


SITES = [MILD, SHORT, WARM, replace(MILD, hottest_from=MonthDay(7, 9))]
POT = {"in_container": True, "container_litres": 50.0}
WAYS = [
    *({"stock": stock} for stock in Stock),
    {"stock": Stock.CONTAINER_GROWN, **POT},
]


@settings(max_examples=80)
@given(
    st.sampled_from([APPLE, ORANGE, OLIVE, MANGO]),
    st.sampled_from(WAYS),
    st.sampled_from(SITES),
    st.sampled_from([None, WINTER_RAIN, SUMMER_RAIN]),
    st.dates(date(2023, 11, 1), date(2025, 3, 15)) | st.just(date(2024, 2, 29)),
)
def test_waiting_as_long_as_told_is_long_enough(kind, way, site, rains, today):
    year = place(SEATTLE_YEAR)
    time = time_of(kind, today, site, year, rains=rains, **way)
    assert (time.current is not None) is (time.verdict is Verdict.NOW)
    for span in time.spans:
        assert today <= span.best_on <= span.window.end
        assert span.window.start <= today + timedelta(days=AHEAD_DAYS)
    if time.verdict is not Verdict.WAIT:
        return
    then = time.next.best_on
    assert time_of(kind, then, site, year, rains=rains, **way).verdict is Verdict.NOW
    eve = then - timedelta(days=1)
    assert time_of(kind, eve, site, year, rains=rains, **way).verdict is Verdict.WAIT


def half_a_year_on(day):
    return None if day is None else (day + 181) % 365 or 365


def opposite(site):
    def later(month_day):
        if month_day is None:
            return None
        day = month_day.in_year(2001) + timedelta(days=182)
        return MonthDay(day.month, day.day)

    if site.is_frost_free:
        return WARM_SOUTH
    return replace(
        site,
        latitude_deg=-site.latitude_deg,
        last_frost=later(site.last_frost),
        first_frost=later(site.first_frost),
        hottest_from=later(site.hottest_from),
    )


def rolled(year):
    return replace(
        year,
        tmin_c=np.roll(year.tmin_c, 183),
        tmax_c=np.roll(year.tmax_c, 183),
        departure_sd_c=np.roll(year.departure_sd_c, 183),
    )


@settings(max_examples=80)
@given(
    st.sampled_from([APPLE, ORANGE, OLIVE, MANGO]),
    st.sampled_from(WAYS),
    st.sampled_from(SITES),
    st.sampled_from([None, WINTER_RAIN, SUMMER_RAIN]),
    st.dates(date(2015, 1, 1), date(2016, 12, 31)),
)
def test_south_of_the_equator_every_time_is_half_a_year_on(
    kind, way, site, rains, today
):
    other = rains and replace(
        rains,
        usual_start=half_a_year_on(rains.usual_start),
        usual_end=half_a_year_on(rains.usual_end),
    )
    north = time_of(kind, today, site, place(SEATTLE_YEAR), rains=rains, **way)
    south = time_of(
        kind,
        today + timedelta(days=182),
        opposite(site),
        place(rolled(SEATTLE_YEAR)),
        rains=other,
        **way,
    )
    for span in north.spans:
        # What is about to end or to come into sight may fall on either side.
        ends_soon = (span.window.end - today).days < 10
        is_far = (span.window.start - today).days > AHEAD_DAYS - 10
        if ends_soon or is_far or span.code == "planting_at_any_time":
            continue
        assert any(
            mirrored.code == span.code
            and abs((mirrored.window.start - span.window.start).days - 182) <= 8
            and abs((mirrored.window.end - span.window.end).days - 182) <= 8
            for mirrored in south.spans
        ), (span, codes(south))
