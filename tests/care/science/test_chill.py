"""Chill models against published bins, reference sums and what must hold of any."""

from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st
from hypothesis.extra.numpy import arrays

from care.science import chill
from care.science.chill import (
    chill_sums,
    day_reached,
    dynamic_portions,
    hours_below,
    hours_between,
    positive_utah_units,
    utah_units,
    winter_chill,
)
from care.science.hourly import NightCurve
from tests.care.science.reference import (
    SEATTLE_LATITUDE_DEG,
    SeattleRecord,
    reference_rows,
)

SEATTLE = SeattleRecord()
COURSES = arrays(np.float64, st.integers(1, 300), elements=st.floats(-15, 40, width=32))


def portions_of(hours):
    return dynamic_portions(np.asarray(hours, dtype=float))[0]


@pytest.mark.parametrize(
    ("temperature", "units"),
    # Richardson, Seeley and Walker (1974), bins in degC: each upper bound and past it
    [
        (-5.0, 0),
        (1.4, 0),
        (1.41, 0.5),
        (2.4, 0.5),
        (2.41, 1),
        (9.1, 1),
        (9.11, 0.5),
        (12.4, 0.5),
        (12.41, 0),
        (15.9, 0),
        (15.91, -0.5),
        (18.0, -0.5),
        (18.01, -1),
        (30.0, -1),
    ],
)
def test_utah_bins(temperature, units):
    assert utah_units(np.array([temperature]))[0] == units
    assert positive_utah_units(np.array([temperature]))[0] == max(units, 0)


def test_chill_hours_bounds():
    hours = np.array([-0.1, 0.0, 7.19, 7.2, 7.21])
    assert hours_below(hours).tolist() == [1, 1, 1, 0, 0]
    assert hours_between(hours).tolist() == [0, 1, 1, 1, 0]


def test_a_computed_hour_on_the_bound_is_on_it():
    hours = np.array([7.2 - 1e-15, 7.2 + 1e-15])
    assert hours_below(hours).tolist() == [0, 0]
    assert hours_between(hours).tolist() == [1, 1]
    assert utah_units(np.array([2.4 + 1e-15])).tolist() == [0.5]


def test_forty_five_fahrenheit_is_not_quite_the_limit():
    # A record in whole degF has many hours at 45 degF, 7.222 degC
    hours = (np.array([44.0, 45.0, 46.0]) - 32) / 1.8
    assert hours_below(hours).sum() == 1
    assert hours_below(hours, limit_c=7.2223).sum() == 2


@pytest.mark.parametrize(
    "temperature", [-2, 0, 2, 4, 6, 7.2, 8, 10, 12, 13, 15, 20], ids=str
)
def test_portions_under_constant_temperature(temperature):
    total = np.cumsum(portions_of(np.full(1000, temperature)))
    rows = [
        row
        for row in reference_rows("dynamic_constant.csv")
        if float(row["temperature_c"]) == temperature
    ]
    assert len(rows) == 6
    for row in rows:
        # The file is rounded to 4 decimals
        found = total[int(row["hours"]) - 1]
        assert found == pytest.approx(float(row["portions"]), abs=6e-5)


@pytest.mark.parametrize(
    ("temperature", "hour"),
    # Fishman et al. (1987) equations: hour, from 1, that fixes the first portion
    [(0, 34), (2, 31), (4, 30), (6, 29), (7.2, 29), (8, 29), (10, 31), (12, 39)],
)
def test_hour_of_the_first_portion(temperature, hour):
    assert np.flatnonzero(portions_of(np.full(60, temperature)))[0] + 1 == hour


@pytest.mark.parametrize("temperature", [13, 15, 20])
def test_mild_hours_never_fix_a_portion(temperature):
    assert portions_of(np.full(1000, temperature)).max() == 0


def test_intermediate_product_at_six_degrees():
    # Fishman et al. (1987) equations; product after hours 1-5, 28-30
    products, state = [], None
    for _ in range(30):
        portions, state = dynamic_portions(np.array([6.0]), state)
        products.append(float(state.product))
        if len(products) == 29:
            assert portions[0] == pytest.approx(0.980512, abs=1e-6)
    expected = [0.047247, 0.093457, 0.138651, 0.182852, 0.226083]
    assert products[:5] == pytest.approx(expected, abs=1e-6)
    assert products[27:] == pytest.approx([0.996039, 1.021407, 0.087244], abs=1e-6)
    assert state.conversion == pytest.approx(0.959962, abs=1e-6)


