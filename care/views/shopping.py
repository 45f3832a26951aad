"""What to buy and carry for a planting, as a list to print."""

import math
from dataclasses import dataclass

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext, gettext_noop, ngettext, pgettext
from django.views.decorators.http import require_safe

from care.planning.shopping import Item, Plant, ShoppingList, shopping_list
from care.views.planting_sheet import PAGE, sheets_in
from care.views.plantings import find_planting
from orchard.languages import localised
from orchard.models import Tree
from orchard.units import (
    Quantity,
    UnitSystem,
    format_quantity,
    from_si,
    unit_label,
)
from orchard.views.site_page import let_in

NAMES = {
    "pots": gettext_noop("Pots of {detail}"),
    "compost": gettext_noop("Compost"),
    "peat_or_bark": gettext_noop("Peat or fine pine bark"),
    "potting_mix": gettext_noop("Potting mix, soilless"),
    "acid_mix": gettext_noop("Potting mix for acid lovers"),
    "mound_soil": gettext_noop("Soil for mounds"),
    "mulch": gettext_noop("Mulch: {detail}"),
    "pot_bark": gettext_noop("Bark to cover pots"),
    "feed": gettext_noop("Feed: {detail}"),
    "edging": gettext_noop("Edging"),
    "stakes": gettext_noop("Stakes"),
    "posts": gettext_noop("Posts for good"),
    "ties": gettext_noop("Wide ties"),
    "guards": gettext_noop("Trunk guards"),
    "labels": gettext_noop("Labels"),
}
LENGTH_DIGITS = 6  # a length that is whole but for its arithmetic stays so
COUNTED = ("pots", "stakes", "posts", "ties", "guards", "labels")


@dataclass(frozen=True, slots=True)
class Line:
    """One thing on the list: what, how much is needed, what to buy for it."""

    name: str
    needed: str
    buy: str


@dataclass(frozen=True, slots=True)
class PlantLine:
    """Plants to buy that are alike."""

    count: int
    what: str
    names: str


@require_safe
@login_required
def planting_shopping(
    request: HttpRequest, site: str, planting: object
) -> HttpResponse:
    """Show what a planting still takes, summed and rounded up to whole bags."""
    page = let_in(request, site)
    found = find_planting(page, planting)
    sheets = sheets_in(page, found)
    listed = shopping_list(sheets, in_us_sizes=page.units is UnitSystem.US)
    context = page.context(
        PAGE,
        planting=found,
        listed=listed,
        plants=[plant_line(plant, page.units) for plant in listed.plants],
        lines=[
            shopping_line(item, page.site.feed_product_name, page.units)
            for item in listed.items
        ],
        wet_bag=_wet_bag(listed, page.units),
    )
    return render(request, "care/planting_shopping.html", context)


def _wet_bag(listed: ShoppingList, units: UnitSystem) -> str:
    if not any(item.piece_name == "bag" for item in listed.items):
        return ""
    return format_quantity(listed.wet_bag_kg, "kg", units)


def plant_line(plant: Plant, units: UnitSystem) -> PlantLine:
    """Return plants that are alike in words."""
    parts = [plant.species]
    if plant.cultivar:
        parts[0] += (
            f" \N{LEFT SINGLE QUOTATION MARK}{plant.cultivar}\N{RIGHT SINGLE QUOTATION MARK}"
        )
    if plant.rootstock:
        parts[0] = gettext("{plant} on {rootstock}").format(
            plant=parts[0], rootstock=plant.rootstock
        )
    parts.append(str(dict(Tree.Stock.choices)[plant.stock]).lower())
    if plant.stock_litres:
        parts.append(format_quantity(plant.stock_litres, "L", units))
    if plant.caliper_mm:
        parts.append(
            gettext("trunk {caliper}").format(
                caliper=format_quantity(plant.caliper_mm, "mm", units)
            )
        )
    return PlantLine(len(plant.names), ", ".join(parts), ", ".join(plant.names))


def _at_least(item: Item, units: UnitSystem) -> str:
    """Return what is cut to length up to the next whole metre or foot."""
    if item.unit != "m":
        return format_quantity(item.amount, item.unit, units)
    length = from_si(item.amount, Quantity.LENGTH, units)
    whole = math.ceil(round(length, LENGTH_DIGITS))
    return f"{whole} {unit_label(Quantity.LENGTH, units)}"


def _name(item: Item) -> str:
    if item.code == "water":
        return pgettext("on a shopping list", "Water")
    return gettext(NAMES[item.code])


def _pieces(name: str, number: int) -> str:
    if name == "bale":
        return ngettext("{number} bale of {size}", "{number} bales of {size}", number)
    if name == "can":
        return ngettext("{number} can of {size}", "{number} cans of {size}", number)
    return ngettext("{number} bag of {size}", "{number} bags of {size}", number)


def shopping_line(item: Item, product: str, units: UnitSystem) -> Line:
    """Return one thing in words, with what the rounding was."""
    detail = {
        "pots": lambda: format_quantity(float(item.detail), "L", units),
        "mulch": lambda: str(dict(Tree.MulchMaterial.choices)[item.detail]).lower(),
        "feed": lambda: product,
    }.get(item.code, str)()
    name = _name(item).format(detail=detail)
    if item.code in COUNTED:
        count = localised(f"{item.amount:g}")
        return Line(name, count, count)
    needed = format_quantity(item.amount, item.unit, units)
    if item.pieces is None or item.piece is None:
        return Line(name, needed, _at_least(item, units))
    size = format_quantity(item.piece, item.unit, units)
    return Line(
        name,
        needed,
        _pieces(item.piece_name, item.pieces).format(number=item.pieces, size=size),
    )
