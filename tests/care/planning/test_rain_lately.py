"""Recent rain beside the usual: by other years, by months, and where days went unread."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from care.facts import WeatherSeries
from care.planning.rain_lately import rain_lately
from tests.care.science.reference import SeattleRecord

SEATTLE = SeattleRecord()
RECORD = WeatherSeries(
    SEATTLE.start,
    SEATTLE.tmin_c,
    SEATTLE.tmax_c,
    SEATTLE.rain_mm,
    "o" * len(SEATTLE.rain_mm),
)
TODAY = date(2015, 7, 21)


def years(count, this_year_mm, others_mm=3.0):
    """So many years of the same rain each day, then ninety days of another."""
    days = round(365.25 * count)
    rain = np.concatenate([np.full(days, others_mm), np.full(90, this_year_mm)])
    rain[:days:7] += np.arange(len(rain[:days:7])) % 5  # no two years alike
    mild = np.full(len(rain), 15.0)
    series = WeatherSeries(date(1990, 1, 1), mild, mild + 5, rain, "o" * len(rain))
    return series, series.end.fromordinal(series.end.toordinal() + 1)


def test_seattles_dry_spell_of_2015():
    month, quarter = rain_lately(RECORD, TODAY)
    # Reference sum of the thirty days through 20 July: 0.3 mm
    assert month.fell_mm == pytest.approx(0.3)
    assert (month.unread_days, month.years, month.index) == (0, 3, None)
    # Ten days of June and twenty of July, by the means of the four years
    june, july = (
        sum(
            mm
            for day, mm in zip(SEATTLE.days, SEATTLE.rain_mm, strict=True)
            if day.month == number
        )
        / 4
        for number in (6, 7)
    )
    usual = june * 10 / 30 + july * 20 / 31
    assert month.usual_mm == pytest.approx(usual)
    assert month.share == pytest.approx(0.3 / month.usual_mm)
    assert quarter.days == 90
    assert quarter.share < 0.3


def test_twenty_years_give_an_index():
    found = rain_lately(*years(21, 1.0))[1]
    assert (found.years, found.index < -2) == (21, True)
    assert found.usual_mm == pytest.approx(3.2 * 90, rel=0.05)
    assert rain_lately(*years(19, 1.0))[1].index is None


def test_few_years_take_the_months_for_usual():
    few, today = years(3, 0.0)
    many, later = years(12, 0.0)
    # This year's drought is in its own months too, where years are few
    assert rain_lately(few, today)[1].usual_mm < rain_lately(many, later)[1].usual_mm


def test_days_nobody_read_are_told_and_leave_no_index():
    series, today = years(21, 1.0)
    rain = series.rain_mm.copy()
    rain[-9:] = np.nan
    month, quarter = rain_lately(replace(series, rain_mm=rain), today)
    assert (month.unread_days, month.index) == (9, None)
    assert (quarter.unread_days, quarter.index is None) == (9, False)


def test_years_with_gaps_are_not_leant_on():
    series, today = years(2, 1.0)
    rain = series.rain_mm.copy()
    rain[: 365 + 60] = np.nan
    month, quarter = rain_lately(replace(series, rain_mm=rain), today)
    # The same thirty days a year ago were read whole, the ninety not
    assert (month.years, quarter.years) == (1, 0)


def test_rain_that_nobody_measured_tells_nothing():
    assert rain_lately(replace(RECORD, origin="n" * len(RECORD)), TODAY) == ()
    assert rain_lately(RECORD, RECORD.start) == ()


def test_without_every_month_nothing_is_usual():
    short, today = years(0.3, 1.0)
    found = rain_lately(short, today)[0]
    assert (found.usual_mm, found.share) == (None, None)


def test_a_share_of_next_to_nothing_is_not_told():
    dry, today = years(3, 0.0, others_mm=0.0)
    rain = dry.rain_mm * 0.1
    found = rain_lately(replace(dry, rain_mm=rain), today)[0]
    assert found.usual_mm is not None
    assert found.share is None
