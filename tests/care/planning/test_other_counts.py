"""Every published way to count, over the days of a record that were observed."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from care.facts import WeatherSeries
from care.planning.other_counts import CHILL_WAYS, other_counts
from care.planning.warmth import years_warmth
from care.planning.winter import winter_outlook
from tests.care.rules.cases import MILD
from tests.care.science.reference import SeattleRecord

RECORD = SeattleRecord()
SEATTLE = WeatherSeries(
    RECORD.start, RECORD.tmin_c, RECORD.tmax_c, RECORD.rain_mm, "o" * len(RECORD.days)
)
SOUTH = replace(MILD, latitude_deg=-MILD.latitude_deg)
JUNE = date(2014, 6, 1)


def test_what_the_plan_counts_too_comes_out_the_same():
    found = other_counts(SEATTLE, MILD, JUNE)
    winter = winter_outlook(SEATTLE, MILD, JUNE).latest
    assert (found.winter_since, found.winter_days) == (winter.first, winter.days)
    low, high = found.chill["hours_between"]
    assert (low, high) == (
        pytest.approx(winter.chill.hours_low),
        pytest.approx(winter.chill.hours_high),
    )
    portions = found.chill["portions"]
    assert portions[0] == pytest.approx(winter.chill.portions_low, abs=0.01)
    warmth = years_warmth(SEATTLE, JUNE, southern=False)
    assert found.year_since == warmth.since
    assert found.degree_days["single_sine", None] == pytest.approx(warmth.degree_days)


def test_the_ways_stand_in_their_order():
    found = other_counts(SEATTLE, MILD, date(2014, 9, 1))
    assert set(found.chill) == set(CHILL_WAYS)
    for end in (0, 1):
        chill = {way: span[end] for way, span in found.chill.items()}
        assert chill["hours_below"] >= chill["hours_between"]
        assert chill["positive_utah"] >= chill["utah"]
    days = found.degree_days
    # The mean misses warm hours of cool days; a cut-off takes from hot ones.
    assert days["average", None] <= days["single_sine", None]
    assert days["single_sine", 30.0] <= days["single_sine", None]
    assert days["modified", 30.0] >= days["average", None] - 60
    low, high = found.degree_hours
    assert 0 < low <= high


def test_days_that_nobody_observed_are_in_no_sum():
    letters = np.array(list(SEATTLE.origin))
    letters[SEATTLE.index(date(2014, 1, 1)) : SEATTLE.index(date(2014, 2, 1))] = "n"
    patchy = replace(SEATTLE, origin="".join(letters))
    whole, found = (other_counts(one, MILD, JUNE) for one in (SEATTLE, patchy))
    assert whole.winter_days - found.winter_days == 31
    assert whole.year_days - found.year_days == 31
    assert found.chill["hours_below"] < whole.chill["hours_below"]
    unseen = replace(SEATTLE, origin="n" * len(letters))
    assert other_counts(unseen, MILD, JUNE) is None


def test_a_day_typed_upside_down_is_left_out():
    tmin = SEATTLE.tmin_c.copy()
    tmin[SEATTLE.index(date(2014, 1, 10))] = 60.0
    found = other_counts(replace(SEATTLE, tmin_c=tmin), MILD, JUNE)
    whole = other_counts(SEATTLE, MILD, JUNE)
    assert found.winter_days == whole.winter_days - 1


def test_before_the_years_middle_warmth_counts_from_the_one_before():
    found = other_counts(SEATTLE, MILD, date(2014, 12, 1))
    assert (found.winter_since, found.year_since) == (
        date(2014, 11, 1),
        date(2014, 1, 1),
    )
    assert other_counts(SEATTLE, MILD, date(2014, 11, 1)) is None


def test_a_southern_year_begins_in_july():
    found = other_counts(SEATTLE, SOUTH, date(2014, 9, 1))
    assert (found.winter_since, found.year_since) == (
        date(2014, 5, 1),
        date(2014, 7, 1),
    )
    assert found.year_days == (date(2014, 9, 1) - date(2014, 7, 1)) // timedelta(days=1)
