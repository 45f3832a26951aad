"""The yardstick beside an amount: the right table, its source named."""

import pytest
from hypothesis import given, strategies as st

from care.science.feeding_ladders import Grown, yardstick
from care.science.ladder_sources import LADDER_SOURCES, POUND_G

OLD_FIG = Grown(8, height_m=2.4, spacing_m=3.0)


@pytest.mark.parametrize(
    ("key", "group", "plant", "is_sandy", "source"),
    [
        ("orange", "citrus", Grown(3), True, "uf_hs132_citrus"),
        ("orange", "citrus", Grown(3), False, "uc_ipm_citrus"),
        ("orange", "citrus", Grown(1), False, "uf_hs132_citrus"),
        ("peach", "stone", Grown(3), False, "psu_stone"),
        ("apple", "pome", Grown(3), False, "ncsu_fert"),
        ("apple", "pome", Grown(3, caliper_mm=50.8), False, "unh_trunk"),
        ("peach", "stone", Grown(3, caliper_mm=50.8), True, "unh_trunk"),
        ("fig", "other", Grown(3), False, "lsu_fig"),
        ("fig", "other", OLD_FIG, False, "uga_fig"),
        ("blueberry_highbush", "berry_acid", Grown(3), False, "nc_sylva"),
        ("grape", "other", Grown(3), False, "nc_sylva"),
    ],
)
def test_yardsticks_name_their_source(key, group, plant, is_sandy, source):
    ladder = yardstick(key, group, plant, is_sandy=is_sandy)
    assert ladder.source == source
    assert source in LADDER_SOURCES


def test_a_grapefruit_is_measured_by_half_an_orange():
    # University of Arizona AZ1671 (2015)
    orange = yardstick("orange", "citrus", Grown(5), is_sandy=True)
    grapefruit = yardstick("grapefruit", "citrus", Grown(5), is_sandy=True)
    assert grapefruit.high_g == pytest.approx(orange.high_g / 2)
    assert grapefruit.low_g == pytest.approx(0.55 * POUND_G)


def test_no_ladder_is_made_up_where_none_was_read():
    # Southern highbush, olive, avocado, mango, lychee: no figure was read
    for key, group in (
        ("mulberry", "other"),
        ("olive", "other"),
        ("avocado", "tropical"),
        ("blueberry_southern_highbush", "berry_acid"),
    ):
        assert yardstick(key, group, Grown(3), is_sandy=False) is None


def test_no_ladder_rests_on_memory():
    assert set(LADDER_SOURCES.values()) == {"read", "relay"}


@given(
    year=st.integers(1, 60),
    kind=st.sampled_from(
        [("orange", "citrus"), ("peach", "stone"), ("apple", "pome"), ("fig", "other")]
    ),
)
def test_ladders_never_fall_with_age(year, kind):
    younger = yardstick(*kind, Grown(year), is_sandy=True)
    older = yardstick(*kind, Grown(year + 1), is_sandy=True)
    assert 0 < younger.low_g <= younger.high_g
    assert older.low_g >= younger.low_g
    assert older.high_g >= younger.high_g
