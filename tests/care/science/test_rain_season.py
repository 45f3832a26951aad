"""Onset and end of the rains, dry runs: worked cases, Seattle, and what must hold."""

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st
from hypothesis.extra.numpy import arrays

from care.facts import MonthDay
from care.science.rain_season import (
    EndRule,
    OnsetRule,
    day_store_empties,
    days_since_rain,
    dry_runs,
    longest_dry_run,
    onset,
    rains_end,
)
from tests.care.science.reference import SeattleRecord, reference_rows

SEATTLE = SeattleRecord()
MAY = date(2023, 5, 1)
SEPTEMBER = date(2023, 9, 1)
SAHEL = OnsetRule()
ENDS = EndRule()
RAINS = arrays(
    np.float64,
    st.integers(40, 120),
    elements=st.sampled_from([0.0, 0.0, 0.0, 0.4, 2.0, 8.0, 25.0, np.nan]),
)


def rain(days, amounts, start=MAY):
    """Daily rain with some amounts at places counted from 0, else none."""
    record = np.zeros(days)
    for place, amount in amounts.items():
        record[place] = amount
    return start, record


def spell(gap=0, days=60):
    """8, 7 and 6 mm on 10-12 May, then 5 mm each sixth day, with a gap if asked."""
    amounts = {9: 8.0, 10: 7.0, 11: 6.0}
    amounts |= dict.fromkeys(range(17, days, 6), 5.0)
    if gap:
        amounts = {
            place: mm for place, mm in amounts.items() if not 11 < place < 12 + gap
        }
        amounts[12 + gap] = 5.0
    return rain(days, amounts)


# Worked by hand after Sivakumar (1988), day 5 being a false start
WORKED = {
    5: 25,
    6: 2,
    20: 12,
    21: 9,
    22: 3,
    26: 10,
    30: 15,
    34: 8,
    38: 20,
    42: 6,
    46: 12,
    50: 9,
    54: 5,
}


def test_worked_onset_passes_over_a_false_start():
    found = onset(*rain(60, WORKED), SAHEL)
    assert found.day == MAY + timedelta(days=20)
    assert found.false_starts == (MAY + timedelta(days=5),)
    assert found.is_confirmed


@pytest.mark.parametrize(
    "rule",
    [
        OnsetRule(longest_dry_days=40),
        OnsetRule(total_mm=25, window_days=10, look_days=0),
    ],
)
def test_worked_onset_of_looser_rules(rule):
    assert onset(*rain(60, WORKED), rule).day == MAY + timedelta(days=5)


def test_a_wet_spell_with_rain_each_sixth_day_is_the_onset():
    found = onset(*spell(), SAHEL)
    assert found.day == date(2023, 5, 10)
    assert (found.is_confirmed, found.longest_dry_run) == (True, 5)


@pytest.mark.parametrize(("gap", "is_accepted"), [(7, True), (8, False)])
def test_dry_run_limit(gap, is_accepted):
    found = onset(*spell(gap), SAHEL)
    if is_accepted:
        assert (found.day, found.longest_dry_run) == (date(2023, 5, 10), 7)
    else:
        assert found is None


def test_provisional_until_thirty_days_have_passed():
    start, record = spell()
    # 10-12 May and 29 days are 41 days of the record
    early = onset(start, record[:41], SAHEL)
    assert (early.day, early.is_confirmed) == (date(2023, 5, 10), False)
    assert early.days_judged == 29
    assert onset(start, record[:42], SAHEL).is_confirmed
    assert onset(start, record[:12], SAHEL).days_judged == 0


def test_no_rain_no_onset():
    assert onset(MAY, np.zeros(90), SAHEL) is None
    assert onset(MAY, np.zeros(0), SAHEL) is None


def test_rain_before_the_search_date_does_not_count():
    start, record = spell()
    assert onset(start - timedelta(days=12), record, SAHEL) is None


def test_the_southern_year_is_searched_from_november():
    assert SAHEL.for_south().search_from == MonthDay(11, 1)
    assert ENDS.for_south().search_from == MonthDay(3, 1)
    _, record = spell()
    start = date(2023, 11, 1)
    assert onset(start, record, SAHEL.for_south()).day == date(2023, 11, 10)
    assert onset(start, record, SAHEL) is None


