"""What to bring to a walk, in words."""

from collections.abc import Iterable

from care.models import Task
from care.planning.bring_along import COUNTED, Bring, Brought, bring_along
from care.views.wording import count_trees, reason_of
from orchard.units import UnitSystem, format_quantity

NAMES = {
    Bring.WATER: "Water, with hose or cans",
    Bring.FEED: "Feed",
    Bring.SULFUR: "Sulfur",
    Bring.MULCH: "Mulch, loose",
    Bring.BOXES: "Boxes or baskets for fruit",
    Bring.COVERS: "Covers and pegs",
    Bring.GUARDS: "Trunk guards",
    Bring.SHADE: "Cloth or boards to shade pots",
    Bring.LADDER: "Three-legged orchard ladder, for two people together",
    Bring.SAW: "Pruning saw, by hand",
    Bring.SECATEURS: "Secateurs, and something to clean the blades with",
    Bring.TIES: "Soft ties",
    Bring.SPADE: "Spade",
    Bring.FORK: "Fork and barrow",
    Bring.HAND_FORK: "Hand fork",
    Bring.TROWEL: "Trowel",
    Bring.DOLLY: "Dolly, or a second person to lift",
    Bring.BUCKET: "Bucket",
    Bring.GLOVES: "Gloves",
    Bring.EYES: "Eye protection",
    Bring.MASK: "Dust mask",
}
#: Whatever there is to do; common practice, no source.
ALWAYS = "Water to drink, a hat or a coat, firm shoes"


def bring_lines(tasks: Iterable[Task], units: UnitSystem) -> tuple[str, ...]:
    """Return what a walk's tasks take along, a line each; nothing where none is left."""
    named = [(task, reason_of(task).text("product")) for task in tasks]
    if not named:
        return ()
    brought = bring_along(named, in_us_sizes=units is UnitSystem.US)
    return (*(bring_line(one, units) for one in brought), ALWAYS)


def bring_line(one: Brought, units: UnitSystem) -> str:
    """Return one thing with how much of it, such as ``Feed: 960 g of 10-10-10``."""
    name = NAMES[one.what]
    if one.what in COUNTED:
        return f"{name}: for {count_trees(one.trees)}"
    if one.amount is None:
        return f"{name}: {one.detail}" if one.detail else name
    words = f"{name}: {format_quantity(one.amount, one.unit, units)}"
    if one.detail:
        words += f" of {one.detail}"
    if one.pieces is not None and one.piece_l is not None:
        size = format_quantity(one.piece_l, "L loose", units)
        words += f", {one.pieces} bag{'' if one.pieces == 1 else 's'} of {size}"
    return words
