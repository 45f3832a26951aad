"""What a walk's tasks take along: water, feed and mulch summed, and the tools."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from care.models import Task
from care.science.mulch import BAG_L, bags
from care.science.planting_amounts import METRIC_BAG_L


class Bring(StrEnum):
    """What is brought, in the order in which it is listed."""

    WATER = "water"
    FEED = "feed"
    SULFUR = "sulfur"
    MULCH = "mulch"
    BOXES = "boxes"
    COVERS = "covers"
    GUARDS = "guards"
    SHADE = "shade"
    LADDER = "ladder"
    SAW = "saw"
    SECATEURS = "secateurs"
    TIES = "ties"
    SPADE = "spade"
    FORK = "fork"
    HAND_FORK = "hand_fork"
    TROWEL = "trowel"
    DOLLY = "dolly"
    BUCKET = "bucket"
    GLOVES = "gloves"
    EYES = "eyes"
    MASK = "mask"


# Units in which an amount is summed; another unit of the same work is left alone.
SUMMED: Mapping[Bring, str] = {
    Bring.WATER: "L",
    Bring.FEED: "g",
    Bring.SULFUR: "g",
    Bring.MULCH: "L",
}
#: One a tree.
COUNTED = frozenset({Bring.COVERS, Bring.GUARDS, Bring.SHADE})

# What work takes, by its kind and action: common practice, no source.
BY_WORK: Mapping[tuple[str, str], tuple[Bring, ...]] = {
    ("watering", "water"): (Bring.WATER,),
    ("watering", "water_by_leave"): (Bring.WATER,),
    ("watering", "check"): (Bring.TROWEL,),
    ("flushing", "flush"): (Bring.WATER, Bring.BUCKET),
    ("freeze", "ready_soil"): (Bring.WATER,),
    ("freeze", "pick_ripe"): (Bring.BOXES, Bring.SECATEURS),
    ("feeding", "feed"): (Bring.FEED, Bring.GLOVES),
    ("soil", "acidify"): (Bring.SULFUR, Bring.GLOVES, Bring.EYES, Bring.MASK),
    ("soil", "test_soil"): (Bring.TROWEL, Bring.BUCKET),
    ("mulching", "top_up"): (Bring.MULCH, Bring.FORK, Bring.GLOVES),
    ("mulching", "clear_trunk"): (Bring.HAND_FORK, Bring.GLOVES),
    ("pruning", "prune"): (Bring.SECATEURS, Bring.GLOVES, Bring.EYES),
    ("training", "train"): (Bring.TIES, Bring.SECATEURS),
    ("suckers", "pull_suckers"): (Bring.GLOVES,),
    ("suckers", "pull_sprouts"): (Bring.GLOVES,),
    ("suckers", "choose_pups"): (Bring.SECATEURS, Bring.GLOVES),
    ("sanitation", "clean_up"): (Bring.SECATEURS, Bring.BUCKET, Bring.GLOVES),
    ("sanitation", "look_for_blight"): (Bring.SECATEURS, Bring.BUCKET, Bring.GLOVES),
    ("cold", "cover"): (Bring.COVERS,),
    ("cold", "move_in"): (Bring.DOLLY,),
    ("cold", "move_out"): (Bring.DOLLY,),
    ("cold", "group"): (Bring.DOLLY,),
    ("heat", "shade_pots"): (Bring.SHADE,),
    ("weeding", "weed"): (Bring.HAND_FORK, Bring.BUCKET, Bring.GLOVES),
    ("weeding", "edge"): (Bring.SPADE, Bring.GLOVES),
    ("weeding", "fit_guard"): (Bring.GUARDS,),
    ("thinning", "thin"): (Bring.SECATEURS, Bring.BUCKET),
    ("thinning", "remove_fruit"): (Bring.SECATEURS, Bring.BUCKET),
    ("harvest", "pick"): (Bring.BOXES, Bring.SECATEURS),
    ("planting", "drainage"): (Bring.SPADE, Bring.BUCKET),
    ("planting", "plant"): (Bring.SPADE, Bring.BUCKET, Bring.GLOVES),
    ("potting", "pot_up"): (Bring.TROWEL, Bring.GLOVES),
    ("potting", "root_prune"): (Bring.TROWEL, Bring.SECATEURS, Bring.GLOVES),
}
# What cautions ask for besides.
BY_CAUTION: Mapping[str, tuple[Bring, ...]] = {
    "ladder": (Bring.LADDER,),
    "saw": (Bring.SAW, Bring.GLOVES, Bring.EYES),
    "two_people_lift": (Bring.DOLLY,),
    "toxic_parts": (Bring.GLOVES,),
    "mango_sap": (Bring.GLOVES,),
    "label_rules": (Bring.GLOVES,),
    "damp_mulch_dust": (Bring.GLOVES,),
    "trimmer_throws": (Bring.EYES,),
}
# Whoever is called brings their own; nobody here climbs or saws.
BY_OTHERS = frozenset({"call_professional"})


@dataclass(frozen=True, slots=True)
class Brought:
    """One thing to bring.

    ``amount`` is the sum in the SI ``unit``, ``None`` where nothing is measured;
    ``trees`` is for how many trees, ``detail`` which product. ``pieces`` of ``piece_l``
    litres each are the whole bags that hold it.
    """

    what: Bring
    trees: int
    amount: float | None = None
    unit: str = ""
    detail: str = ""
    pieces: int | None = None
    piece_l: float | None = None


def bring_along(
    tasks: Iterable[tuple[Task, str]], *, in_us_sizes: bool
) -> tuple[Brought, ...]:
    """Return what tasks take along, each thing once, feed once a product.

    Parameters
    ----------
    tasks
        Each with the product that its reason names, or nothing.
    in_us_sizes : bool
        Whether bags hold 2 cubic feet in place of 50 L.
    """
    trees: dict[tuple[Bring, str], set[int]] = defaultdict(set)
    sums: dict[tuple[Bring, str], float] = defaultdict(float)
    for task, product in tasks:
        for what in _things(task):
            key = what, product if what is Bring.FEED else ""
            trees[key].add(task.tree_id)
            if what in SUMMED and task.unit == SUMMED[what] and task.amount:
                sums[key] += task.amount
    order = list(Bring)
    keys = sorted(trees, key=lambda key: (order.index(key[0]), key[1]))
    bag_l = BAG_L if in_us_sizes else METRIC_BAG_L
    return tuple(_brought(key, len(trees[key]), sums.get(key), bag_l) for key in keys)


def _things(task: Task) -> set[Bring]:
    if BY_OTHERS.intersection(task.cautions):
        return set()
    found = set(BY_WORK.get((task.kind, task.action), ()))
    for caution in task.cautions:
        found.update(BY_CAUTION.get(caution, ()))
    return found


def _brought(
    key: tuple[Bring, str], trees: int, amount: float | None, bag_l: float
) -> Brought:
    what, detail = key
    if amount is None:
        return Brought(what, trees, detail=detail)
    if what is not Bring.MULCH:
        return Brought(what, trees, amount, SUMMED[what], detail)
    return Brought(what, trees, amount, "L loose", detail, bags(amount, bag_l), bag_l)
