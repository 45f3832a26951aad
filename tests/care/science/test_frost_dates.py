"""Frost dates and their probabilities against worked cases and the Seattle record."""

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from care.facts import MonthDay
from care.science.frost import fahrenheit_to_c
from care.science.frost_dates import (
    DateFit,
    FrostYear,
    day_number,
    day_of_earlier_frost,
    day_of_later_frost,
    frost_dates,
    frost_years,
    month_day,
    reported_threshold_c,
    season_exceeded,
)
from tests.care.science.reference import SeattleRecord, reference_rows

SEATTLE = SeattleRecord()
# Worked cases: ten years of last spring and first autumn frosts, days of the year
LAST = np.array([95, 101, 88, 110, 99, 104, 92, 97, 115, 90], dtype=float)
FIRST = np.array([300, 311, 295, 288, 305, 318, 292, 301, 298, 309], dtype=float)
# Seven frosts in ten years
SOME = np.array([20, 25, 31, 12, 40, 28, 15], dtype=float)


@pytest.mark.parametrize(
    ("fit", "probability", "number"),
    # Probability of a frost later than the day, NOAA Clim-20's meaning: 0.1 is the
    # safe date
    [
        (DateFit.NORMAL, 0.9, 87.99),
        (DateFit.NORMAL, 0.5, 99.10),
        (DateFit.NORMAL, 0.1, 110.21),
        (DateFit.EMPIRICAL, 0.9, 89.8),
        (DateFit.EMPIRICAL, 0.5, 98.0),
        (DateFit.EMPIRICAL, 0.1, 110.5),
        (DateFit.WEIBULL, 0.9, 88.2),
        (DateFit.WEIBULL, 0.5, 98.0),
        (DateFit.WEIBULL, 0.1, 114.5),
    ],
)
def test_last_spring_frost(fit, probability, number):
    found = day_of_later_frost(LAST, 10, probability, fit)
    assert found == pytest.approx(number, abs=0.006)


@pytest.mark.parametrize(
    ("fit", "probability", "number"),
    # Probability of a frost earlier than the day
    [
        (DateFit.NORMAL, 0.1, 289.92),
        (DateFit.NORMAL, 0.5, 301.7),
        (DateFit.NORMAL, 0.9, 313.48),
        (DateFit.EMPIRICAL, 0.1, 291.6),
        (DateFit.EMPIRICAL, 0.5, 300.5),
        (DateFit.EMPIRICAL, 0.9, 311.7),
    ],
)
def test_first_autumn_frost(fit, probability, number):
    found = day_of_earlier_frost(FIRST, 10, probability, fit)
    assert found == pytest.approx(number, abs=0.006)


@pytest.mark.parametrize(
    ("probability", "number"),
    # Mixed distribution: seven years of ten have a frost
    [(0.1, 34.76), (0.5, 18.95), (0.7, None), (0.9, None)],
)
def test_frosts_of_some_years_only(probability, number):
    expected = None if number is None else pytest.approx(number, abs=0.006)
    assert day_of_later_frost(SOME, 10, probability) == expected
    early = day_of_earlier_frost(SOME, 10, probability)
    assert (early is None) == (number is None)


def test_season_lengths():
    # Worked case: median of the ten seasons between the frosts above
    lengths = FIRST - LAST - 1
    assert lengths.tolist() == [204, 209, 206, 177, 205, 213, 199, 203, 182, 218]
    assert season_exceeded(lengths, 10, 0.5, DateFit.EMPIRICAL) == 204.5
    long, short = (season_exceeded(lengths, 10, chance) for chance in (0.1, 0.9))
    assert short < lengths.mean() < long


def test_seasons_without_an_end():
    lengths = FIRST - LAST - 1
    # Two more years without a frost: one season in six never ends
    assert season_exceeded(lengths, 12, 1 / 6) is None
    median = season_exceeded(lengths, 12, 0.5, DateFit.EMPIRICAL)
    assert median == pytest.approx(np.quantile(lengths, 0.6))


@pytest.mark.parametrize("values", [np.array([100.0]), np.full(4, 100.0)])
def test_dates_without_a_spread(values):
    assert day_of_later_frost(values, 4, 0.1) == 100.0


