"""A look back tells only what was known, and compares it with what came."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from care.facts import SiteFacts
from care.planning.hindcast import hindcast, look_back
from care.planning.hindcast_water import standard_plants
from tests.care.planning.hindcast_cases import seattle, stored

DAY = timedelta(days=1)
MONDAY = date(2013, 6, 3)
WATERINGS = {"watering_grown", "watering_new", "watering_pot"}


def told_on(record, monday):
    looked = look_back(record, [monday])
    return {
        (each.kind, each.low, each.middle, each.high, each.past_years)
        for each in looked.tellings
    }


@settings(max_examples=3)
@given(
    warmer=st.floats(-15, 15),
    rain_mm=st.floats(0, 40),
    start=st.integers(0, 90),
)
def test_no_weather_of_that_day_or_later_changes_what_is_told(warmer, rain_mm, start):
    record = seattle()
    changed = tuple(
        row
        if row.day < MONDAY + start * DAY
        else stored(row.day, row.values[0] + warmer, row.values[1] + warmer, rain_mm)
        for row in record.observed
    )
    told = told_on(record, MONDAY)
    assert {kind for kind, *_rest in told} >= WATERINGS
    assert told_on(replace(record, observed=changed), MONDAY) == told


def test_what_a_perfect_forecast_tells_is_what_came():
    """The same reckoning stands on both sides: no day apart comes from elsewhere."""
    record = seattle()
    ahead = [
        row._replace(issued_on=MONDAY) for row in record.observed if row.day >= MONDAY
    ]
    looked = look_back(replace(record, forecasts={MONDAY: ahead}), [MONDAY])
    waterings = [each for each in looked.tellings if each.kind in WATERINGS]
    assert len(waterings) == 3
    for each in waterings:
        assert each.low == each.middle == each.high == each.came


def test_each_plant_is_watered_on_its_day_and_so_told_anew():
    """A pot is due within days all summer; on the next Monday it is not overdue."""
    looked = look_back(seattle(), [MONDAY + n * 7 * DAY for n in range(3)])
    pots = [each for each in looked.tellings if each.kind == "watering_pot"]
    assert len(pots) == 3
    assert all(0 <= each.came <= 3 for each in pots)
    assert len(looked.chances) == 3 * 3 * 3


def test_what_the_record_is_too_short_for_is_not_judged():
    looked = look_back(seattle(), [date(2015, 11, 2)])
    assert not WATERINGS & {each.kind for each in looked.tellings}


def test_a_monday_of_which_nothing_was_known_is_left_out():
    looked = look_back(seattle(), [date(2012, 2, 6)])
    assert looked.mondays == []


def test_without_temperatures_nothing_is_told():
    record = replace(
        seattle(),
        observed=tuple(
            stored(date(2014, 1, 1) + n * DAY, None, None, 1.0) for n in range(400)
        ),
    )
    assert hindcast(record)["coverage_p10_p90"] is None


def test_the_new_tree_is_planted_each_spring():
    north, south = (
        standard_plants(date(2014, 3, 3), southern=southern)[1].planted_on
        for southern in (False, True)
    )
    assert north == date(2013, 4, 1)
    assert south == date(2013, 10, 1)


def test_a_few_mondays_make_a_report(monkeypatch):
    monkeypatch.setattr("care.planning.hindcast.MOST_MONDAYS", 2)
    record = replace(
        seattle(), observed=tuple(r for r in seattle().observed if r.day.year < 2014)
    )
    report = hindcast(record)
    assert list(report)[:3] == ["coverage_p10_p90", "by_kind", "by_lead_days"]
    assert report["record"] == {"first": "2012-01-01", "last": "2013-12-31"}
    assert report["mondays"]["count"] == 2


def test_the_south_is_told_of_too():
    site = SiteFacts(latitude_deg=-33.9, elevation_m=20, soil_texture="loam")
    rng = np.random.default_rng(1)
    start = date(2012, 1, 1)
    angle = 2 * np.pi * np.arange(1000) / 365.25
    tmin = 12 + 5 * np.cos(angle) + rng.normal(0, 2, 1000)
    rain = np.where(rng.random(1000) < 0.2, rng.gamma(1, 8, 1000), 0.0)
    observed = tuple(
        stored(start + n * DAY, float(low), float(low) + 10, float(wet))
        for n, (low, wet) in enumerate(zip(tmin, rain, strict=True))
    )
    record = replace(seattle(), site=site, observed=observed)
    looked = look_back(record, [date(2014, 2, 3)])
    assert {each.kind for each in looked.tellings} >= WATERINGS


@pytest.mark.parametrize("monday", [date(2015, 8, 31)])
def test_reach_is_four_months(monday):
    looked = look_back(seattle(), [monday])
    assert {each.reach for each in looked.tellings if each.kind in WATERINGS} == {120}


def test_a_years_dates_are_told_until_they_are_seen():
    """2014: a first frost on 12 November, found in the file by hand."""
    looked = look_back(seattle(), [date(2014, 11, 10), date(2014, 11, 17)])
    first = [each for each in looked.tellings if each.kind == "first_autumn_frost"]
    assert [(each.on, each.came) for each in first] == [(date(2014, 11, 10), 2)]
    assert first[0].low <= 2 <= first[0].high
    kinds = [each.kind for each in looked.tellings if each.on == date(2014, 11, 17)]
    assert {"chill_portions", "enough_chill"} <= set(kinds)


def test_spring_tells_bloom_harvest_and_the_last_frost():
    looked = look_back(seattle(), [date(2013, 2, 4)])
    found = {each.kind: each for each in looked.tellings}
    assert found["last_spring_frost"].came == (date(2013, 3, 4) - date(2013, 2, 4)).days
    bloom, harvest = found["full_bloom"], found["harvest"]
    assert date(2013, 4, 1) < date(2013, 2, 4) + bloom.came * DAY < date(2013, 5, 20)
    # The picking is so many days after the bloom, told and come.
    assert harvest.came - bloom.came == harvest.low - bloom.low > 60


def test_a_season_that_the_record_does_not_hold_to_its_end_is_not_judged():
    looked = look_back(seattle(), [date(2015, 12, 7)])
    assert "chill_portions" not in {each.kind for each in looked.tellings}


def test_frosts_past_midsummer_are_told_for_the_autumn_alone():
    looked = look_back(seattle(), [date(2014, 8, 4)])
    kinds = {each.kind for each in looked.tellings}
    assert "first_autumn_frost" in kinds
    assert not kinds & {"last_spring_frost", "full_bloom", "chill_portions"}