def test_missing_days_are_neither_dry_nor_wet():
    start, record = spell(8)
    record[14] = np.nan
    found = onset(start, record, SAHEL)
    # The eight days may have been dry: no false start, and nothing confirmed
    assert (found.day, found.is_confirmed) == (date(2023, 5, 10), False)
    start, record = spell()
    record[14] = np.nan
    assert onset(start, record, SAHEL).is_confirmed
    record[9:11] = np.nan
    assert onset(start, record, SAHEL) is None


def test_tenths_that_add_up_to_the_total():
    amounts = {9: 6.6, 10: 6.7, 11: 6.7} | dict.fromkeys(range(14, 60, 5), 3.0)
    assert onset(*rain(60, amounts), SAHEL).day == date(2023, 5, 10)


@pytest.mark.parametrize(
    ("year", "day", "naive"),
    # Reference dates of the return of rain: 20 mm in 3 days and no long dry run, from
    # 1 July; 25 mm in ten days alone goes off weeks before
    [
        (2012, date(2012, 10, 12), date(2012, 10, 12)),
        (2013, date(2013, 9, 5), date(2013, 8, 26)),
        (2014, date(2014, 10, 13), date(2014, 8, 12)),
        (2015, date(2015, 10, 10), date(2015, 8, 12)),
    ],
)
def test_seattle_autumn_rain(year, day, naive):
    autumn = SEATTLE.rain_mm[SEATTLE.between(date(year, 7, 1), date(year, 12, 31))]
    july = MonthDay(7, 1)
    found = onset(date(year, 7, 1), autumn, OnsetRule(search_from=july))
    assert (found.day, found.is_confirmed) == (day, True)
    loose = OnsetRule(search_from=july, total_mm=25, window_days=10, look_days=0)
    assert onset(date(year, 7, 1), autumn, loose).day == naive


def test_rains_end_with_twenty_dry_days():
    # Sivakumar (1988): 20 days without rain after 1 September
    start, record = rain(60, {3: 5.0, 20: 8.0, 22: 0.5, 30: 4.0}, SEPTEMBER)
    found = rains_end(start, record, ENDS)
    assert (found.day, found.is_confirmed) == (date(2023, 10, 1), True)
    assert found.dry_days == 20


def test_rains_that_had_ended_before_the_search_end_on_its_first_day():
    found = rains_end(SEPTEMBER, np.zeros(40), ENDS)
    assert (found.day, found.is_confirmed) == (SEPTEMBER, True)


def test_end_is_provisional_while_dry_days_pass():
    start, record = rain(60, {20: 8.0}, SEPTEMBER)
    early = rains_end(start, record[:40], EndRule(dry_days=20))
    assert (early.is_confirmed, early.dry_days) == (False, 19)
    assert early.day == date(2023, 9, 21)
    assert rains_end(start, record[:41], ENDS).is_confirmed
    # Still raining on the last day
    assert rains_end(start, record[:21], ENDS) is None


def test_end_is_not_confirmed_over_days_nobody_read():
    start, record = rain(60, {20: 8.0}, SEPTEMBER)
    record[25] = np.nan
    found = rains_end(start, record[:44], ENDS)
    assert (found.day, found.is_confirmed) == (date(2023, 9, 21), False)
    assert found.dry_days == 19
    # That day may have been the last with rain
    found = rains_end(start, record, ENDS)
    assert (found.day, found.is_confirmed) == (date(2023, 9, 26), True)


def test_days_since_a_quarter_of_an_inch():
    # Worked by hand
    record = np.array([0, 7, 0, 0, 6.3, 6.35, 0, 0, 0])
    assert days_since_rain(record).tolist() == [1, 0, 1, 2, 3, 0, 1, 2, 3]


@pytest.mark.parametrize(
    ("day", "days"),
    # Reference counts, Seattle
    [
        (date(2012, 9, 15), 57),
        (date(2013, 8, 15), 51),
        (date(2014, 7, 20), 37),
        (date(2015, 7, 20), 98),
    ],
)
def test_seattle_days_since_rain(day, days):
    assert days_since_rain(SEATTLE.rain_mm)[SEATTLE.at(day)] == days


