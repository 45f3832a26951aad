"""Feeding under what a place asks for: soil tests, water nearby, soil, lost crops."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import assume, given, settings, strategies as st

from care.facts import NitrogenAdvice, SoilTest, WorkDone
from care.rules.feeding import propose
from care.science.kitchen_measures import CUP_ML
from care.science.nutrients import FINE_SOIL_CITRUS_SHARE
from tests.care.rules.cases import (
    MILD,
    WARM,
    WARM_SOUTH,
    morning,
    orange,
    species,
    tree,
)

SPRING = date(2014, 3, 10)
SANDY = replace(MILD, soil_texture="loamy_sand")
NEAR = replace(MILD, water_setback_m=3.05)  # 10 ft: Boynton Beach, Florida


def site_tested(advice, on=date(2013, 9, 1)):
    return replace(MILD, soil_test=SoilTest(on, ph=6.5, nitrogen=advice))


def test_a_soil_test_that_advises_none_is_told_once():
    site = site_tested(NitrogenAdvice.NONE)
    (told,) = propose(morning(SPRING, site=site))
    assert (told.key, told.action, told.is_firm) == ("2014/told", "rest", True)
    assert told.reason.code == "feed_rest_soil_test"
    assert told.reason.fact("soil_test_on") == date(2013, 9, 1)
    read = WorkDone(1, "feeding", "2014/told", SPRING)
    assert propose(morning(SPRING, site=site, work=(read,))) == ()


def test_a_soil_test_that_advises_half_gives_half():
    (feed,) = propose(morning(SPRING, site=site_tested(NitrogenAdvice.HALF)))
    assert feed.reason.fact("nitrogen_g") == pytest.approx(100)
    assert feed.reason.fact("soil_test_nitrogen") == "half"
    (usual,) = propose(morning(SPRING, site=site_tested(NitrogenAdvice.USUAL)))
    assert usual.reason.fact("nitrogen_g") == pytest.approx(200)


def test_a_soil_test_says_nothing_of_pots_and_of_years_long_past():
    potted = tree(in_container=True, container_litres=30.0)
    in_pot = propose(morning(SPRING, potted, site=site_tested(NitrogenAdvice.NONE)))
    assert in_pot[0].action == "feed"
    assert in_pot[0].reason.fact("soil_test_on") is None
    old = site_tested(NitrogenAdvice.NONE, on=date(2010, 9, 1))
    assert propose(morning(SPRING, site=old))[0].action == "feed"


def test_a_tree_too_near_water_is_told_of_once_a_season():
    close = tree(water_distance_m=2.0)
    (told,) = propose(morning(SPRING, close, site=NEAR))
    assert (told.action, told.is_firm) == ("rest", True)
    assert told.reason.code == "feed_rest_near_water"
    assert told.reason.fact("water_distance_m") == 2.0
    assert told.reason.fact("water_setback_m") == 3.05
    read = WorkDone(1, "feeding", "2014/told", SPRING)
    assert propose(morning(SPRING, close, site=NEAR, work=(read,))) == ()
    next_year = propose(morning(date(2015, 3, 10), close, site=NEAR, work=(read,)))
    assert next_year[0].key == "2015/told"


def test_a_tree_far_enough_from_water_is_fed():
    assert propose(morning(SPRING, tree(water_distance_m=3.05), site=NEAR))[0].amount
    (unknown,) = propose(morning(SPRING, site=NEAR))
    assert "keep_from_water" in unknown.cautions
    assert "keep_from_water" not in propose(morning(SPRING))[0].cautions


def test_lawn_feed_near_a_tree_counts():
    # Penn State Extension: within 5 ft of the branches it is feeding
    assert (
        "lawn_feed_counts" in propose(morning(SPRING, tree(floor="grass")))[0].cautions
    )
    assert "lawn_feed_counts" not in propose(morning(SPRING))[0].cautions


def test_tree_fruit_on_sand_is_fed_in_two_halves():
    # NC State Extension: half in late winter and half in May
    first, second = propose(morning(SPRING, site=SANDY))
    assert first.reason.fact("nitrogen_g") == pytest.approx(100)
    assert second.earliest.month == 5
    assert "crop_lost" in first.reason.would_change


@pytest.mark.parametrize(
    ("kind", "reason"), [("thinning", "light_crop"), ("harvest", "no_crop")]
)
def test_a_lost_crop_ends_the_seasons_feeding(kind, reason):
    # NC State Extension: the second half is skipped where frost took the crop
    lost = WorkDone(1, kind, "2014/1", date(2014, 4, 20), "skipped", reason=reason)
    first_done = WorkDone(1, "feeding", "2014/1", SPRING, amount=100.0)
    today = date(2014, 5, 12)
    fed = propose(morning(today, site=SANDY, work=(first_done,)))
    assert fed[0].key == "2014/2"
    after = propose(morning(today, site=SANDY, work=(first_done, lost)))
    assert [p.key for p in after] == ["2015/1"]
    first = propose(morning(date(2014, 4, 21), site=SANDY, work=(lost,)))
    assert first[0].reason.fact("lost_crop") is True


def test_a_tree_too_young_to_bear_has_no_crop_to_lose():
    young = tree(planted_on=date(2012, 3, 1))
    lost = WorkDone(1, "thinning", "2014/1", SPRING, "skipped", reason="light_crop")
    found = propose(morning(SPRING, young, site=SANDY, work=(lost,)))
    assert [p.key for p in found] == ["2014/1", "2014/2"]


def test_citrus_gets_less_on_heavier_soil():
    # UC IPM against UF/IFAS HS132
    def season(site):
        first = propose(morning(date(2014, 2, 10), tree(orange()), site))[0]
        return first.reason.fact("season_nitrogen_g")

    loam = replace(WARM, soil_texture="clay")
    assert season(loam) == pytest.approx(season(WARM) * FINE_SOIL_CITRUS_SHARE, abs=0.1)


def test_the_amount_is_told_in_cups_and_a_weighed_product_goes_first():
    (feed,) = propose(morning(SPRING, tree(crown_width_m=1.5)))
    product_g = feed.amount
    assert feed.reason.fact("product_g") == product_g
    # two cups a pound: 498 g is 2.2 cups
    assert feed.reason.fact("measure") == "cup"
    assert feed.reason.fact("measure_count") == 2.0
    assert "product_weighed" in feed.reason.would_change
    site = replace(MILD, feed_density_g_per_ml=0.5)
    (light,) = propose(morning(SPRING, tree(crown_width_m=1.5), site))
    assert light.amount == product_g
    assert light.reason.fact("is_density_weighed") is True
    assert light.reason.fact("volume_ml") == pytest.approx(product_g / 0.5, abs=0.1)
    assert light.reason.fact("measure_count") == product_g / 0.5 // (CUP_ML / 4) / 4


def test_the_working_is_told_in_whole():
    (feed,) = propose(morning(SPRING, tree(crown_width_m=3.0)))
    fact = feed.reason.fact
    first, full = fact("first_year_nitrogen_g"), fact("full_nitrogen_g")
    amount = first + (full - first) * fact("share_of_full")
    shares = fact("soil_share") * fact("growth_share") * fact("tested_share")
    assert fact("season_nitrogen_g") == pytest.approx(amount * shares, abs=0.2)
    product_g = fact("nitrogen_g") / fact("nitrogen_percent") * 100
    assert fact("product_g") == pytest.approx(product_g, abs=0.5)
    assert fact("yardstick_low_g") <= fact("yardstick_high_g")
    assert fact("yardstick_source") in feed.sources


@given(width_m=st.floats(0.2, 8), more_m=st.floats(0, 3), is_citrus=st.booleans())
@settings(max_examples=50)
def test_a_larger_canopy_is_never_fed_less(width_m, more_m, is_citrus):
    kind = orange() if is_citrus else species()
    amounts = [
        propose(morning(SPRING, tree(kind, crown_width_m=width), WARM))[0].amount
        for width in (width_m, width_m + more_m)
    ]
    assert amounts[0] <= amounts[1] + 0.1


def _part(proposal):
    return proposal.key.partition("/")[2]


@given(day=st.dates(date(2014, 11, 1), date(2016, 10, 31)), is_citrus=st.booleans())
@settings(max_examples=60)
def test_the_south_is_fed_half_a_year_later(day, is_citrus):
    months = day.year * 12 + day.month - 1 + 6
    mirrored = date(months // 12, months % 12 + 1, min(day.day, 28))
    day = day.replace(day=mirrored.day)
    grown = tree(orange() if is_citrus else species(), planted_on=None)
    north = propose(morning(day, grown, WARM))
    south = propose(morning(mirrored, grown, WARM_SOUTH))
    # Months differ, so windows end a day apart: on that day one asks for the next part.
    assume([_part(one) for one in north] == [_part(one) for one in south])
    assert north
    for one, other in zip(north, south, strict=True):
        shift = (other.due - mirrored) - (one.due - day)
        assert abs(shift) <= timedelta(days=5)
        assert one.amount == other.amount
