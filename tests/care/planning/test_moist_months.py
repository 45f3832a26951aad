"""Moist periods of a place by its usual rain and demand, and the soil's store."""

from dataclasses import replace
from datetime import date

import numpy as np

from care.facts import SiteFacts, WeatherSeries
from care.planning.moist_months import moist_months
from care.science.rain_normals import MONTH_DAYS
from tests.care.science.reference import SeattleRecord

# The worked monsoon of tests/care/science/test_rain_normals.py: half of the demand is
# covered from day 109.22 to day 310.28
RAIN = (5, 8, 20, 60, 140, 160, 120, 130, 150, 110, 40, 10)
ET0 = (120, 125, 150, 145, 135, 120, 115, 118, 120, 125, 115, 112)
MONSOON = SiteFacts(14.5, 10.0, "loam")


def by_day(monthly):
    return np.repeat(np.array(monthly) / np.array(MONTH_DAYS), MONTH_DAYS)


def year(rain=RAIN, et0=ET0):
    days = 365
    return WeatherSeries(
        date(2013, 1, 1),
        np.full(days, 24.0),
        np.full(days, 31.0),
        by_day(rain),
        "o" * days,
        et0_mm=by_day(et0),
    )


def test_the_worked_monsoon_and_its_stored_water():
    (found,) = moist_months(MONSOON, year())
    assert (found.begin, found.end) == (date(2001, 4, 20), date(2001, 11, 7))
    # By hand: 5, 40, 5, 12 and 30 mm are left over from May to September, October takes
    # 15 of these 92, and the other 77 last 31 days at November's 2.5 mm a day
    assert found.stored_until == date(2001, 12, 1)


def test_a_store_used_up_in_a_lull_of_the_rains_fills_again():
    lull = (5, 8, 20, 60, 180, 160, 60, 60, 190, 160, 40, 10)
    (found,) = moist_months(MONSOON, year(rain=lull))
    assert found.begin.month == 4
    assert found.stored_until > date(2001, 11, 7)


def test_rain_that_never_fills_the_soil_leaves_no_store():
    meagre = tuple(0.55 * mm for mm in ET0[:6]) + (0.0,) * 6
    (found,) = moist_months(MONSOON, year(rain=meagre))
    assert found.stored_until is None


def test_places_always_moist_or_dry_have_no_period():
    assert moist_months(MONSOON, year(rain=ET0)) == ()
    assert moist_months(MONSOON, year(rain=(1,) * 12)) == ()


def test_less_than_every_month_tells_nothing():
    part = year()
    short = replace(
        part,
        tmin_c=part.tmin_c[:200],
        tmax_c=part.tmax_c[:200],
        rain_mm=part.rain_mm[:200],
        origin=part.origin[:200],
        et0_mm=part.et0_mm[:200],
    )
    assert moist_months(MONSOON, short) == ()


def test_seattles_rain_falls_short_in_summer():
    record = SeattleRecord()
    series = WeatherSeries(
        record.start,
        record.tmin_c,
        record.tmax_c,
        record.rain_mm,
        "o" * len(record.rain_mm),
    )
    (found,) = moist_months(SiteFacts(47.45, 120.0, "sandy_loam"), series)
    assert found.begin.month in (8, 9)
    assert found.end.month in (4, 5)
    assert found.stored_until > found.end
