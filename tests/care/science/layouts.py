"""Plants and features on made-up plans, and plans turned and shifted."""

import math
from dataclasses import replace
from typing import Any

from hypothesis import strategies as st

from care.facts import (
    ClumpFacts,
    FeatureFacts,
    FeatureKind,
    LayoutFacts,
    PlantFacts,
    Standing,
)
from care.planning.species_facts import species_facts

KINDS = ("apple", "peach", "fig", "blueberry_highbush", "grape", "pecan", "orange")


def plant(number: int = 1, kind: str = "apple", **changes: Any) -> PlantFacts:
    species = changes.pop("species", None) or species_facts(kind)
    standing = changes.pop("standing", Standing.OURS)
    facts: dict[str, Any] = {
        "ref": f"{standing}-{number}",
        "standing": standing,
        "name": f"{kind} {number}",
        "species": species,
        "place_m": (0.0, 0.0),
        "grown_spread_m": species.mature_spread_m,
        "grown_height_m": species.mature_height_m,
    }
    return PlantFacts(**{**facts, **changes})


def feature(kind: FeatureKind, *points_m: tuple[float, float], **more: Any):
    return FeatureFacts(
        **{"id": 1, "name": kind.value, **more}, kind=kind, points_m=points_m
    )


def layout(*things: Any, latitude_deg: float = 47.6, up_bearing_deg: float = 0.0):
    return LayoutFacts(
        latitude_deg=latitude_deg,
        up_bearing_deg=up_bearing_deg,
        plants=tuple(each for each in things if isinstance(each, PlantFacts)),
        features=tuple(each for each in things if isinstance(each, FeatureFacts)),
    )


def turned(
    plan: LayoutFacts, by_deg: float, shift_m: tuple[float, float]
) -> LayoutFacts:
    """The same garden on a page turned counter-clockwise and shifted."""
    cosine, sine = math.cos(math.radians(by_deg)), math.sin(math.radians(by_deg))

    def moved(point):
        x_m, y_m = point
        return (
            cosine * x_m - sine * y_m + shift_m[0],
            sine * x_m + cosine * y_m + shift_m[1],
        )

    return replace(
        plan,
        # What lay along the page's y axis now lies by_deg to the left of it.
        up_bearing_deg=(plan.up_bearing_deg + by_deg) % 360,
        plants=tuple(
            replace(each, place_m=each.place_m and moved(each.place_m))
            for each in plan.plants
        ),
        features=tuple(
            replace(each, points_m=tuple(moved(point) for point in each.points_m))
            for each in plan.features
        ),
    )


@st.composite
def plants(draw: st.DrawFn, least: int = 1, most: int = 6) -> tuple[PlantFacts, ...]:
    """A few plants within a garden, some in pots, some in a hedge, some wanted."""
    metres = st.integers(0, 2400).map(lambda cm: cm / 100)
    hedges = (None, ClumpFacts(1, "Hedge", height_limit_m=2.0), ClumpFacts(2, "Clump"))
    found = []
    for number in range(draw(st.integers(least, most))):
        in_container = draw(st.booleans())
        found.append(
            plant(
                number,
                draw(st.sampled_from(KINDS)),
                standing=draw(st.sampled_from(Standing)),
                place_m=(draw(metres), draw(metres)),
                in_container=in_container,
                container_litres=draw(st.sampled_from((None, 40.0))),
                crown_width_m=draw(st.sampled_from((None, 0.8, 3.0))),
                clump=draw(st.sampled_from(hedges)),
            )
        )
    return tuple(found)