def test_seattle_month_without_rain():
    month = SEATTLE.rain_mm[SEATTLE.between(date(2015, 6, 21), date(2015, 7, 20))]
    assert month.sum() == pytest.approx(0.3)


@pytest.mark.parametrize(
    "row", reference_rows("seattle_years.csv"), ids=lambda row: row["year"]
)
def test_seattle_dry_runs_and_rain(row):
    year = SEATTLE.rain_mm[SEATTLE.year(int(row["year"]))]
    assert year.sum() == pytest.approx(float(row["rain_mm"]))
    assert longest_dry_run(year, 6.35) == int(row["run_below_6_35"])
    assert longest_dry_run(year) == int(row["run_below_1"])
    # Days with a hundredth of an inch or more end a run of dry ones.
    assert (dry_runs(year < 0.254) == 0).sum() == int(row["rain_days"])


def test_seattle_rain_is_near_its_published_normal():
    # NOAA annual normal of Sea-Tac, 39.3 in; four years within 15 %
    assert SEATTLE.rain_mm.sum() / 4 == pytest.approx(39.3 * 25.4, rel=0.15)


def test_dry_runs_over_days_nobody_read():
    record = np.array([0, 0, np.nan, 0, 0, 0, 9, 0])
    assert longest_dry_run(record) == 3
    assert longest_dry_run(record, missing_is_dry=True) == 6
    assert days_since_rain(record).tolist() == [1, 2, 0, 1, 2, 3, 0, 1]
    at_most = days_since_rain(record, missing_is_dry=True)
    assert at_most.tolist() == [1, 2, 3, 4, 5, 6, 0, 1]
    assert longest_dry_run(np.zeros(0)) == 0


@pytest.mark.parametrize(("capacity", "day"), [(100.0, 27), (60.0, 19)])
def test_store_of_the_rains_empties(capacity, day):
    # Worked by hand: eight days of 20 mm, then none; 5 mm a day used
    record = np.array([20.0] * 8 + [0.0] * 40)
    assert day_store_empties(record, 5.0, capacity) == day
    assert day_store_empties(record, np.full(48, 5.0), capacity) == day
    assert day_store_empties(record[:day], 5.0, capacity) is None


def test_store_of_unknown_rain_is_unknown():
    assert day_store_empties(np.array([20.0, np.nan, 0, 0, 0, 0]), 5.0, 60.0) is None
    assert day_store_empties(np.zeros(5), 5.0, 60.0) is None


@settings(max_examples=100)
@given(RAINS, st.sampled_from([0.0, 30.0, np.nan]))
def test_rain_beyond_the_look_ahead_changes_nothing(record, later):
    found = onset(MAY, record, SAHEL)
    if found is not None and found.days_judged == 30:
        end = (found.day - MAY).days + 33
        changed = np.append(record[:end], np.full(40, later))
        assert onset(MAY, changed, SAHEL) == found


@settings(max_examples=100)
@given(RAINS, st.integers(20, 120))
def test_a_confirmed_onset_stays(record, length):
    early = onset(MAY, record[:length], SAHEL)
    if early is not None and early.is_confirmed:
        assert onset(MAY, record, SAHEL) == early
    early_end = rains_end(MAY, record[:length], EndRule(search_from=MonthDay(5, 1)))
    if early_end is not None and early_end.is_confirmed:
        assert rains_end(MAY, record, EndRule(search_from=MonthDay(5, 1))) == early_end


@settings(max_examples=80)
@given(RAINS)
def test_an_onset_has_its_rain_and_false_starts_come_before(record):
    found = onset(MAY, record, SAHEL)
    if found is not None:
        place = (found.day - MAY).days
        assert record[place] >= 1
        assert np.nansum(record[place : place + 3]) >= 20
        assert found.longest_dry_run <= 7
        assert all(day < found.day for day in found.false_starts)


@settings(max_examples=80)
@given(RAINS)
def test_unread_days_only_widen_a_dry_run(record):
    least = longest_dry_run(record)
    most = longest_dry_run(record, missing_is_dry=True)
    for guess in (0.0, 5.0):
        truth = longest_dry_run(np.where(np.isnan(record), guess, record))
        assert least <= truth <= most
    assert days_since_rain(record).max() <= len(record)
