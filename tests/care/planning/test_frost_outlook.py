"""Frost dates of a site's own record, and what plans take of them."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from care.facts import ColdPocket, MonthDay, SiteFacts, WeatherSeries
from care.planning.frost_outlook import (
    freeze_notices,
    frost_outlook,
    with_record_dates,
)
from care.science.feeding_windows import feeding_stop
from care.science.frost import Freeze
from care.science.pruning_windows import pruning_windows
from care.science.season import growth_start, last_frost_in
from tests.care.rules.cases import MILD, morning, orange, tree
from tests.care.science.reference import SeattleRecord
from tests.care.science.test_frost_dates import FIRST, LAST

SEATTLE = SeattleRecord()
BARE = SiteFacts(latitude_deg=47.45, elevation_m=120.0, soil_texture="loam")
SOUTH = replace(BARE, latitude_deg=-47.45)
TODAY = date(2012, 1, 1)


def nth_day(first, number):
    """The day of a number that counts no 29 February."""
    common = date(2001, first.month, 1) + timedelta(days=number - 1)
    later = common.year - 2001
    return MonthDay(common.month, common.day).in_year(first.year + later)


def record(*, southern=False, frosts=True, years=10, origin="o"):
    """The ten worked years of last and first frosts, day by day."""
    start = date(2001, 7 if southern else 1, 1)
    end = date(start.year + years, start.month, 1)
    tmin = np.full((end - start).days, 5.0)
    for year in range(years if frosts else 0):
        first = date(start.year + year, start.month, 1)
        for number in (LAST[year], FIRST[year]):
            on = nth_day(first, int(number))
            tmin[(on - start).days] = -1.0
    return WeatherSeries(
        start, tmin, tmin + 10, np.zeros(len(tmin)), origin * len(tmin)
    )


def test_ten_years_tell_probabilities():
    found = frost_outlook(record(), BARE, TODAY)
    freeze = found.freeze
    # Worked: last frost mean 99.10, P10 110.21; first frost mean 301.70, P10 289.92, days
    # of the year rounded to the safe side
    assert freeze.is_told
    assert freeze.usual.last_spring == MonthDay(4, 10)
    assert freeze.safe.last_spring == MonthDay(4, 21)
    assert freeze.usual.first_autumn == MonthDay(10, 28)
    assert freeze.safe.first_autumn == MonthDay(10, 16)
    # Season lengths 204 209 206 177 205 213 199 203 182 218: mean 201.6 days
    assert freeze.usual.season_days == pytest.approx(201.6, abs=0.2)
    assert [each.word for each in found.dates] == [
        Freeze.FROST,
        Freeze.FREEZE,
        Freeze.HARD_FREEZE,
    ]
    hard = found.dates[2]
    assert (hard.is_told, hard.was_seen, hard.usual.last_spring) == (True, False, None)


def test_four_years_of_seattle_tell_extremes_and_an_indicative_zone():
    letters = "o" * len(SEATTLE.tmin_c)
    series = WeatherSeries(
        SEATTLE.start, SEATTLE.tmin_c, SEATTLE.tmax_c, SEATTLE.rain_mm, letters
    )
    found = frost_outlook(series, BARE, date(2016, 1, 1))
    assert (found.freeze.is_told, found.freeze.years) == (False, 4)
    # Seattle: last frosts 19, 4 March, 9 February, 4 March; first from 10 November on
    assert found.freeze.usual.latest_spring_seen == MonthDay(3, 19)
    assert found.freeze.usual.earliest_autumn_seen == MonthDay(11, 10)
    # Whole winters -7.1, -6.0 and one more: USDA 2023 has 9a with pockets of 8b
    assert found.zone.zone in ("9a", "8b")
    assert (found.zone.years, found.zone.is_indicative) == (3, True)
    # Days above 30 degC: 8, 12, 14 and 19 a year
    assert (found.hot.days_a_year, found.hot.zone) == (13.25, 3)
    assert with_record_dates(BARE, series, date(2016, 1, 1)) == BARE


def test_plans_take_usual_and_safe_dates_where_nobody_typed_any():
    site = with_record_dates(BARE, record(), TODAY)
    assert (site.last_frost, site.first_frost) == (MonthDay(4, 10), MonthDay(10, 28))
    assert (site.safe_last_frost, site.safe_first_frost) == (
        MonthDay(4, 21),
        MonthDay(10, 16),
    )
    assert site.frost_record_years == 10
    assert last_frost_in(2012, site.on_the_safe_side) == date(2012, 4, 21)
    assert growth_start(2012, orange(), site) == date(2012, 4, 10)


def test_what_a_person_typed_stands():
    assert with_record_dates(MILD, record(), TODAY) == MILD
    assert MILD.on_the_safe_side == MILD
    half = replace(BARE, last_frost=MonthDay(5, 1))
    site = with_record_dates(half, record(), TODAY)
    assert (site.last_frost, site.safe_last_frost) == (MonthDay(5, 1), None)
    assert site.on_the_safe_side.last_frost == MonthDay(5, 1)
    assert (site.first_frost, site.safe_first_frost) == (
        MonthDay(10, 28),
        MonthDay(10, 16),
    )
    other = replace(BARE, first_frost=MonthDay(9, 1))
    site = with_record_dates(other, record(), TODAY)
    assert (site.first_frost, site.last_frost) == (MonthDay(9, 1), MonthDay(4, 10))
    free = replace(BARE, is_frost_free=True)
    assert with_record_dates(free, record(), TODAY) == free


def test_ten_years_without_a_frost_are_a_frost_free_place():
    site = with_record_dates(BARE, record(frosts=False), TODAY)
    assert (site.is_frost_free, site.last_frost, site.first_frost) == (True, None, None)
    typed = replace(BARE, last_frost=MonthDay(2, 1))
    assert not with_record_dates(typed, record(frosts=False), TODAY).is_frost_free


def test_seasons_mirror_in_the_south():
    site = with_record_dates(SOUTH, record(southern=True), date(2012, 7, 1))
    # Day 100, 111, 301 and 289 of a year that begins on 1 July
    assert (site.last_frost, site.first_frost) == (MonthDay(10, 8), MonthDay(4, 27))
    assert site.safe_last_frost == MonthDay(10, 19)
    assert site.safe_first_frost == MonthDay(4, 15)


def test_nights_of_frost_ahead_in_the_words_of_a_weather_service():
    # National Weather Service: warning up to 36 hours ahead, watch up to 48
    lows = np.array([-3.0, -1.0, -3.0, 1.5, 9.0, 1.5])
    wind = np.array([1.0, np.nan, 1.0, 1.0, 1.0, 9.0])
    series = replace(
        WeatherSeries(TODAY, lows, lows + 9, np.zeros(6), "f" * 6), wind_ms=wind
    )
    found = freeze_notices(series, BARE, TODAY)
    days = [(each.night.day - TODAY).days for each in found]
    assert days == [1, 2, 3, 5]
    assert [each.word.value for each in found] == [
        "freeze",
        "hard_freeze",
        "frost",
        "frost",
    ]
    assert [each.notice for each in found] == [
        "freeze_warning",
        "freeze_watch",
        "none",
        "none",
    ]
    calm = replace(series, tmin_c=np.full(6, 1.5), wind_ms=None)
    assert freeze_notices(calm, BARE, TODAY)[0].notice == "frost_advisory"
    windy = replace(series, tmin_c=np.full(6, 1.5), wind_ms=np.full(6, 9.0))
    assert freeze_notices(windy, BARE, TODAY)[0].notice == "none"
    sunk = replace(BARE, cold_pocket=ColdPocket(2.0, 7))
    assert freeze_notices(calm, sunk, TODAY)[0].word is Freeze.FREEZE


@pytest.mark.parametrize(
    ("series", "today"),
    [
        (None, TODAY),
        (record(years=9), TODAY),
        (record(origin="n"), TODAY),
        (record(origin="f"), TODAY),
        (record(), date(2010, 6, 1)),  # the tenth year was not over then
        (record(), date(2000, 6, 1)),
    ],
)
def test_less_than_ten_observed_years_leave_the_site_as_it_is(series, today):
    assert with_record_dates(BARE, series, today) == BARE


def test_feeding_stops_and_tender_cuts_wait_by_the_safe_dates():
    usual = replace(
        MILD, safe_last_frost=MonthDay(4, 10), safe_first_frost=MonthDay(10, 1)
    )
    # Eight weeks before the first frost: 10 November, or 1 October one year in ten
    assert feeding_stop(2014, orange(), MILD) == date(2014, 9, 15)
    assert feeding_stop(2014, orange(), usual) == date(2014, 8, 6)
    january = date(2014, 1, 10)
    for site, start in ((MILD, date(2014, 3, 21)), (usual, date(2014, 4, 11))):
        (window,) = pruning_windows(morning(january, tree(orange()), site), 2014)
        assert window.start == start