def test_nonsense_is_refused():
    for probability in (0.0, 1.0, -0.1):
        with pytest.raises(ValueError, match="not a probability"):
            day_of_later_frost(LAST, 10, probability)
    with pytest.raises(ValueError, match="10 events in 9 years"):
        day_of_earlier_frost(LAST, 9, 0.5)
    with pytest.raises(ValueError, match="0 events in 0 years"):
        season_exceeded(LAST[:0], 0, 0.5)


@pytest.mark.parametrize(
    "row", reference_rows("seattle_years.csv"), ids=lambda row: row["year"]
)
@pytest.mark.parametrize("degrees_f", [36, 32, 28])
def test_seattle_frost_dates(row, degrees_f):
    threshold = fahrenheit_to_c(degrees_f)
    years = frost_years(SEATTLE.start, SEATTLE.tmin_c, threshold, southern=False)
    found = next(year for year in years if year.year == int(row["year"]))
    assert found.is_known
    assert found.last_spring == date.fromisoformat(row[f"last_{degrees_f}f"])
    first = row[f"first_{degrees_f}f"]
    assert found.first_autumn == (date.fromisoformat(first) if first else None)
    if degrees_f == 32:
        assert found.season_days == int(row["season_days"])


@pytest.mark.parametrize(
    ("year", "last", "first"),
    # The Seattle record held against -2.222 to the letter, which no report ever meets
    [
        (2012, (1, 19), None),
        (2013, (1, 17), (12, 5)),
        (2014, (2, 7), (11, 29)),
        (2015, (1, 1), (11, 28)),
    ],
)
def test_a_hard_freeze_to_the_letter_misses_reports(year, last, first):
    low = SEATTLE.tmin_c[SEATTLE.year(year)] <= -2.222
    start, middle = date(year, 1, 1), (date(year, 8, 1) - date(year, 1, 1)).days
    spring, autumn = np.flatnonzero(low[:middle]), np.flatnonzero(low[middle:])
    assert start + timedelta(days=int(spring[-1])) == date(year, *last)
    found = [date(year, 8, 1) + timedelta(days=int(day)) for day in autumn[:1]]
    assert found == ([date(year, *first)] if first else [])


def test_a_hard_freeze_in_tenths_of_a_degree():
    # 28 degF is -2.222 degC, written -2.2: Seattle's last of 2012 moves to 27 February
    assert reported_threshold_c(fahrenheit_to_c(28)) == -2.2
    tmin = SEATTLE.tmin_c[SEATTLE.year(2012)]
    found = frost_years(SEATTLE.start, tmin, fahrenheit_to_c(28), southern=False)
    assert found[0].last_spring == date(2012, 2, 27)


def test_four_years_give_extremes_and_no_probabilities():
    years = frost_years(SEATTLE.start, SEATTLE.tmin_c, 0.0, southern=False)
    assert [year.year for year in years] == [2012, 2013, 2014, 2015]
    found = frost_dates(years, 0.1, southern=False)
    assert (found.last_spring, found.first_autumn, found.season_days) == (None,) * 3
    # Seattle's dates, as above
    assert found.latest_spring_seen == MonthDay(3, 19)
    assert found.earliest_autumn_seen == MonthDay(11, 10)
    assert (found.spring_years, found.autumn_years) == (4, 4)


def years_of(*, southern=False):
    """The ten worked years as frost years."""
    starts = [date(2001 + n, 7 if southern else 1, 1) for n in range(10)]
    return tuple(
        FrostYear(
            year=start.year,
            last_spring=start + timedelta(days=int(last) - 1),
            first_autumn=start + timedelta(days=int(first) - 1),
            is_spring_known=True,
            is_autumn_known=True,
        )
        for start, last, first in zip(starts, LAST, FIRST, strict=True)
    )


def test_ten_years_give_dates_on_the_safe_side():
    found = frost_dates(years_of(), 0.1, DateFit.EMPIRICAL, southern=False)
    # Type 7: 110.5 and 291.6 on days of a common year, but for a 29 February
    assert found.last_spring in {MonthDay(4, 20), MonthDay(4, 21)}
    assert found.first_autumn in {MonthDay(10, 17), MonthDay(10, 18)}
    assert found.season_days > 209
    rare = frost_dates(years_of(), 0.9, southern=False)
    assert rare.last_spring.month == 3
    assert rare.season_days < 200


