"""What a planting takes: soil, compost, water, mulch, edging, feed; and how many bags.

Amounts with two ends hold for the narrowest and the widest hole, or for the least and
the most of a published range.
"""

from dataclasses import dataclass
from math import ceil, pi

from care.facts import Situation, Stock, Support, TreeFacts
from care.science.container_water import (
    AVAILABLE_SHARE_MIX,
    AVAILABLE_SHARE_SOIL,
    LEACHING_FRACTION,
    SALTY_LEACHING_FRACTION,
    container_capacity_l,
    pot_diameter_m,
)
from care.science.establishment import ball_litres
from care.science.feeding_plan import feeding_plan
from care.science.mulch import (
    CITRUS_LIMIT_MM,
    mulch_volume_l,
    ring_area_m2,
    tree_ring_m,
    trunk_diameter_m,
    trunk_gap_mm,
)
from care.science.nutrients import product_mass_g
from care.science.planting import Hole, planting_hole
from care.science.planting_checks import ACID, NATIVE
from care.science.potting import pot_litres
from care.science.season import season_of

Range = tuple[float, float]

# Of what goes back into the hole. Common practice, no source: gardening pages say a
# fifth to a third of compost, and a third to a half of peat or pine bark.
SHARES = {NATIVE: 0.0, "compost": 0.25, ACID: 0.5}
# Texas A&M, stone fruit: mounds 6-12 in high and 8-10 ft across.
MOUND_HEIGHT_M = (0.15, 0.30)
MOUND_WIDTH_M = (2.5, 3.0)
POT_MULCH_MM = 30.0  # thin, so that water is seen to sink in; no source
# Bags of compost, peat, mix and mulch, and watering cans, in metric and in US shops;
# common sizes, from memory.
METRIC_BAG_L, METRIC_CAN_L = 50.0, 10.0
US_CAN_L = 2 * 3.785411784
# Two stakes outside the ball and a wide tie to each; a post for good with two ties.
# Common practice, no source.
STAKES = {Support.NONE: (0, 0), Support.STAKE: (2, 2), Support.PERMANENT: (1, 2)}


def cone_l(top_m: float, bottom_m: float, depth_m: float) -> float:
    """Return the volume of a cone cut off level, such as a hole with sloping sides [L].

    ``pi d / 12 (D2 + D b + b2)`` with both widths and the depth in metres.
    """
    widths = top_m**2 + top_m * bottom_m + bottom_m**2
    return 1000 * pi * depth_m / 12 * widths


def cap_l(width_m: float, height_m: float) -> float:
    """Return the volume of a flat dome, part of a sphere [L].

    ``pi h / 6 (3 a2 + h2)``, ``a`` being half the width; both in metres.
    """
    return 1000 * pi * height_m / 6 * (3 * (width_m / 2) ** 2 + height_m**2)


def hole_l(hole: Hole) -> Range:
    """Return what is dug out: sides slope from the rim to the width of the ball [L]."""
    widths = (hole.least_width_m, hole.most_width_m)
    least, most = (cone_l(width, hole.ball_width_m, hole.depth_m) for width in widths)
    return least, most


def ball_in_hole_l(tree: TreeFacts) -> float:
    """Return what the ball takes up below the ground [L]; bare roots take nothing."""
    if tree.stock is Stock.BARE_ROOT:
        return 0.0
    hole = planting_hole(tree)
    below_m = min(hole.depth_m, hole.ball_depth_m)
    return cone_l(hole.ball_width_m, hole.ball_width_m, below_m)


def backfill_l(tree: TreeFacts) -> Range:
    """Return what goes back round the ball [L]: the hole less the ball."""
    ball = ball_in_hole_l(tree)
    least, most = hole_l(planting_hole(tree))
    return least - ball, most - ball


def mixed_in_l(tree: TreeFacts, backfill: str) -> Range:
    """Return the compost, peat or bark mixed into what goes back [L]."""
    least, most = backfill_l(tree)
    share = SHARES[backfill]
    return share * least, share * most


