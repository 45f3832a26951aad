"""What is usual at a place, from typed months, a record, or a little of both."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from care.facts import WeatherSeries
from care.science.usual_climate import mean_around, slots_of, usual_climate
from care.science.weather_generator import usual_wet_share
from tests.care.planning.water_cases import FIRST, normals, record, usual, weather

TODAY = date(2015, 12, 30)


def seattle_record():
    """Return the four years and nothing else."""
    columns = record()
    return WeatherSeries(FIRST, *columns, "o" * len(columns[0]))


def test_every_day_has_its_place_in_a_leap_year():
    series = weather(date(2013, 7, 1), start=date(2011, 12, 30), days_ahead=1)
    for place, slot in enumerate(slots_of(series)):
        day = series.start + timedelta(days=place)
        leap = date(2000, day.month, day.day)
        assert slot == (leap - date(2000, 1, 1)).days


def test_the_mean_about_a_date_wraps_round_the_year():
    values = np.array([2.0, np.nan, 4.0, 9.0])
    slots = np.array([364, 365, 1, 200])
    means = mean_around(values, slots, 2)
    assert means[365] == means[0] == 3.0
    assert means[364] == 2.0
    assert means[200] == 9.0
    assert means[100] == 5.0  # nothing about it: the mean of all


def test_typed_months_alone_tell_the_means_and_lean_on_other_places_else():
    climate = usual_climate(normals(date(2014, 7, 1)))
    tmin_c, tmax_c, rain_mm = usual()
    may = date(2014, 5, 20)
    slot, place = (date(2000, 5, 20) - date(2000, 1, 1)).days, (may - FIRST).days % 365
    assert climate.tmin_c[slot] == pytest.approx(tmin_c[place], abs=0.3)
    assert climate.tmax_c[slot] == pytest.approx(tmax_c[place], abs=0.3)
    assert climate.rain_mm[slot] == pytest.approx(rain_mm[place], rel=0.25)
    assert climate.wet_share == pytest.approx(usual_wet_share(climate.rain_mm))
    assert climate.departure_sd_c == pytest.approx(3.0)
    assert climate.persistence == pytest.approx(0.65)
    assert climate.wet_persistence == pytest.approx(0.25)


def test_a_record_tells_how_often_it_rains_and_how_far_days_depart():
    climate = usual_climate(seattle_record())
    january = slice(0, 31)
    # Seattle 2012-2015: 0.53 of January's days are wet and 0.09 of July's; departures
    # of 2.7 C, most in winter; carried over 0.75, rain 0.33. They lean on the defaults.
    assert climate.wet_share[january].mean() == pytest.approx(0.53, abs=0.06)
    july = slice(182, 213)
    assert climate.wet_share[july].mean() == pytest.approx(0.09, abs=0.04)
    assert climate.departure_sd_c.mean() == pytest.approx(2.7, abs=0.15)
    assert climate.departure_sd_c[january].mean() > 2.8
    assert 0.68 < climate.persistence < 0.76
    assert 0.25 < climate.wet_persistence < 0.33
    assert climate.rain_mm.sum() == pytest.approx(1106.5, rel=0.01)


def test_a_month_of_readings_moves_the_typed_months_little():
    today = date(2014, 7, 1)
    series = normals(today)
    place = series.index(today) - 30 + np.arange(30)
    letters = list(series.origin)
    wet, warm = series.rain_mm.copy(), series.tmax_c.copy()
    for day in place:
        letters[day] = "o"
        wet[day], warm[day] = 5.0, warm[day] + 6
    read = replace(series, origin="".join(letters), rain_mm=wet, tmax_c=warm)
    climate, without = usual_climate(read), usual_climate(series)
    june = 166
    assert without.wet_share[june] < climate.wet_share[june] < 0.85
    assert climate.wet_share[20] == without.wet_share[20]
    assert climate.departure_sd_c[june] < 3.1
    assert climate.tmax_c[june] < without.tmax_c[june] + 4


def test_usual_days_are_believed_before_a_mean_of_few_years():
    series = weather(TODAY, days_ahead=100, forecast=0)
    first = series.index(TODAY)
    told = replace(
        series,
        tmin_c=np.where(np.arange(len(series)) < first, series.tmin_c, -5.0),
        tmax_c=np.where(np.arange(len(series)) < first, series.tmax_c, 1.0),
    )
    climate = usual_climate(told)
    slot = int(slots_of(told)[first + 20])
    assert climate.tmin_c[slot] == -5.0
    assert climate.tmax_c[slot] == 1.0


def test_rain_nobody_knows_is_none_and_forecasts_are_no_climate():
    series = normals(TODAY)
    dry = usual_climate(replace(series, rain_mm=np.full(len(series), np.nan)))
    assert not dry.rain_mm.any()
    assert not dry.wet_share.any()
    assert usual_climate(replace(series, origin="f" * len(series))) is None


def test_a_series_without_a_leap_year_guesses_its_leap_day():
    series = normals(date(2015, 6, 1), days_ahead=60)
    assert series.start > date(2014, 3, 1)
    climate = usual_climate(series)
    assert climate.tmin_c[59] == pytest.approx(
        (climate.tmin_c[58] + climate.tmin_c[60]) / 2
    )