def test_the_southern_year_begins_in_july():
    found = frost_dates(years_of(southern=True), 0.5, southern=True)
    # Half a year after 8-10 April
    assert found.last_spring in {MonthDay(10, 7), MonthDay(10, 8)}
    tmin = np.full(3 * 365, 5.0)
    start = date(2021, 1, 1)
    for day in (date(2021, 9, 20), date(2022, 5, 3), date(2022, 6, 30)):
        tmin[(day - start).days] = -1.0
    years = frost_years(start, tmin, 0.0, southern=True)
    assert [year.year for year in years] == [2020, 2021, 2022, 2023]
    assert years[1].last_spring == date(2021, 9, 20)
    assert years[1].first_autumn == date(2022, 5, 3)
    assert years[1].season_days == 224
    assert years[2].season_days is None
    assert [year.is_spring_known for year in years] == [False, True, True, False]
    assert [year.is_autumn_known for year in years] == [True, True, True, False]


def test_halves_with_gaps_are_seen_but_say_nothing_of_probability():
    tmin = SEATTLE.tmin_c.copy()
    tmin[SEATTLE.between(date(2013, 3, 5), date(2013, 3, 10))] = np.nan
    years = frost_years(SEATTLE.start, tmin, 0.0, southern=False)
    assert [year.is_spring_known for year in years] == [True, False, True, True]
    assert years[1].season_days is None
    found = frost_dates(years, 0.1, southern=False)
    assert (found.spring_years, found.autumn_years) == (3, 4)


def test_a_place_without_frost():
    years = frost_years(date(2001, 1, 1), np.full(3652, 9.0), 0.0, southern=False)
    assert len(years) == 10
    found = frost_dates(years, 0.1, southern=False)
    assert (found.last_spring, found.first_autumn, found.season_days) == (None,) * 3
    assert (found.latest_spring_seen, found.earliest_autumn_seen) == (None, None)


@pytest.mark.parametrize("southern", [False, True])
def test_numbers_and_days_of_the_calendar_agree(southern):
    for number in range(1, 366):
        day = month_day(number, southern=southern, is_spring=True)
        assert day_number(day.in_year(2011), southern=southern) == number
    leap, before = date(2012, 2, 29), date(2012, 2, 28)
    assert day_number(leap, southern=southern) == day_number(before, southern=southern)
    assert month_day(100.3, southern=False, is_spring=True) == MonthDay(4, 11)
    assert month_day(100.7, southern=False, is_spring=False) == MonthDay(4, 10)


@settings(max_examples=60)
@given(
    st.lists(st.integers(1, 200), min_size=1, max_size=20),
    st.integers(0, 10),
    st.sampled_from(DateFit),
    st.floats(0.05, 0.9),
    st.floats(0.05, 0.9),
)
def test_a_safer_date_is_never_earlier_in_spring(numbers, frostless, fit, one, other):
    values = np.array(numbers, dtype=float)
    years = len(numbers) + frostless
    safe, bold = min(one, other), max(one, other)
    safe_day = day_of_later_frost(values, years, safe, fit)
    bold_day = day_of_later_frost(values, years, bold, fit)
    if bold_day is not None:
        assert safe_day >= bold_day - 1e-9
        # Years without a frost bring every date forward
        fewer = day_of_later_frost(values, years + 1, bold, fit)
        assert fewer is None or fewer <= bold_day + 1e-9


@settings(max_examples=40)
@given(st.integers(0, 1400), st.floats(-3, 3), st.floats(0, 2))
def test_a_warmer_threshold_never_shortens_the_frosts(place, threshold, more):
    tmin = SEATTLE.tmin_c[place:]
    start = SEATTLE.day(place)
    cold = frost_years(start, tmin, threshold, southern=False)
    mild = frost_years(start, tmin, threshold + more, southern=False)
    for strict, loose in zip(cold, mild, strict=True):
        if strict.last_spring is not None:
            assert loose.last_spring >= strict.last_spring
        if strict.first_autumn is not None:
            assert loose.first_autumn <= strict.first_autumn
