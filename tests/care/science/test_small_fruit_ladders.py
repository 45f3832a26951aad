"""Ladders of blueberries and grapes, as printed."""

import pytest

from care.science.ladder_sources import POUND_G
from care.science.small_fruit_ladders import (
    north_carolina_blueberry,
    north_carolina_grape,
)


def test_blueberries_in_north_carolina():
    # NC Extension, The Sylva Herald: a tablespoon of 10-10-10 every six weeks from
    # first leaf to early July (three times), then two; a grown bush a cup. By hand with
    # a pound a pint: 14.2 g a spoon, 226.8 g a cup.
    assert north_carolina_blueberry(1).low_g == pytest.approx(3 * 1.42, abs=0.02)
    assert north_carolina_blueberry(2).low_g == pytest.approx(6 * 1.42, abs=0.02)
    grown = north_carolina_blueberry(7)
    assert (grown.low_g, grown.applications) == (pytest.approx(22.68, abs=0.01), 1)
    assert north_carolina_blueberry(0) == north_carolina_blueberry(1)


def test_grapes_in_north_carolina():
    # NC Extension, The Sylva Herald: second year half a pound in March, May and June;
    # mature one to two pounds in March and one in mid-June, all of 10-10-10
    second = north_carolina_grape(2)
    assert second.low_g == second.high_g == pytest.approx(0.15 * POUND_G)
    assert second.applications == 3
    grown = north_carolina_grape(5)
    assert grown.low_g == pytest.approx(0.2 * POUND_G)
    assert grown.high_g == pytest.approx(0.3 * POUND_G)


def test_a_first_year_vine_gets_a_quarter_pound_a_part():
    # NC Extension: a quarter of a pound every six weeks; three parts are our reading
    first = north_carolina_grape(1)
    assert first.low_g / first.applications == pytest.approx(0.025 * POUND_G)
