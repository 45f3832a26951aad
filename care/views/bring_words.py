"""What to bring to a walk, in words."""

from collections.abc import Iterable

from django.utils.translation import gettext, gettext_noop, ngettext

from care.models import Task
from care.planning.bring_along import COUNTED, Bring, Brought, bring_along
from care.views.wording import count_trees, reason_of
from orchard.units import UnitSystem, format_quantity

NAMES = {
    Bring.WATER: gettext_noop("Water, with hose or cans"),
    Bring.FEED: gettext_noop("Feed"),
    Bring.SULFUR: gettext_noop("Sulfur"),
    Bring.MULCH: gettext_noop("Mulch, loose"),
    Bring.BOXES: gettext_noop("Boxes or baskets for fruit"),
    Bring.COVERS: gettext_noop("Covers and pegs"),
    Bring.GUARDS: gettext_noop("Trunk guards"),
    Bring.SHADE: gettext_noop("Cloth or boards to shade pots"),
    Bring.LADDER: gettext_noop("Three-legged orchard ladder, for two people together"),
    Bring.SAW: gettext_noop("Pruning saw, by hand"),
    Bring.SECATEURS: gettext_noop("Secateurs, and something to clean the blades with"),
    Bring.TIES: gettext_noop("Soft ties"),
    Bring.SPADE: gettext_noop("Spade"),
    Bring.FORK: gettext_noop("Fork and barrow"),
    Bring.HAND_FORK: gettext_noop("Hand fork"),
    Bring.TROWEL: gettext_noop("Trowel"),
    Bring.DOLLY: gettext_noop("Dolly, or a second person to lift"),
    Bring.BUCKET: gettext_noop("Bucket"),
    Bring.GLOVES: gettext_noop("Gloves"),
    Bring.EYES: gettext_noop("Eye protection"),
    Bring.MASK: gettext_noop("Dust mask"),
}
#: Whatever there is to do; common practice, no source.
ALWAYS = gettext_noop("Water to drink, a hat or a coat, firm shoes")


def bring_lines(tasks: Iterable[Task], units: UnitSystem) -> tuple[str, ...]:
    """Return what a walk's tasks take along, a line each; nothing where none is left."""
    named = [(task, reason_of(task).text("product")) for task in tasks]
    if not named:
        return ()
    brought = bring_along(named, in_us_sizes=units is UnitSystem.US)
    return (*(bring_line(one, units) for one in brought), gettext(ALWAYS))


def bring_line(one: Brought, units: UnitSystem) -> str:
    """Return one thing with how much of it, such as ``Feed: 960 g of 10-10-10``."""
    name = gettext(NAMES[one.what])
    if one.what in COUNTED:
        return gettext("{name}: for {trees}").format(
            name=name, trees=count_trees(one.trees)
        )
    if one.amount is None:
        return f"{name}: {one.detail}" if one.detail else name
    words = f"{name}: {format_quantity(one.amount, one.unit, units)}"
    if one.detail:
        words += " " + gettext("of {detail}").format(detail=one.detail)
    if one.pieces is not None and one.piece_l is not None:
        size = format_quantity(one.piece_l, "L loose", units)
        words += ngettext(
            ", {number} bag of {size}", ", {number} bags of {size}", one.pieces
        ).format(number=one.pieces, size=size)
    return words
