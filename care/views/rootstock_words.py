"""A tree's rootstock and flowers in words: what is known, and what follows from it."""

from care.planning.moves import Held, Rootstock, find_rootstock
from orchard.models import Tree

HELD = {
    Held.YES: "needs a post or wires for good",
    Held.MAYBE: "may need a post for good, in wind or under much fruit",
    Held.NO: "needs no post once it has rooted",
}


def rootstock_facts(tree: Tree) -> tuple[tuple[str, str], ...]:
    """Return what is said of a tree's rootstock and its flowers, as far as it was."""
    facts = []
    if tree.rootstock:
        facts.append(("Rootstock", rootstock_words(tree.rootstock, tree.species_key)))
    if tree.sex:
        facts.append(("Its flowers are", str(tree.get_sex_display()).lower()))
    return tuple(facts)


def rootstock_words(name: str, species_key: str) -> str:
    """Return a rootstock, how large a tree grows on it, and whether it is held up."""
    stock = find_rootstock(name, species_key)
    if stock is None:
        return f"{name}: not known here, so its sizes are those of a full tree"
    source = "" if stock.source else " (from memory)"
    return f"{name}: {stock.size.words}, {_height(stock)}{source}; {HELD[stock.held]}"


def _height(stock: Rootstock) -> str:
    low, high = round(100 * stock.low), round(100 * stock.high)
    if low == high == 100:  # noqa: PLR2004 (in percent)
        return "as high as a full tree"
    share = f"{high}%" if low == high else f"{low} to {high}%"
    return f"{share} as high as a full tree"


def lacks_post(tree: Tree) -> str:
    """Return that a tree should be held up for good and is not, or nothing."""
    stock = find_rootstock(tree.rootstock, tree.species_key)
    if stock is None or stock.held is not Held.YES or tree.in_container:
        return ""
    if tree.support == Tree.Support.PERMANENT:
        return ""
    return (
        f"Trees on {stock.name} fall over under their fruit: give it a post or wires for "
        "good, or write down that it has them."
    )
