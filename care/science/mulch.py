"""Mulch: how much a ring holds, how fast it thins, how far it stays off the trunk."""

from dataclasses import dataclass
from datetime import date
from math import ceil, exp, log, pi

from care.facts import SpeciesFacts, TreeFacts

TARGET_DEPTH_MM = 75.0  # 3 in settled: UF/IFAS, mulch
FLOOR_DEPTH_MM = 50.0  # 2 in: top up below it (UF/IFAS)
CITRUS_LIMIT_MM = 75.0  # UC Master Gardeners: 2-3 in under citrus
DEPTH_LIMIT_MM = 100.0  # 4 in when new (UF/IFAS)
TRUNK_GAP_MM = 150.0  # between published 2 in and 18 in
CITRUS_GAP_MM = 300.0  # 12 in against foot rot (UF/IFAS Polk: 12-18 in for trees)
TRUNK_DIAMETER_M = 0.05  # where nobody measured; hardly moves the ring's area
BAG_L = 56.6  # 2 cubic feet

# Days for a 75 mm layer to settle and rot to 50 mm, soonest and latest. Ranges of
# extension and garden pages: straw, leaves, grass and compost 6-12 months, pine straw
# 12, wood chips 12-24, bark 24-36.
THINNING_DAYS = {
    "straw": (183.0, 365.0),
    "leaves": (183.0, 365.0),
    "clippings": (183.0, 365.0),
    "compost": (183.0, 365.0),
    "pine_straw": (305.0, 426.0),
    "wood_chips": (365.0, 730.0),
    "bark": (730.0, 1095.0),
}
THINNING_DAYS_ELSE = (183.0, 730.0)

# Bare ground round the trunk, least and most published: Florida Yards & Neighborhoods
# workbook 2 in, UF/IFAS Polk 12-18 in for trees.
PUBLISHED_GAPS_MM = (50.0, 450.0)
# Florida Yards & Neighborhoods workbook: a bale of pine straw covers 18 to 20 ft2, here
# taken at 3 in.
BALE_L = 19 * 0.3048**2 * 76.2
# Materials that may carry weedkiller from where they grew, and weed seed.
CARRY_OVER = ("clippings", "straw", "compost")

# Ring diameters of the first three years (from memory) and the least of a grown tree
# (Guide to Florida-Friendly Landscaping: 8 ft); beyond the last, more than people carry.
RING_DIAMETER_M = (1.1, 1.5, 2.1)
GROWN_RING_M = 2.4
WIDEST_RING_M = 3.6
LEAST_RING_M = 0.6  # however closely they stand; common practice, no source


@dataclass(frozen=True, slots=True)
class Thinning:
    """Days until a layer is due a top-up: soonest, expected, latest."""

    soonest: float
    expected: float
    latest: float


def trunk_gap_mm(species: SpeciesFacts) -> float:
    """Return the bare strip to keep round a kind's trunk [mm]; citrus needs more."""
    return CITRUS_GAP_MM if species.feed_group == "citrus" else TRUNK_GAP_MM


def trunk_diameter_m(tree: TreeFacts) -> float:
    """Return a trunk's width as measured, else a usual one [m]."""
    return TRUNK_DIAMETER_M if tree.caliper_mm is None else tree.caliper_mm / 1000


def ring_area_m2(
    ring_diameter_m: float, trunk_diameter_m: float, gap_m: float
) -> float:
    """Return the area of a mulch ring that keeps off the bark.

    Parameters
    ----------
    ring_diameter_m, trunk_diameter_m : float
        Metres.
    gap_m : float
        Bare strip from the bark outwards.

    Returns
    -------
    float
        Square metres, never below zero.
    """
    inner = trunk_diameter_m / 2 + gap_m
    return max(0.0, pi * ((ring_diameter_m / 2) ** 2 - inner**2))


def mulch_volume_l(area_m2: float, depth_mm: float) -> float:
    """Return the litres that cover an area to a depth (1 mm on 1 m2 is 1 L)."""
    return area_m2 * depth_mm


def bags(volume_l: float, bag_l: float = BAG_L) -> int:
    """Return the number of whole bags that hold a volume."""
    return ceil(volume_l / bag_l - 1e-9)


def bales(volume_l: float) -> int:
    """Return the number of whole bales of pine straw that hold a volume."""
    return bags(volume_l, BALE_L)


def depth_after_mm(material: str, depth_mm: float, days: float) -> float:
    """Return the depth left after some days of settling and decay.

    Exponential, at the pace at which 75 mm thin to 50 mm over the middle of the
    material's published range.
    """
    soonest, latest = THINNING_DAYS.get(material, THINNING_DAYS_ELSE)
    pace = _loss() / ((soonest + latest) / 2)
    return depth_mm * exp(-pace * max(0.0, days))


def days_to_floor(material: str, depth_mm: float) -> Thinning:
    """Return the days until a layer falls to the top-up depth.

    Zero where it is there already.
    """
    soonest, latest = THINNING_DAYS.get(material, THINNING_DAYS_ELSE)
    if depth_mm <= FLOOR_DEPTH_MM:
        return Thinning(0.0, 0.0, 0.0)
    part = log(depth_mm / FLOOR_DEPTH_MM) / _loss()
    return Thinning(part * soonest, part * (soonest + latest) / 2, part * latest)


def _loss() -> float:
    return log(TARGET_DEPTH_MM / FLOOR_DEPTH_MM)


def ring_diameter_m(crown_width_m: float | None, years: float | None) -> float:
    """Return a sensible ring: by year at first, then to the dripline.

    Parameters
    ----------
    crown_width_m : float or None
        Width of the crown.
    years : float or None
        Years since planting; ``None`` counts as grown.
    """
    if years is not None and years < len(RING_DIAMETER_M):
        return RING_DIAMETER_M[int(max(0.0, years))]
    return min(WIDEST_RING_M, max(GROWN_RING_M, crown_width_m or 0.0))


def tree_ring_m(tree: TreeFacts, day: date) -> float:
    """Return a tree's ring across on a day [m]; it ends half-way to the next plant.

    As far apart as recorded, else bushes, vines and herbs as usual for their kind: the
    rings of a row laid over each other would get everything twice. Stems of a clump
    stand in one ring.
    """
    species = tree.species
    usual_m = None if species.habit == "tree" else species.spacing_typical_m
    apart_m = usual_m if tree.clump_id is not None else tree.spacing_m or usual_m
    width_m = ring_diameter_m(tree.crown_width_m, tree.years_since_planting(day))
    return width_m if apart_m is None else min(width_m, max(apart_m, LEAST_RING_M))


@dataclass(frozen=True, slots=True)
class Layer:
    """A mulch layer as last known: how deep on which day."""

    material: str
    depth_mm: float
    on: date

    def depth_on_mm(self, day: date) -> float:
        """Return the depth expected on ``day``; never deeper than it was."""
        return depth_after_mm(self.material, self.depth_mm, (day - self.on).days)

    def topped_up(self, added_mm: float, day: date) -> "Layer":
        """Return the layer after adding to it."""
        return Layer(self.material, self.depth_on_mm(day) + added_mm, day)
