"""Water that washes salts out of a pot."""

import pytest
from hypothesis import given, strategies as st

from care.science.container_water import LEACHING_FRACTION
from care.science.salt_flush import flush_litres


def test_twice_the_volume_of_the_pot():
    # A garden page's worked example: 4 L through a pot of 2 L; no primary source
    assert flush_litres(2.0) == pytest.approx(4.0)


@given(litres=st.floats(0.5, 500))
def test_a_flush_is_far_more_than_a_waterings_leaching(litres):
    # UF/IFAS EP529: no more than about 15 % runs out of an ordinary watering
    assert flush_litres(litres) > 5 * LEACHING_FRACTION * litres
