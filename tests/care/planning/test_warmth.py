"""The year's warmth beside other years."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from care.facts import WeatherSeries
from care.planning.warmth import past_warmth, years_warmth
from tests.care.science.reference import SeattleRecord, reference_rows

SEATTLE = SeattleRecord()
RECORD = WeatherSeries(
    SEATTLE.start,
    SEATTLE.tmin_c,
    SEATTLE.tmax_c,
    SEATTLE.rain_mm,
    "o" * len(SEATTLE.tmin_c),
)
YEARS = {
    int(row["year"]): float(row["single_sine"])
    for row in reference_rows("seattle_years.csv")
}


def test_whole_years_have_the_reference_sums():
    # seattle_years.csv, rounded to one decimal; the year's last day is not over
    found = years_warmth(RECORD, date(2015, 12, 31), southern=False)
    assert found.since == date(2015, 1, 1)
    assert found.degree_days == pytest.approx(YEARS[2015], abs=0.1)
    # Winter days by then add nothing to speak of
    assert found.past == pytest.approx([YEARS[2014], YEARS[2013], YEARS[2012]], abs=1)


def test_the_year_begins_in_the_middle_of_winter():
    assert years_warmth(RECORD, date(2015, 1, 1), southern=False).since == date(
        2014, 1, 1
    )
    south = years_warmth(RECORD, date(2015, 3, 1), southern=True)
    assert south.since == date(2014, 7, 1)
    assert len(south.past) == 2


def test_too_many_unknown_days_give_no_sum_and_unobserved_years_no_comparison():
    gaps = RECORD.tmin_c.copy()
    spring = slice(RECORD.index(date(2015, 2, 1)), RECORD.index(date(2015, 3, 1)))
    gaps[spring] = np.nan
    found = years_warmth(replace(RECORD, tmin_c=gaps), date(2015, 4, 1), southern=False)
    assert found.degree_days is None
    usual = replace(RECORD, origin="n" * len(RECORD))
    assert years_warmth(usual, date(2015, 4, 1), southern=False).past == ()
    assert years_warmth(usual, date(2015, 4, 1), southern=False).degree_days > 0


def test_a_low_above_its_high_is_unknown():
    upside_down = replace(RECORD, tmin_c=RECORD.tmax_c + 1)
    found = years_warmth(upside_down, date(2015, 4, 1), southern=False)
    assert found.degree_days is None


def test_a_record_that_begins_today_has_no_year():
    assert years_warmth(RECORD, date(2011, 1, 1), southern=False) is None
    assert years_warmth(RECORD, date(2018, 1, 1), southern=False).degree_days is None


def test_past_years_run_up_to_their_reference_sums():
    found = past_warmth(RECORD, date(2015, 1, 1))
    assert [start.year for start in found.starts] == [2014, 2013, 2012]
    assert found.sums.shape == (3, 365)
    # 2012 has a day more, in December
    sums = [YEARS[2014], YEARS[2013], YEARS[2012]]
    assert found.sums[:, -1] == pytest.approx(sums, abs=0.1)
    assert past_warmth(RECORD, date(2012, 1, 1)).count == 0


def test_past_years_with_unobserved_days_are_left_out():
    usual = "n" * 10 + "o" * (len(RECORD) - 10)
    found = past_warmth(replace(RECORD, origin=usual), date(2015, 1, 1))
    assert [start.year for start in found.starts] == [2014, 2013]
    assert past_warmth(RECORD, date(2014, 7, 1)).starts == (
        date(2013, 7, 1),
        date(2012, 7, 1),
    )
