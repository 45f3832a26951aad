"""Mistakes that plans for water make in practice, and that this one does not."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from care.facts import Observation, Place, StandingIrrigation, Stay, WeatherSeries
from care.planning.simulate import simulate_water
from care.rules.watering import propose
from tests.care.planning.water_cases import (
    CLAY,
    SITE,
    new_apple,
    old_apple,
    pot,
    steady,
    watered,
    weather,
)
from tests.care.rules.cases import morning

JULY = date(2014, 7, 10)
DAY = timedelta(days=1)
ALL = [old_apple(), new_apple(), pot()]


def outlook_of(tree, today=JULY, *, site=SITE, series=None, work=(), seen=(), ahead=60):
    series = series or weather(today)
    return simulate_water(site, [tree], series, work, seen, today, ahead)[tree.id]


def proposed(tree, today=JULY, *, site=SITE, work=(), seen=(), series=None):
    series = series or weather(today)
    water = outlook_of(tree, today, site=site, work=work, seen=seen, series=series)
    given = {"water": water, "weather": series, "work": work, "observations": seen}
    return propose(morning(today, tree, site, **given))


def test_water_that_nobody_ticks_is_asked_for_and_not_nagged_about():
    # A week without a word: the range widens and the soil is to be felt first.
    late = outlook_of(old_apple())
    told = outlook_of(
        old_apple(), seen=[Observation(1, "soil_feel", JULY, word="right")]
    )
    assert late.unknown_water_days > 7
    assert late.latest_in_days > told.latest_in_days
    task = proposed(old_apple())[0]
    assert "feel_soil_first" in task.cautions
    assert not task.is_urgent


def test_a_timer_waters_by_itself_and_its_litres_are_counted():
    timer = StandingIrrigation(litres=60.0, weekdays=frozenset(range(7)))
    tree = old_apple(standing_irrigation=timer)
    assert not any(task.is_firm for task in proposed(tree))
    assert outlook_of(tree).unknown_water_days == 0


@settings(max_examples=40, deadline=None)
@given(
    st.sampled_from(ALL),
    st.integers(0, 12),
    st.floats(0.0, 40.0),
    st.sampled_from([date(2014, 4, 20), date(2014, 6, 1), JULY, date(2014, 9, 20)]),
)
def test_nobody_is_called_before_half_of_the_easy_water_is_used(
    tree, days_ago, litres, today
):
    work = [watered(tree, today - timedelta(days=days_ago), litres)]
    water = outlook_of(tree, today, work=work, ahead=30)
    if water.spare_l > 0.5 * water.readily_available_l + 1e-9:
        assert water.earliest_in_days != 0
        assert water.due_in_days != 0
    if water.due_in_days is not None:
        assert water.earliest_in_days <= water.due_in_days


def test_a_round_never_pulls_a_watering_before_that_day():
    work = [watered(old_apple(), JULY - 5 * DAY)]
    water = outlook_of(old_apple(), work=work)
    task = next(task for task in proposed(old_apple(), work=work) if task.key == "next")
    assert task.earliest == JULY + timedelta(days=water.earliest_in_days)
    assert water.earliest_in_days > 0


@pytest.mark.parametrize("site", [CLAY, replace(SITE, soil_texture="silty_clay")])
def test_too_wet_is_as_bad_as_too_dry_on_slow_soil(site):
    march = date(2014, 3, 10)  # after 130 mm in a week
    assert outlook_of(old_apple(), march, site=site).is_saturated
    assert not any(t.is_firm for t in proposed(old_apple(), march, site=site))


def test_a_full_root_ball_on_clay_is_skipped():
    spring = date(2014, 4, 18)  # after rain, a fortnight after planting
    work = [watered(new_apple(), spring, 20.0)]
    assert outlook_of(new_apple(), spring, site=CLAY, work=work).is_saturated
    found = proposed(new_apple(), spring, site=CLAY, work=work)
    assert not any(task.due == spring for task in found)
    assert "next/check" not in {task.key for task in found}


def test_a_pot_lives_where_it_stands():
    november = date(2014, 11, 28)
    heated = pot(stays=(Stay(Place.INDOORS_HEATED, date(2014, 11, 1)),))
    roofed = pot(stays=(Stay(Place.UNDER_COVER, date(2014, 11, 1)),))
    open_air = outlook_of(pot(), november)
    assert outlook_of(heated, november).rain_last_week_l == 0
    assert outlook_of(roofed, november).rain_last_week_l == 0
    assert open_air.rain_last_week_l > 0
    july = outlook_of(pot(stays=(Stay(Place.INDOORS_HEATED, date(2014, 5, 1)),)))
    assert july.use_l < 0.4 * outlook_of(pot()).use_l


def test_rain_counts_in_the_litres_that_reach_a_pot_or_a_ball():
    dry = steady(JULY, start=JULY - timedelta(days=60))
    rain = dry.rain_mm.copy()
    rain[dry.index(JULY) - 1] = 10.0
    wet = replace(dry, rain_mm=rain)
    # A 55 L pot is 43 cm wide; a wider crown sheds half of 10 mm on 0.149 m2.
    assert outlook_of(pot(), series=wet).rain_last_week_l == pytest.approx(
        0.74, abs=0.01
    )
    ball = outlook_of(new_apple(planted_on=JULY - 7 * DAY), series=wet)
    assert ball.rain_last_week_l < 1.0
    assert outlook_of(old_apple(), series=wet).rain_last_week_l > 25


def test_two_trees_in_one_hole_drink_from_one_root_zone():
    pair = [old_apple(id=4, clump_id=7), old_apple(id=5, clump_id=7)]
    both = simulate_water(SITE, pair, weather(JULY), [], [], JULY)
    alone = outlook_of(old_apple(id=4))
    assert both[4].water_gross_l + both[5].water_gross_l == pytest.approx(
        alone.water_gross_l
    )
    assert both[4].use_l + both[5].use_l == pytest.approx(alone.use_l)


def with_wind_for(days, wind_ms=3.0):
    """Return the record with humidity, wind and sun on its last days."""
    series = weather(JULY)
    here = np.full(len(series), np.nan)
    here[series.index(JULY) - days : series.index(JULY)] = 1.0
    return WeatherSeries(
        series.start,
        series.tmin_c,
        series.tmax_c,
        series.rain_mm,
        series.origin,
        humidity_percent=45.0 * here,
        wind_ms=wind_ms * here,
        radiation_mj=25.0 * here,
    )


def test_demand_from_temperature_alone_is_flagged_and_held_to_measured_days():
    plain = outlook_of(old_apple())
    assert plain.et0_method == "hargreaves"
    assert "hargreaves_may_run_low" in plain.notes
    windy = with_wind_for(60, wind_ms=6.0)
    assert outlook_of(old_apple(), series=windy).et0_mm > 1.1 * plain.et0_mm
    given = replace(windy, et0_mm=np.full(len(windy), 5.0))
    sure = outlook_of(old_apple(), series=given)
    assert sure.et0_method == "given"
    assert "hargreaves_may_run_low" not in sure.notes


def test_salty_water_raises_what_runs_out_of_pots_and_warns():
    salty = replace(SITE, is_water_salty=True)
    plain, more = (proposed(pot(), site=site)[0] for site in (SITE, salty))
    assert more.amount > plain.amount
    assert "salty_water" in more.cautions
    assert "salty_water" not in plain.cautions


def mirrored(day_shift):
    """Return even weather, so that only sun and leaf tell the hemispheres apart."""
    start = JULY - timedelta(days=400)
    return steady(JULY + timedelta(days=day_shift), start=start, days_ahead=60)


def test_the_leafs_year_is_mirrored_by_half_a_year_but_litres_are_not():
    january = date(2015, 1, 8)  # half a year, 182 days, after 10 July
    south = replace(SITE, latitude_deg=-SITE.latitude_deg)
    north_july = outlook_of(old_apple(), series=mirrored(0))
    south_january = outlook_of(
        old_apple(), january, site=south, series=mirrored((january - JULY).days)
    )
    assert south_january.kc == north_july.kc
    # The earth is nearer to the sun in January: FAO-56 Eq. 23, up to 7 % more.
    assert south_january.et0_mm / north_july.et0_mm == pytest.approx(1.06, abs=0.03)
    assert south_january.use_l > 1.03 * north_july.use_l
