"""Checks against published volumes and the definition of the leaching fraction."""

import pytest

from care.science.container_water import (
    application_l,
    container_capacity_l,
    pot_diameter_m,
    pot_volume_litres,
    rain_catch_m2,
)


@pytest.mark.parametrize(
    ("volume", "capacity"),
    [(14.9, 4.5), (24.6, 7.4), (54.9, 16.5), (104.5, 31.4)],  # 30 % of the true volume
)
def test_capacity_of_nursery_pots(volume, capacity):
    assert container_capacity_l(volume) == pytest.approx(capacity, abs=0.051)


@pytest.mark.parametrize(
    ("fraction", "poured"), [(0.10, 2.222), (0.15, 2.353), (0.20, 2.500)]
)
def test_some_runs_out_below(fraction, poured):
    # Leaching fraction as drained over entered, UF/IFAS EDIS EP529.
    found = application_l(2.0, fraction)
    assert found == pytest.approx(poured, abs=0.001)
    assert (found - 2.0) / found == pytest.approx(fraction)


def test_a_wide_crown_sheds_the_rain():
    assert rain_catch_m2(0.4, 0.3) == pytest.approx(0.1257, abs=0.0001)
    assert rain_catch_m2(0.4, 1.1) == pytest.approx(0.0628, abs=0.0001)


def test_width_and_volume_are_inverses():
    assert pot_volume_litres(pot_diameter_m(54.9)) == pytest.approx(54.9)
    # Common practice, no source: a pot 40 cm wide holds some 40 to 50 L.
    assert 40 < pot_volume_litres(0.40) < 50
