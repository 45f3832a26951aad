"""How far helpers stay from a power line."""

import pytest
from hypothesis import given, strategies as st

from care.science.power_lines import minimum_distance_m

FOOT_M = 0.3048


# 29 CFR 1910.269: 10 ft to 50 kV to ground, 4 in more for every 10 kV above.
@pytest.mark.parametrize(
    ("kv", "feet"), [(7.2, 10), (50.0, 10), (50.1, 10 + 4 / 12), (79.7, 11.0)]
)
def test_ten_feet_and_four_inches_more_for_every_ten_kilovolts(kv, feet):
    assert minimum_distance_m(kv) == pytest.approx(feet * FOOT_M, abs=0.003)


@pytest.mark.parametrize("kv", [0.0, -1.0, float("nan")])
def test_an_unknown_voltage_has_no_distance(kv):
    with pytest.raises(ValueError, match="no voltage"):
        minimum_distance_m(kv)


@given(st.floats(0.1, 800.0), st.floats(0.0, 100.0))
def test_a_higher_voltage_is_never_nearer(kv, more):
    assert minimum_distance_m(kv) <= minimum_distance_m(kv + more)
