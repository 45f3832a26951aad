"""Winter chill of a site: what counts, what is likely, and what is not known."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from care.facts import SiteFacts, WeatherSeries
from care.planning.winter import chill_by_day, winter_outlook
from care.science.season import Window
from tests.care.science.reference import (
    SEATTLE_LATITUDE_DEG,
    SeattleRecord,
    reference_rows,
)

SEATTLE = SeattleRecord()
SITE = SiteFacts(SEATTLE_LATITUDE_DEG, 120.0, "sandy_loam")
SOUTH = replace(SITE, latitude_deg=-SEATTLE_LATITUDE_DEG)
NEW_YEAR = date(2015, 1, 1)
WHOLE = WeatherSeries(
    SEATTLE.start,
    SEATTLE.tmin_c,
    SEATTLE.tmax_c,
    SEATTLE.rain_mm,
    "o" * len(SEATTLE.tmin_c),
)


def without(first, last, *, origin="n"):
    """The record with some days that nobody observed and nothing stands in for."""
    days = slice(WHOLE.index(first), WHOLE.index(last) + 1)
    tmin, tmax = WHOLE.tmin_c.copy(), WHOLE.tmax_c.copy()
    tmin[days] = tmax[days] = np.nan
    count = days.stop - days.start
    letters = WHOLE.origin[: days.start] + origin * count + WHOLE.origin[days.stop :]
    return replace(WHOLE, tmin_c=tmin, tmax_c=tmax, origin=letters)


def marked(first, last, letter):
    """The record with some days called forecast or usual instead of observed."""
    days = slice(WHOLE.index(first), WHOLE.index(last) + 1)
    count = days.stop - days.start
    letters = WHOLE.origin[: days.start] + letter * count + WHOLE.origin[days.stop :]
    return replace(WHOLE, origin=letters)


@pytest.mark.parametrize("winter", [2013, 2014, 2015])
def test_spans_side_by_side_give_the_reference_sums_of_each(winter):
    spans = [Window(date(y - 1, 10, 1), date(y, 3, 31)) for y in (2013, 2014, 2015)]
    found = chill_by_day(WHOLE, SEATTLE_LATITUDE_DEG, spans, until=date(2015, 12, 31))
    place = winter - 2013
    rows = [
        row
        for row in reference_rows("seattle_winters.csv")
        if int(row["winter"]) == winter
    ]
    # Literal night curve first; the file and the hours on the bound as in test_chill
    for curve, row in enumerate(rows):
        hours = found.hours[curve, place].sum()
        assert hours == pytest.approx(float(row["hours_between"]), abs=1)
        assert found.units[curve, place].sum() == float(row["utah"])
        portions = found.portions[curve, place].sum()
        assert portions == pytest.approx(float(row["portions"]), abs=6e-4)


def test_what_comes_after_yesterday_changes_nothing():
    today = WHOLE.index(NEW_YEAR)
    hot = replace(
        WHOLE,
        tmin_c=np.where(np.arange(len(WHOLE)) < today, WHOLE.tmin_c, 20.0),
        tmax_c=np.where(np.arange(len(WHOLE)) < today, WHOLE.tmax_c, 30.0),
    )
    before, after = (winter_outlook(s, SITE, NEW_YEAR) for s in (WHOLE, hot))
    assert before.latest.days == after.latest.days == 61
    # Only the last evening looks at the next morning's low
    assert after.latest.chill.hours_low == pytest.approx(
        before.latest.chill.hours_low, abs=8
    )
    assert before.past == after.past


def test_the_last_winter_stands_until_the_next_begins():
    july = winter_outlook(WHOLE, SITE, date(2014, 7, 14))
    assert (july.latest.first, july.latest.last) == (
        date(2013, 11, 1),
        date(2014, 3, 31),
    )
    assert july.latest.is_over
    november = winter_outlook(WHOLE, SITE, date(2014, 11, 1))
    assert (november.latest.days, november.latest.is_told) == (0, False)


def test_the_southern_winter_runs_from_may_to_september():
    found = winter_outlook(WHOLE, SOUTH, date(2014, 7, 14))
    assert (found.latest.first, found.latest.last) == (
        date(2014, 5, 1),
        date(2014, 9, 30),
    )
    assert [one.first.year for one in found.past] == [2013, 2012]


def test_a_like_winter_chills_alike_in_both_halves():
    """The same days, half a year apart, under a sun that is half a year apart."""
    cold = np.full(800, 1.0), np.full(800, 12.0)
    north = WeatherSeries(date(2013, 1, 1), *cold, np.zeros(800), "o" * 800)
    here = winter_outlook(north, SITE, date(2014, 4, 1)).latest
    there = winter_outlook(north, SOUTH, date(2014, 10, 1)).latest
    # 151 days of winter in the north, 153 in the south
    assert here.chill.hours_low / here.days == pytest.approx(
        there.chill.hours_low / there.days, rel=0.02
    )


def test_unknown_days_are_counted_and_in_no_sum():
    series = without(date(2014, 12, 1), date(2014, 12, 10))
    whole = winter_outlook(WHOLE, SITE, NEW_YEAR).latest
    found = winter_outlook(series, SITE, NEW_YEAR).latest
    assert (found.days, found.observed_days, found.missing_days) == (61, 51, 10)
    assert found.chill.hours_low < whole.chill.hours_low
    assert found.is_told


def test_a_sum_of_too_few_days_is_not_told():
    series = without(date(2014, 11, 1), date(2014, 12, 10))
    assert not winter_outlook(series, SITE, NEW_YEAR).latest.is_told


@pytest.mark.parametrize("letter", ["n", "f"])
def test_days_that_others_stand_in_for_are_told_apart(letter):
    series = marked(date(2014, 12, 1), date(2014, 12, 10), letter)
    found = winter_outlook(series, SITE, NEW_YEAR).latest
    assert (found.observed_days, found.estimated_days) == (51, 10)
    assert found.missing_days == 0


def test_no_winter_leans_on_one_that_was_not_observed():
    series = marked(date(2013, 11, 1), date(2013, 11, 6), "n")
    found = winter_outlook(series, SITE, NEW_YEAR)
    assert [one.last.year for one in found.past] == [2013]
    # 2013-14 and the winter in which the record begins
    assert found.left_out == 2
    only_usual = replace(WHOLE, origin="n" * len(WHOLE))
    alone = winter_outlook(only_usual, SITE, NEW_YEAR)
    assert (alone.past, alone.left_out) == ((), 0)
    assert alone.latest.observed_days == 0


def test_a_low_above_its_high_is_unknown_and_not_an_error():
    tmin = WHOLE.tmin_c.copy()
    tmin[WHOLE.index(date(2014, 12, 5))] = 40.0
    found = winter_outlook(replace(WHOLE, tmin_c=tmin), SITE, NEW_YEAR).latest
    assert found.missing_days == 1


def test_a_short_record_is_no_error():
    start = NEW_YEAR - timedelta(days=3)
    part = slice(WHOLE.index(start), WHOLE.index(NEW_YEAR))
    short = WeatherSeries(
        start, WHOLE.tmin_c[part], WHOLE.tmax_c[part], WHOLE.rain_mm[part], "ooo"
    )
    found = winter_outlook(short, SITE, NEW_YEAR)
    assert (found.latest.days, found.latest.observed_days) == (61, 3)
    assert not found.latest.is_told
