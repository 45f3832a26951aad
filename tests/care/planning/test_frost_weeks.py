"""Shares of years with a frost, week by week."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from care.planning.frost_outlook import frost_outlook
from care.planning.frost_weeks import frost_weeks
from tests.care.planning.test_frost_outlook import BARE, SOUTH, TODAY, record
from tests.care.planning.test_winter import WHOLE
from tests.care.science.reference import reference_rows


def weeks_of(series, site, today, bound=1):
    dates = frost_outlook(series, site, today).dates[bound]
    return frost_weeks(series, site, today, dates)


def test_each_week_has_the_share_of_years_with_a_frost_in_it():
    found = weeks_of(record(), BARE, TODAY)
    # The ten worked years: last frosts on days 88 to 115, first ones on 288 to 318.
    assert found.start == date(2011, 7, 1)
    assert found.years == 10
    shares = found.share[~np.isnan(found.share)]
    assert shares.sum() == pytest.approx(2.0)  # two frosts in each year
    assert np.all(found.share[:14] == 0)


def test_the_southern_year_has_its_winter_in_the_middle_too():
    found = weeks_of(record(southern=True), SOUTH, date(2012, 3, 1))
    assert found.start == date(2012, 1, 1)
    frosty = np.flatnonzero(found.share > 0)
    assert 0 < frosty.min() < 26 < frosty.max()


def test_seattle_has_its_frosts_where_the_reference_has_them():
    today = date(2016, 1, 1)
    rows = reference_rows("seattle_years.csv")
    for bound, name in ((0, "36f"), (1, "32f"), (2, "28f")):
        found = weeks_of(WHOLE, BARE, today, bound)
        frosty = np.flatnonzero(found.share > 0)
        firsts = [
            date.fromisoformat(r[f"first_{name}"]) for r in rows if r[f"first_{name}"]
        ]
        earliest = min((day - date(day.year, 7, 1)).days for day in firsts)
        assert frosty.min() == earliest // 7
        lasts = [date.fromisoformat(row[f"last_{name}"]) for row in rows]
        latest = max((day - date(day.year - 1, 7, 1)).days for day in lasts)
        assert abs(int(frosty.max()) - latest // 7) <= 1  # a leap year moves a day


def test_weeks_that_nobody_read_tell_nothing_but_a_frost_that_was_seen_does():
    today = date(2016, 1, 1)
    gaps = WHOLE.tmin_c.copy()
    gaps[WHOLE.index(date(2012, 7, 1)) : WHOLE.index(date(2012, 12, 20))] = np.nan
    gaps[WHOLE.index(date(2012, 12, 21)) : WHOLE.index(date(2013, 6, 30))] = np.nan
    gaps[WHOLE.index(date(2012, 12, 20))] = -4.0
    found = weeks_of(replace(WHOLE, tmin_c=gaps), BARE, today)
    week = (date(2012, 12, 20) - date(2012, 7, 1)).days // 7
    whole = weeks_of(WHOLE, BARE, today)
    assert found.share[week] >= whole.share[week]
    assert found.years == whole.years


def test_without_any_reading_no_share_is_told():
    found = weeks_of(record(origin="n"), BARE, TODAY)
    assert np.isnan(found.share).all()
    assert found.years == 0
