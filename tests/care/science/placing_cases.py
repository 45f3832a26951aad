"""Grounds and wanted trees, for the tests of placing."""

from dataclasses import replace
from typing import Any

from care.facts import FeatureFacts, FeatureKind, LayoutFacts, PlantFacts, Point
from care.planning.species_facts import species_facts
from tests.care.science.pollination_cases import plant


def box(left: float, low: float, right: float, high: float) -> tuple[Point, ...]:
    return ((left, low), (right, low), (right, high), (left, high))


def feature(
    number: int, kind: str, points_m: tuple[Point, ...], **more: Any
) -> FeatureFacts:
    return FeatureFacts(number, FeatureKind(kind), kind, points_m, **more)


def free(width_m: float, depth_m: float, number: int = 1) -> FeatureFacts:
    return feature(number, "free", box(0.0, 0.0, width_m, depth_m))


def layout(
    *features: FeatureFacts,
    plants: tuple[PlantFacts, ...] = (),
    latitude_deg: float = 47.0,
    up_bearing_deg: float = 0.0,
) -> LayoutFacts:
    return LayoutFacts(latitude_deg, up_bearing_deg, plants, features)


def wanted(number: int, key: str = "fig", **more: Any) -> PlantFacts:
    """Return a wanted tree as the gatherer gives it; by default one needing nobody."""
    species = species_facts(key)
    grown = {
        "grown_spread_m": species.mature_spread_m,
        "grown_height_m": species.mature_height_m,
    }
    return plant(f"wanted-{number:02d}", key, at=None, **{**grown, **more})


def spaced(
    number: int, spacing_m: float, *, least_m: float | None = None, **more: Any
) -> PlantFacts:
    """Return a wanted tree that asks for one spacing, or may stand closer."""
    species = replace(
        species_facts("fig"),
        spacing_min_m=least_m or spacing_m,
        spacing_typical_m=spacing_m,
        mature_spread_m=spacing_m,
    )
    return wanted(number, species=species, **{"grown_spread_m": spacing_m, **more})