@pytest.mark.parametrize(
    ("warm", "portions", "utah"),
    # Erez and others' cycles: 16 h at 6 degC and 8 h warm, 30 days; heat of 24 degC
    # destroys the product, which neither hours nor units show
    [
        (10, 24.5118, 600),
        (13, 22.3502, 480),
        (15, 21.3977, 480),
        (18, 14.7290, 360),
        (20, 14.6445, 240),
        (24, 0.0, 240),
    ],
)
def test_cycles_of_cold_and_warmth(warm, portions, utah):
    sums = chill_sums(np.tile([6.0] * 16 + [warm] * 8, 30).astype(float))
    assert sums.portions == pytest.approx(portions, abs=6e-5)
    assert sums.utah == utah
    assert sums.hours_below == 480


@pytest.mark.parametrize(
    ("mean", "swing", "portions", "utah", "positive", "hours"),
    # Reference sums of 30 cosine days, warmest at 15 h
    [(10, 8, 16.3552, 270, 345, 270), (5, 5, 20.6430, 465, 465, 450)],
)
def test_cosine_days(mean, swing, portions, utah, positive, hours):
    clock = np.arange(24)
    day = mean + swing * np.cos(2 * np.pi * (clock - 15) / 24)
    sums = chill_sums(np.tile(day, 30))
    assert sums.portions == pytest.approx(portions, abs=6e-5)
    assert (sums.utah, sums.positive_utah) == (utah, positive)
    assert sums.hours_below == hours


def test_saw_days():
    # Reference sums; hours 3, 4 ... 12 up and down again
    day = [*range(3, 13), *range(11, -1, -1), 1, 2]
    sums = chill_sums(np.tile(day, 10).astype(float))
    assert sums.portions == pytest.approx(7.600724, abs=1e-6)
    assert (sums.utah, sums.hours_below, sums.hours_between) == (175, 150, 150)


@pytest.mark.parametrize("winter", [2013, 2014, 2015])
def test_seattle_winters(winter):
    found = winter_chill(
        SEATTLE.tmin_c,
        SEATTLE.tmax_c,
        SEATTLE_LATITUDE_DEG,
        SEATTLE.day_numbers,
        first=SEATTLE.at(date(winter - 1, 10, 1)),
        last=SEATTLE.at(date(winter, 3, 31)),
    )
    rows = [
        row
        for row in reference_rows("seattle_winters.csv")
        if int(row["winter"]) == winter
    ]
    assert len(rows) == 2
    for row in rows:
        sums = found[NightCurve(row["night"])]
        assert sums.hours == sums.known_hours == 4368
        # Some hours are 7.2 degC to the last digit; the reference counted them as the
        # rounding fell, one hour a winter at most
        assert sums.hours_below == pytest.approx(float(row["hours_below"]), abs=1)
        assert sums.hours_between == pytest.approx(float(row["hours_between"]), abs=1)
        assert sums.utah == float(row["utah"])
        assert sums.positive_utah == float(row["positive_utah"])
        assert sums.portions == pytest.approx(float(row["portions"]), abs=6e-4)


@pytest.mark.parametrize(
    ("tmin", "tmax", "literal", "continuous"),
    # Reference sums, 30 equal days at 40 N around 15 January: how far the curves part
    [
        (5, 18, 14.88, 18.95),
        (2, 12, 21.42, 21.70),
        (0, 15, 20.05, 20.24),
        (-5, 5, 18.56, 18.42),
        (8, 22, 0.0, 0.0),
    ],
)
def test_night_curves_give_a_range(tmin, tmax, literal, continuous):
    found = winter_chill(
        np.full(30, float(tmin)),
        np.full(30, float(tmax)),
        40.0,
        np.full(30, 15),
        first=0,
        last=29,
    )
    assert found[NightCurve.LITERAL].portions == pytest.approx(literal, abs=0.006)
    assert found[NightCurve.CONTINUOUS].portions == pytest.approx(continuous, abs=0.006)


