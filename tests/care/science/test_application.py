"""A hundred litres on three square metres, by hose and by drip, and what they show.

The soils are the ends of this program's infiltration bands (FAO Irrigation Water
Management Training Manual 5, Annex 2); the expected portions are worked by hand.
"""

from math import inf

import pytest
from hypothesis import given, strategies as st

from care.science.application import (
    HOLLOWS_MM,
    LONGEST_WAIT_H,
    depth_mm,
    ponding_minutes,
    running_minutes,
    split,
)
from care.science.soil import TEXTURES, texture_of

HOSE, DRIP = 12.0, 1.0  # litres a minute


def a_hundred_litres(flow, texture, **changes):
    return split(
        100.0, area_m2=3.0, flow_l_min=flow, texture=texture_of(texture), **changes
    )


def test_a_dripper_of_a_litre_a_minute_runs_a_hundred_for_a_hundred():
    assert running_minutes(100, DRIP) == 100


def test_a_litre_on_a_square_metre_is_a_millimetre():
    assert depth_mm(100, 3) == pytest.approx(33.33, abs=0.01)


def test_an_inch_on_an_acre():
    # University of California, Sacramento Valley orchards: 27,154 gallons.
    inch_mm = depth_mm(27_154 * 3.785411784, 4046.8564224)
    assert inch_mm == pytest.approx(25.4, abs=0.001)


def test_a_hose_into_a_berm_of_five_centimetres_goes_in_one():
    portions = a_hundred_litres(HOSE, "loam", berm_mm=50)
    assert portions.count == 1
    assert portions.minutes == pytest.approx(8.33, abs=0.01)
    assert not portions.is_split
    assert not portions.needs_berm


@pytest.mark.parametrize(
    ("texture", "count", "minutes"), [("sand", 6, 1.39), ("loam", 7, 1.19)]
)
def test_a_hose_without_a_berm_asks_for_one(texture, count, minutes):
    portions = a_hundred_litres(HOSE, texture)
    assert (portions.count, portions.days) == (count, 1)
    assert portions.portion_minutes == pytest.approx(minutes, abs=0.01)
    assert portions.needs_berm


@pytest.mark.parametrize(
    ("texture", "count", "minutes"),
    [("sand", 1, 100.0), ("loam", 4, 25.0), ("clay", 7, 14.3)],
)
def test_drip_soaks_in_with_fewer_pauses(texture, count, minutes):
    portions = a_hundred_litres(DRIP, texture)
    assert portions.count == count
    assert portions.portion_minutes == pytest.approx(minutes, abs=0.05)
    assert portions.minutes == pytest.approx(100)


def test_a_pond_lasts_while_more_comes_than_goes_in():
    # Hose on loam: 240 mm/h come and 10 go in, so 5 mm are full after 1.3 minutes.
    lasts = ponding_minutes(rate_mm_h=240, infiltration_mm_h=10, pond_mm=5)
    assert lasts == pytest.approx(1.304, abs=0.001)
    assert ponding_minutes(rate_mm_h=20, infiltration_mm_h=20, pond_mm=5) == inf


def test_slow_clay_is_watered_over_several_days():
    # Each 5 mm pond takes five hours: two portions a day, seven of them, four days.
    flat = a_hundred_litres(DRIP, "clay")
    assert flat.soak_minutes == pytest.approx(60 * 100 / 3 / 7, abs=0.01)
    assert (flat.count, flat.days) == (7, 4)
    # A berm holds all 33 mm, but a day takes in only 24.
    bermed = a_hundred_litres(HOSE, "clay", berm_mm=50)
    assert (bermed.count, bermed.days) == (2, 2)
    assert not bermed.needs_berm


def test_nothing_to_pour_is_one_empty_portion():
    nothing = split(0.0, area_m2=3.0, flow_l_min=HOSE, texture=texture_of("clay"))
    assert (nothing.count, nothing.days, nothing.minutes) == (1, 1, 0.0)


@given(
    st.floats(0.5, 2000),
    st.floats(0.3, 20),
    st.floats(0.05, 40),
    st.sampled_from(sorted(TEXTURES)),
    st.floats(HOLLOWS_MM, 150),
)
def test_no_portion_overflows_and_no_day_waits_too_long(
    litres, area, flow, key, berm_mm
):
    texture = texture_of(key)
    portions = split(
        litres, area_m2=area, flow_l_min=flow, texture=texture, berm_mm=berm_mm
    )
    slow = texture.infiltration_mm_h[0]
    hours = portions.portion_minutes / 60
    left_standing = portions.depth_mm / portions.count - slow * hours
    assert left_standing <= berm_mm + 1e-6
    assert portions.count * portions.portion_minutes == pytest.approx(portions.minutes)
    assert portions.count >= portions.days
    a_day = -(-portions.count // portions.days)
    assert (a_day - 1) * portions.soak_minutes <= 60 * LONGEST_WAIT_H + 1e-6
    assert portions.depth_mm / portions.days <= 24 * slow + 1e-6
