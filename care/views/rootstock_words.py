"""A tree's rootstock and flowers in words: what is known, and what follows from it."""

from dataclasses import dataclass

from django.utils.translation import gettext, gettext_noop

from care.facts import SpeciesFacts
from care.planning.moves import Held, Rootstock, Size, find_rootstock
from care.views.references import Reference, references
from orchard.models import Tree
from orchard.units import UnitSystem, format_quantity

SIZES = {
    Size.VERY_DWARF: gettext_noop("very dwarf"),
    Size.DWARF: gettext_noop("dwarf"),
    Size.SEMI_DWARF: gettext_noop("semi-dwarf"),
    Size.SEMI_STANDARD: gettext_noop("semi-standard"),
    Size.STANDARD: gettext_noop("standard"),
}
HELD = {
    Held.YES: gettext_noop("needs a post or wires for good"),
    Held.MAYBE: gettext_noop("may need a post for good, in wind or under much fruit"),
    Held.NO: gettext_noop("needs no post once it has rooted"),
}


#: Who says which stocks of apples are held up for good; others follow them.
SAYS_HELD = ("az_mg_stakes", "extension_apple_stocks")


@dataclass(frozen=True, slots=True)
class RootstockRow:
    """One figure of a rootstock, and who says so."""

    label: str
    value: str
    works: tuple[Reference, ...]


def rootstock_rows(
    tree: Tree, species: SpeciesFacts, units: UnitSystem
) -> tuple[RootstockRow, ...]:
    """Return the figures of a tree's rootstock; none where it is not known here."""
    stock = find_rootstock(tree.rootstock, tree.species_key)
    if stock is None:
        return ()
    height_m, spread_m = species.mature_height_m, species.mature_spread_m
    spread = None if spread_m is None else stock.size.value * spread_m
    low, high = ((height_m or 0.0) * share for share in (stock.low, stock.high))

    def metres(length_m: float) -> str:
        return format_quantity(length_m, "m", units)

    span = (
        metres(high)
        if low == high
        else gettext("{low} to {high}").format(low=metres(low), high=metres(high))
    )
    rows = (
        (gettext("Height"), "" if height_m is None else span, (stock.source,)),
        (
            gettext("Width"),
            "" if spread is None else metres(spread),
            (stock.size.source,),
        ),
        (gettext("Held up"), gettext(HELD[stock.held]), SAYS_HELD),
    )
    return tuple(
        RootstockRow(
            gettext("{label} on {name}").format(label=label, name=stock.name),
            value,
            references(keys, species.key),
        )
        for label, value, keys in rows
        if value
    )


def rootstock_facts(tree: Tree) -> tuple[tuple[str, str], ...]:
    """Return what is said of a tree's rootstock and its flowers, as far as it was."""
    facts = []
    if tree.rootstock:
        facts.append(
            (gettext("Rootstock"), rootstock_words(tree.rootstock, tree.species_key))
        )
    if tree.sex:
        facts.append((gettext("Its flowers are"), str(tree.get_sex_display()).lower()))
    return tuple(facts)


def rootstock_words(name: str, species_key: str) -> str:
    """Return a rootstock, how large a tree grows on it, and whether it is held up."""
    stock = find_rootstock(name, species_key)
    if stock is None:
        return gettext(
            "{name}: not known here, so its sizes are those of a full tree"
        ).format(name=name)
    source = "" if stock.source else " " + gettext("(from memory)")
    size, held = gettext(SIZES[stock.size]), gettext(HELD[stock.held])
    return f"{name}: {size}, {_height(stock)}{source}; {held}"


def _height(stock: Rootstock) -> str:
    low, high = round(100 * stock.low), round(100 * stock.high)
    if low == high == 100:  # noqa: PLR2004 (in percent)
        return gettext("as high as a full tree")
    share = (
        f"{high}%"
        if low == high
        else gettext("{low} to {high}%").format(low=low, high=high)
    )
    return gettext("{share} as high as a full tree").format(share=share)


def lacks_post(tree: Tree) -> str:
    """Return that a tree should be held up for good and is not, or nothing."""
    stock = find_rootstock(tree.rootstock, tree.species_key)
    if stock is None or stock.held is not Held.YES or tree.in_container:
        return ""
    if tree.support == Tree.Support.PERMANENT:
        return ""
    return gettext(
        "Trees on {name} fall over under their fruit: give it a post or "
        "wires for good, or write down that it has them."
    ).format(name=stock.name)
