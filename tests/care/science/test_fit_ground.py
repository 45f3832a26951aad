"""Soil, room, pots, heat and wet months of a place."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from care.facts import (
    FeatureFacts,
    FeatureKind,
    LayoutFacts,
    PlantFacts,
    SoilTest,
    Span,
    Standing,
)
from care.facts.fit import Verdict
from care.science.extreme_cold import estimate_zone
from care.science.fit_cautions import months_of_span, rain_cautions
from care.science.fit_ground import (
    heat_factors,
    largest_room_m,
    pot_factor,
    soil_factor,
    space_factor,
)
from tests.care.science.fit_cases import SITE, SOUTH, kind


def with_test(ph):
    return replace(SITE, soil_test=SoilTest(date(2024, 3, 1), ph))


@pytest.mark.parametrize(
    ("ph", "verdict", "fixes"),
    [
        (6.0, "good", ()),
        (7.0, "good", ()),
        (5.5, "fair", ("lime_soil",)),
        (5.4, "poor", ("lime_soil",)),
        (7.6, "poor", ("sulfur_soil", "pot_own_mix")),
    ],
)
def test_soil_by_its_own_test(ph, verdict, fixes):
    found = soil_factor(kind(), with_test(ph))
    assert (found.verdict, found.fixes) == (verdict, fixes)


def test_soil_that_nobody_tested_is_not_known():
    assert soil_factor(kind(), SITE).code == "soil_no_test"
    assert soil_factor(kind(), with_test(None)).code == "soil_no_test"
    for silent in (kind(ph_min=None), kind(ph_max=None)):
        assert soil_factor(silent, with_test(6.5)).code == "soil_no_figure"


def area(feature, *points):
    return FeatureFacts(1, feature, feature.value, points)


def layout(*features, plants=()):
    return LayoutFacts(47.0, 0.0, plants, features)


BOUNDARY = area(FeatureKind.BOUNDARY, (0, 0), (10, 0), (10, 4), (0, 4))


def test_room_is_the_widest_free_circle():
    # A strip 4 m wide holds a circle 4 m wide; a house that leaves 3 m of it, 3 m
    assert largest_room_m(layout(BOUNDARY)) == pytest.approx(4.0, abs=0.1)
    house = area(FeatureKind.BUILDING, (0, 3), (10, 3), (10, 4), (0, 4))
    assert largest_room_m(layout(BOUNDARY, house)) == pytest.approx(3.0, abs=0.1)
    bed = area(FeatureKind.FREE, (0, 0), (2, 0), (2, 2), (0, 2))
    assert largest_room_m(layout(BOUNDARY, bed)) == pytest.approx(2.0, abs=0.1)


def test_room_without_areas_or_without_ground_left():
    assert largest_room_m(layout()) is None
    assert largest_room_m(layout(area(FeatureKind.FREE, (0, 0), (1, 1)))) is None
    paved = area(FeatureKind.PAVING, *BOUNDARY.points_m)
    assert largest_room_m(layout(BOUNDARY, paved)) == 0.0


def test_grown_crowns_take_room():
    def plant(place_m, spread_m):
        return PlantFacts(
            "ours-1",
            Standing.OURS,
            "A",
            kind(),
            place_m=place_m,
            grown_spread_m=spread_m,
        )

    square = area(FeatureKind.FREE, (0, 0), (10, 0), (10, 10), (0, 10))
    alone = largest_room_m(layout(square))
    beside = largest_room_m(layout(square, plants=(plant((0, 5), 6.0),)))
    # A crown 3 m from the left edge leaves a circle 7 m wide, or a little more beside it
    assert alone == pytest.approx(10.0, abs=0.1)
    assert 7.0 - 0.1 <= beside < 9.0
    unknown = (plant(None, 6.0), plant((5, 5), None))
    assert largest_room_m(layout(square, plants=unknown)) == alone


@pytest.mark.parametrize(
    ("room_m", "verdict"), [(5.0, "good"), (4.9, "fair"), (3.0, "fair"), (2.9, "poor")]
)
def test_room_for_the_grown_crown(room_m, verdict):
    assert space_factor(kind(), room_m).verdict == verdict


def test_room_that_cannot_be_told():
    assert space_factor(kind(), None).code == "space_no_plan"
    assert space_factor(kind(mature_spread_m=None), 5.0).code == "space_no_figure"
    assert space_factor(kind(spacing_min_m=None), 4.9).verdict is Verdict.POOR


def test_pots():
    for takes in ("good", "fair", "poor"):
        found = pot_factor(kind(container_ok=takes))
        assert (found.verdict, found.number("least_l")) == (takes, 60.0)
        assert bool(found.fixes) is (takes == "poor")
    assert pot_factor(kind(container_ok="")).code == "pot_unknown"


def test_heat_is_a_hint_by_the_zones_alone():
    warm = estimate_zone(np.array([3.0] * 30))
    kinds = [kind(usda_zone_max="9"), kind(usda_zone_max="11"), kind(usda_zone_max="")]
    found = heat_factors(kinds, warm, 40.0)
    assert [each.verdict for each in found] == ["fair", "unknown", "unknown"]
    assert found[1].number("hot_days") == 40.0
    assert heat_factors(kinds, None, None)[0].code == "heat_no_figure"
    # Cool summers by the sea: zone 9 in Seattle, and raspberries thrive
    for hot_days in (13.25, None):
        assert heat_factors(kinds, warm, hot_days)[0].verdict == "unknown"


def rain(**months):
    by_month = np.full(12, 20.0)
    for month, fell_mm in months.items():
        by_month[int(month[1:]) - 1] = fell_mm
    return by_month


def test_wet_months_are_cautions_north_and_south():
    cherry = kind("sweet_cherry", bloom=Span(3, 4), harvest=Span(5, 7))
    wet = rain(m1=150.0, m4=90.0, m6=61.0)
    found = rain_cautions(cherry, SITE, wet)
    assert [(each.code, each.month) for each in found] == [
        ("prune_in_dry_summer", 1),
        ("blossom_rot", 4),
        ("fruit_splits", 6),
    ]
    assert found[0].sources == ("uc_eutypa",)
    # In the south its bloom is in September and October, its harvest from November on
    south = rain_cautions(cherry, SOUTH, rain(m10=90.0))
    assert [each.code for each in south] == ["blossom_rot"]
    assert rain_cautions(cherry, SITE, rain(m4=59.9)) == ()


def test_no_cautions_without_rain_or_risk():
    assert rain_cautions(kind("peach"), SITE, None) == ()
    assert rain_cautions(kind("orange"), SITE, np.full(12, 200.0)) == ()
    silent = kind("fig", bloom=None, harvest=None)
    assert rain_cautions(silent, SITE, np.full(12, 200.0)) == ()


def test_months_of_a_span_may_wrap():
    assert months_of_span(Span(11, 2)) == (11, 12, 1, 2)
    assert months_of_span(Span(4, 4)) == (4,)
    assert len(months_of_span(Span(1, 12))) == 12
