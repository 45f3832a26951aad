"""What to buy and carry for a planting: sums over its sheets, rounded up to whole."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from care.facts import Stock
from care.planning.planting_sheet import Sheet
from care.science.mulch import BAG_L, BALE_L
from care.science.planting_amounts import (
    METRIC_BAG_L,
    METRIC_CAN_L,
    STAKES,
    US_CAN_L,
    whole,
)
from care.science.potting import pot_litres, wet_weight_kg
from orchard.catalogue.search import called


@dataclass(frozen=True, slots=True)
class Item:
    """One thing to buy or carry.

    ``amount`` is what the sheets sum to in the SI ``unit``; ``pieces`` of ``piece`` each
    are the whole bags, bales or cans that hold it. ``detail`` says which kind of it.
    """

    code: str
    amount: float
    unit: str
    detail: str = ""
    pieces: int | None = None
    piece: float | None = None
    piece_name: str = ""


@dataclass(frozen=True, slots=True)
class Plant:
    """Plants to buy that are alike."""

    species: str
    cultivar: str
    rootstock: str
    stock: str
    stock_litres: float | None
    caliper_mm: float | None
    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ShoppingList:
    """Everything a planting still takes; ``standing`` trees are not in it."""

    plants: tuple[Plant, ...]
    items: tuple[Item, ...]
    trees: int
    standing: int
    bag_l: float

    @property
    def wet_bag_kg(self) -> float:
        """What a bag that lay in the rain weighs; likely, from memory."""
        return wet_weight_kg(self.bag_l, "mix")


SLACK = 0.01  # no bag more for a hundredth of the sum, as nobody measures closer

#: A figure of a step -> what is bought for it, in the order of the list.
BOUGHT = {
    "compost_l": "compost",
    "acid_l": "peat_or_bark",
    "medium_l": "potting_mix",
    "mound_l": "mound_soil",
    "mulch_l": "mulch",
    "pot_mulch_l": "pot_bark",
    "product_g": "feed",
    "edging_m": "edging",
    "stakes": "stakes",
    "posts": "posts",
    "water_l": "water",
}
IN_BAGS = ("compost", "peat_or_bark", "potting_mix", "acid_mix", "mulch", "pot_bark")
ONE_EACH = {"trunk_guard": "guards", "label": "labels"}
ORDER = (
    *("pots", "compost", "peat_or_bark", "potting_mix", "acid_mix", "mound_soil"),
    *("mulch", "pot_bark", "feed", "edging", "stakes", "posts", "ties", "guards"),
    *("labels", "water"),
)


def shopping_list(sheets: Iterable[Sheet], *, in_us_sizes: bool) -> ShoppingList:
    """Return what the trees that do not stand yet take together.

    Parameters
    ----------
    sheets : iterable of Sheet
    in_us_sizes : bool
        Whether bags hold 2 cubic feet and cans 2 gallons, in place of 50 and 10 L.

    Returns
    -------
    ShoppingList
        Of a range the most: it holds for the widest hole. Rounded up once, over the
        sum, never tree by tree.
    """
    rows = list(sheets)
    left = [sheet for sheet in rows if sheet.stood_on is None]
    sums: dict[tuple[str, str], float] = defaultdict(float)
    units: dict[str, str] = {}
    for sheet in left:
        for code, detail, amount, unit in _needs(sheet):
            sums[code, detail] += amount
            units[code] = unit
    sizes = (BAG_L, US_CAN_L) if in_us_sizes else (METRIC_BAG_L, METRIC_CAN_L)
    items = [_item(key, amount, units[key[0]], sizes) for key, amount in sums.items()]
    items.sort(key=lambda item: (ORDER.index(item.code), item.detail))
    standing = len(rows) - len(left)
    return ShoppingList(
        _plants(left), tuple(items), len(left), standing, bag_l=sizes[0]
    )


def _needs(sheet: Sheet) -> list[tuple[str, str, float, str]]:
    """Return what one tree takes: what, which kind, how much, in which unit."""
    found = []
    for step in sheet.steps:
        if step.code in ONE_EACH:
            found.append((ONE_EACH[step.code], "", 1.0, ""))
        for figure in step.figures:
            code = BOUGHT.get(figure.name)
            amount = figure.least if figure.most is None else figure.most
            if code is not None and amount > 0:
                code, detail = _which(code, sheet)
                found.append((code, detail, float(amount), figure.unit))
    ties = STAKES[sheet.tree.support][1]
    if ties and not sheet.tree.in_container:
        found.append(("ties", "", float(ties), ""))
    pot_l = pot_litres(sheet.tree) if sheet.tree.in_container else None
    if pot_l:
        found.append(("pots", f"{pot_l:g}", 1.0, ""))
    return found


def _which(code: str, sheet: Sheet) -> tuple[str, str]:
    if code == "mulch":
        return code, sheet.wish.mulch_material
    if code == "potting_mix" and sheet.step("acid_mix") is not None:
        return "acid_mix", ""
    return code, ""


def _item(
    key: tuple[str, str], amount: float, unit: str, sizes: tuple[float, float]
) -> Item:
    code, detail = key
    bag_l, can_l = sizes
    if code == "mulch" and detail == "pine_straw":
        piece, name = BALE_L, "bale"
    elif code in IN_BAGS:
        piece, name = bag_l, "bag"
    elif code == "water":
        piece, name = can_l, "can"
    else:
        return Item(code, amount, unit, detail)
    pieces = whole(amount * (1 - SLACK), piece)
    return Item(code, amount, unit, detail, pieces, piece, name)


def _plants(sheets: Iterable[Sheet]) -> tuple[Plant, ...]:
    """Return the plants themselves, those alike together."""
    alike: dict[tuple[str, str, str, str, float | None, float | None], list[str]]
    alike = defaultdict(list)
    for sheet in sheets:
        tree = sheet.tree
        size_l = None if tree.stock is Stock.BARE_ROOT else tree.stock_litres
        key = (
            *(
                called(tree.species.name),
                tree.cultivar,
                tree.rootstock,
                tree.stock.value,
            ),
            *(size_l, tree.caliper_mm),
        )
        alike[key].append(tree.name)
    return tuple(Plant(*key, names=tuple(names)) for key, names in alike.items())
