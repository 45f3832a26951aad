"""Checks of the curve number against TR-55 and USGS Soil-Water-Balance."""

import numpy as np
import pytest
from hypothesis import given, strategies as st

from care.science.runoff import (
    GROUP_BY_TEXTURE,
    ORCHARD_CURVE_NUMBERS,
    Cover,
    Moisture,
    SoilGroup,
    curve_number,
    curve_number_at,
    soil_group,
    storm_runoff,
)
from care.science.soil import TEXTURES


@pytest.mark.parametrize(
    ("rain", "number", "runoff"),
    [  # TR-55 Eq. 2-3 in millimetres, as USGS Soil-Water-Balance prints it
        (50, 60, 1.40),
        (50, 70, 5.81),
        (50, 80, 13.80),
        (50, 58, 0.89),
        (50, 65, 3.22),
        (50, 72, 7.09),
        (50, 79, 12.81),
        (25, 79, 1.67),
        (100, 65, 25.20),
    ],
)
def test_runoff_of_a_storm(rain, number, runoff):
    assert storm_runoff(rain, number).runoff_mm == pytest.approx(runoff, abs=0.005)


def test_retention_and_what_is_kept_before_any_runs_off():
    # CN 80: S = 25400/80 - 254 = 63.5 mm, a fifth of it kept at first.
    found = storm_runoff(np.array([12.7, 12.71]), 80)
    assert found.retention_mm == pytest.approx(63.5)
    assert found.abstraction_mm == pytest.approx(12.7)
    assert found.runoff_mm[0] == 0
    assert found.runoff_mm[1] > 0


@pytest.mark.parametrize(
    ("moisture", "number"),
    [(Moisture.DRY, 44.88), (Moisture.USUAL, 65), (Moisture.WET, 81.31)],
)
def test_fair_grass_on_group_b_when_dry_and_when_wet(moisture, number):
    # USGS Soil-Water-Balance, conversion of CN 65.
    found = curve_number(SoilGroup.B, Cover.FAIR, moisture)
    assert found == pytest.approx(number, abs=0.005)


def test_orchards_of_tr_55():
    rows = {
        cover: [numbers[group] for group in SoilGroup]
        for cover, numbers in ORCHARD_CURVE_NUMBERS.items()
    }
    assert rows == {
        Cover.GOOD: [32, 58, 72, 79],
        Cover.FAIR: [43, 65, 76, 82],
        Cover.POOR: [57, 73, 82, 86],
    }


def test_every_texture_has_a_group_and_slow_soils_run_off_most():
    assert set(GROUP_BY_TEXTURE) == set(TEXTURES)
    for key, texture in TEXTURES.items():
        assert (soil_group(key) is SoilGroup.D) == texture.is_slow


def test_an_unknown_texture_is_refused_by_name():
    with pytest.raises(ValueError, match="'dust'"):
        soil_group("dust")


@pytest.mark.parametrize("number", [0, -5, 100.5, np.nan])
def test_a_number_off_the_scale_is_refused(number):
    with pytest.raises(ValueError, match="at most 100"):
        storm_runoff(10.0, number)


def test_bare_rock_sheds_everything_and_unknown_rain_stays_unknown():
    runoff = storm_runoff(np.array([0.0, 30.0, np.nan]), 100).runoff_mm
    assert runoff[:2].tolist() == [0.0, 30.0]
    assert np.isnan(runoff[2])


@given(st.floats(0, 400), st.floats(1, 100), st.floats(0, 100), st.floats(0, 50))
def test_more_rain_or_a_higher_number_never_sheds_less(rain, number, more, step):
    runoff = storm_runoff(rain, number).runoff_mm
    assert 0 <= runoff <= rain + 1e-9
    assert storm_runoff(rain + more, number).runoff_mm >= runoff - 1e-9
    higher = min(number + step, 100.0)
    assert storm_runoff(rain, higher).runoff_mm >= runoff - 1e-9


@given(st.floats(1, 100))
def test_wet_soil_sheds_more_than_usual_and_dry_less(number):
    dry = curve_number_at(number, Moisture.DRY)
    wet = curve_number_at(number, Moisture.WET)
    assert 0 < dry <= number + 1e-9
    assert number - 1e-9 <= wet <= 100.0 + 1e-9