def mound_l() -> Range:
    """Return the soil of a mound where water drains slowly [L]."""
    ends = zip(MOUND_WIDTH_M, MOUND_HEIGHT_M, strict=True)
    least, most = (cap_l(width_m, height_m) for width_m, height_m in ends)
    return least, most


@dataclass(frozen=True, slots=True)
class Ring:
    """The ring round a new tree: free of grass, edged, mulched but for the trunk."""

    radius_m: float
    depth_mm: float
    gap_mm: float
    turf_m2: float
    edging_m: float
    mulch_m2: float

    @property
    def mulch_l(self) -> float:
        """The litres of mulch as laid."""
        return mulch_volume_l(self.mulch_m2, self.depth_mm)


def ring_of(tree: TreeFacts, radius_m: float, depth_mm: float) -> Ring:
    """Return the ring of a tree; one too small for its bare strip is widened.

    The gap and the depth limit of citrus hold here as they do later.
    """
    gap_mm, trunk_m = trunk_gap_mm(tree.species), trunk_diameter_m(tree)
    if tree.species.feed_group == "citrus":
        depth_mm = min(depth_mm, CITRUS_LIMIT_MM)
    if radius_m <= trunk_m / 2 + gap_mm / 1000:
        radius_m = tree_ring_m(tree, tree.planted_on or tree.entered_on) / 2
    return Ring(
        radius_m=radius_m,
        depth_mm=depth_mm,
        gap_mm=gap_mm,
        turf_m2=pi * radius_m**2,
        edging_m=2 * pi * radius_m,
        mulch_m2=ring_area_m2(2 * radius_m, trunk_m, gap_mm / 1000),
    )


def medium_l(tree: TreeFacts) -> float:
    """Return the mix that fills a pot round its ball [L]; bare roots take nothing.

    Zero where the ball is as large as the pot, or nobody knows how large that is.
    """
    ball = 0.0 if tree.stock is Stock.BARE_ROOT else ball_litres(tree)
    return max(0.0, (pot_litres(tree) or 0.0) - ball)


def is_pot_too_small(tree: TreeFacts) -> bool:
    """Return whether the ball that is known does not fit into the pot."""
    litres = pot_litres(tree)
    known = tree.stock_litres is not None or tree.caliper_mm is not None
    is_ball = tree.stock is not Stock.BARE_ROOT and known
    return is_ball and litres is not None and ball_litres(tree) >= litres


def pot_water_l(tree: TreeFacts, *, is_water_salty: bool) -> float:
    """Return the water that fills a dry pot and lets some run out below [L].

    What its mix holds for the plant, over the share that stays: UF/IFAS EP529 lets 15
    parts of 100 run out, a quarter with salty water (from memory).
    """
    is_soil = "soil" in tree.container_medium
    share = AVAILABLE_SHARE_SOIL if is_soil else AVAILABLE_SHARE_MIX
    runs_out = SALTY_LEACHING_FRACTION if is_water_salty else LEACHING_FRACTION
    return float(container_capacity_l(pot_litres(tree) or 0.0, share)) / (1 - runs_out)


def pot_mulch_l(tree: TreeFacts) -> float:
    """Return the bark that covers a pot's mouth thinly [L]."""
    width_m = tree.container_diameter_m or pot_diameter_m(pot_litres(tree) or 0.0)
    return mulch_volume_l(pi / 4 * width_m**2, POT_MULCH_MM)


@dataclass(frozen=True, slots=True)
class FirstFeed:
    """The first part of the first season's feed, and the product that carries it."""

    nitrogen_g: float
    product_g: float


def first_feed(situation: Situation) -> FirstFeed | None:
    """Return what a new tree gets where it is fed at all; ``None`` without a figure.

    One part of the season's amount of a tree without years, as the plan reckons it
    later; ``situation.today`` is the planting day.
    """
    site, today = situation.site, situation.today
    plan = feeding_plan(situation, season_of(today, southern=site.is_southern))
    if plan is None:
        return None
    grams = product_mass_g(plan.split_g, site.feed_nitrogen_percent)
    return FirstFeed(plan.split_g, grams)


def whole(amount: float, piece: float) -> int:
    """Return how many whole bags, cans or packs of ``piece`` hold an amount."""
    return ceil(amount / piece - 1e-9)
