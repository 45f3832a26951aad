"""How far new shoots should grow, by kind and bearing."""

import pytest
from hypothesis import given, strategies as st

from care.science.growth_gauge import SHARE, growth_band_mm, read_gauge

INCH_MM = 25.4


@pytest.mark.parametrize(
    ("key", "group", "is_bearing", "low_in", "high_in"),
    [
        # UNH, as relayed
        ("peach", "stone", False, 16, 24),
        ("peach", "stone", True, 10, 18),
        ("pear", "pome", False, 12, 26),
        ("pear", "pome", True, 6, 12),
        # NC State, Guilford County (2013)
        ("apple", "pome", False, 15, 30),
        ("apple", "pome", True, 8, 15),
        # LSU AgCenter
        ("fig", "other", True, 12, 18),
        # NC Extension, as relayed
        ("blueberry_highbush", "berry_acid", True, 6, 12),
        # NC State Extension quick reference
        ("mulberry", "other", True, 10, 18),
    ],
)
def test_published_bands(key, group, is_bearing, low_in, high_in):
    band = growth_band_mm(key, group, is_bearing=is_bearing)
    assert band == pytest.approx((low_in * INCH_MM, high_in * INCH_MM), abs=1)


def test_a_persimmon_is_fed_only_under_twelve_inches():
    # As relayed; excess nitrogen makes it drop its fruit
    band = growth_band_mm("asian_persimmon", "other", is_bearing=True)
    assert read_gauge(11 * INCH_MM, band) == "short"
    assert read_gauge(13 * INCH_MM, band) == "long"


@pytest.mark.parametrize("group", ["citrus", "tropical"])
def test_kinds_that_flush_all_year_have_no_band(group):
    assert growth_band_mm("any", group, is_bearing=True) is None


def test_feed_halve_skip():
    # NC State Extension quick reference: under 10-12 in feed, over 18 in skip
    band = growth_band_mm("any", "other", is_bearing=True)
    verdicts = [read_gauge(inches * INCH_MM, band) for inches in (8, 15, 24)]
    assert verdicts == ["short", "in_band", "long"]
    assert [SHARE[verdict] for verdict in verdicts] == [1.0, 0.5, 0.0]


@given(shoot_mm=st.floats(0, 2000), more_mm=st.floats(0, 500))
def test_longer_shoots_never_ask_for_more(shoot_mm, more_mm):
    band = growth_band_mm("apple", "pome", is_bearing=True)
    assert (
        SHARE[read_gauge(shoot_mm + more_mm, band)] <= SHARE[read_gauge(shoot_mm, band)]
    )