def test_hours_without_a_reading_count_for_nothing_and_forget_nothing():
    cold = np.full(60, 6.0)
    gap = np.concatenate([cold[:20], [np.nan] * 4, cold[20:]])
    portions, state = dynamic_portions(gap)
    assert np.isnan(portions[20:24]).all()
    expected, expected_state = dynamic_portions(cold)
    assert np.delete(portions, range(20, 24)) == pytest.approx(expected)
    assert state.product == pytest.approx(expected_state.product)
    sums = chill_sums(gap)
    assert (sums.hours, sums.known_hours, sums.hours_below) == (64, 60, 60)
    assert np.isnan(utah_units(gap)[20:24]).all()


def test_day_on_which_a_need_is_met():
    assert day_reached(np.array([1.0, np.nan, 1.5, 1.0]), 2.5) == 2
    assert day_reached(np.array([1.0, 1.0]), 2.5) is None
    assert day_reached(np.array([1.0]), 0.0) == 0


@settings(max_examples=40)
@given(COURSES)
def test_chill_never_falls_except_by_warm_utah_hours(hours):
    assert (portions_of(hours) >= 0).all()
    assert (positive_utah_units(hours) >= utah_units(hours)).all()
    assert (hours_below(hours)[hours >= 0] <= hours_between(hours)[hours >= 0]).all()


@settings(max_examples=40)
@given(COURSES, st.integers(1, 100), st.floats(2.5, 7.1))
def test_cold_hours_that_follow_only_add(hours, more, cold):
    before = chill_sums(hours)
    after = chill_sums(np.append(hours, np.full(more, cold)))
    assert after.hours_below == before.hours_below + more
    assert after.hours_between == before.hours_between + more
    assert after.utah == before.utah + more
    assert after.positive_utah == before.positive_utah + more
    assert after.portions >= before.portions - 1e-9


@settings(max_examples=40)
@given(COURSES, st.integers(0, 300))
def test_state_carries_over_any_cut(hours, cut):
    whole, end = dynamic_portions(hours)
    first, state = dynamic_portions(hours[:cut])
    rest, end_of_two = dynamic_portions(hours[cut:], state)
    assert np.concatenate([first, rest]) == pytest.approx(whole)
    assert end_of_two.product == pytest.approx(end.product)


@settings(max_examples=20)
@given(arrays(np.float64, (50, 3), elements=st.floats(-15, 40, width=32)))
def test_places_side_by_side_do_not_touch(hours):
    together = portions_of(hours)
    for place in range(3):
        assert together[:, place] == pytest.approx(portions_of(hours[:, place]))
    assert chill_sums(hours).portions.shape == (3,)


def test_the_constants_belong_to_their_own_zero_of_temperature(monkeypatch):
    # 273.15 instead of the fitted 273 makes half a per cent of 720 h at 6 degC
    assert portions_of(np.full(720, 6.0)).sum() == pytest.approx(24.433, abs=6e-4)
    monkeypatch.setattr(chill, "KELVIN_OFFSET", 273.15)
    assert portions_of(np.full(720, 6.0)).sum() == pytest.approx(24.553, abs=6e-4)


def test_mean_temperatures_overstate_chill():
    day = 10 + 8 * np.cos(2 * np.pi * (np.arange(24) - 15) / 24)
    by_hour, of_mean = chill_sums(np.tile(day, 30)), chill_sums(np.full(720, 10.0))
    # Reference sums, as above: 16.3552 and 23.3130
    assert of_mean.portions / by_hour.portions == pytest.approx(1.4254, abs=1e-4)


def test_a_day_counted_by_itself_loses_what_the_night_before_had_built():
    hours = np.full(240, 6.0)
    by_day = sum(portions_of(day).sum() for day in hours.reshape(10, 24))
    # 240 h at 6 degC: 7.8207 portions, Fishman et al. (1987) equations
    assert portions_of(hours).sum() == pytest.approx(7.8207, abs=6e-5)
    assert by_day == 0
