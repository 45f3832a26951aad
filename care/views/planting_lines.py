"""A planting sheet as lines: what is ticked by whom, what is left, what to mind."""

from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext, gettext_noop

from care.facts import Stock
from care.forms.planting_steps import StepForm
from care.planning.planting_sheet import Sheet, Tick
from care.planning.planting_steps import Step
from care.views.cautions import caution_words
from care.views.check_lists import CHECKS
from care.views.days import day_words, full_day
from care.views.planting_step_words import (
    WHY,
    amount_of,
    figures_words,
    label_of,
    title_of_step,
)
from care.views.references import REFERENCES, Reference
from orchard.catalogue.search import called
from orchard.models import Tree, WantedTree
from orchard.units import UnitSystem, format_quantity

#: What is filled in where nobody chose otherwise, by its code.
BACKFILL_WORDS = {
    "native": gettext_noop("the soil that came out"),
    "compost": gettext_noop("that soil with compost"),
    "acid": gettext_noop("that soil with peat or pine bark"),
}


@dataclass(frozen=True, slots=True)
class Amount:
    """An amount and what it is."""

    words: str
    label: str


@dataclass(frozen=True, slots=True)
class StepLine:
    """One step as a person reads it; ``ticked`` says who did it."""

    code: str
    title: str
    how: str
    amounts: tuple[Amount, ...]
    why: str
    cautions: tuple[str, ...]
    references: tuple[Reference, ...]
    ticked: str
    can_untick: bool
    form: StepForm | None
    asks: str


@dataclass(frozen=True, slots=True)
class SheetPage:
    """One tree's sheet as a page says it."""

    wanted: WantedTree
    name: str
    what: str
    day: str
    is_dated: bool
    progress: str
    cautions: tuple[str, ...]
    unusual: str
    before: tuple[StepLine, ...]
    work: tuple[StepLine, ...]
    unticked: tuple[str, ...]
    stood: str


def sheet_page(sheet: Sheet, today: date, units: UnitSystem) -> SheetPage:
    """Return a sheet in words."""
    lines = [(step, step_line(sheet, step, today, units)) for step in sheet.steps]
    stood = sheet.stood_on
    return SheetPage(
        wanted=sheet.wanted,
        name=sheet.tree.name,
        what=what_words(sheet, units),
        day=_day_words(sheet, today),
        is_dated=sheet.wanted.plant_on is not None,
        progress=progress_words(sheet),
        cautions=caution_words(sheet.cautions),
        unusual=unusual_words(sheet),
        before=tuple(line for step, line in lines if step.is_before),
        work=tuple(line for step, line in lines if not step.is_before),
        unticked=tuple(title_of_step(step.code) for step in sheet.unticked),
        stood="" if stood is None else full_day(stood),
    )


def step_line(sheet: Sheet, step: Step, today: date, units: UnitSystem) -> StepLine:
    """Return one step of a sheet in words."""
    tick = sheet.ticks.get(step.code)
    form = StepForm(step=step, units=units) if step.asks and tick is None else None
    return StepLine(
        code=step.code,
        title=title_of_step(step.code),
        how=gettext(CHECKS.get(step.code, "")),
        amounts=tuple(
            Amount(amount_of(figure, units), label_of(figure))
            for figure in step.figures
        ),
        why=gettext(WHY.get(step.code, "")),
        cautions=caution_words(step.cautions),
        references=tuple(
            REFERENCES.get(key, Reference(gettext("Source “{key}”.").format(key=key)))
            for key in step.sources
        ),
        ticked="" if tick is None else _tick_words(tick, step, today, units),
        can_untick=tick is not None and not tick.is_from_log,
        form=form,
        asks=step.asks,
    )


def _tick_words(tick: Tick, step: Step, today: date, units: UnitSystem) -> str:
    who = gettext("somebody") if tick.person is None else tick.person.shown_name
    words = [f"{who}, {day_words(tick.on, today)}"]
    if tick.amount is not None:
        unit = step.asks
        shown = format_quantity(tick.amount, unit, units)
        if unit == "h":
            shown = gettext("{number} hours").format(number=shown.removesuffix(" h"))
        words.insert(0, shown)
    if tick.is_from_log:
        words.append(gettext("undone in the log"))
    return " · ".join(words)


def progress_words(sheet: Sheet) -> str:
    """Return how far a sheet is, in words."""
    left, all_steps = len(sheet.unticked), len(sheet.steps)
    if left == 0:
        return gettext("All {all_steps} steps are done.").format(all_steps=all_steps)
    if left == all_steps:
        return gettext("None of {all_steps} steps is done yet.").format(
            all_steps=all_steps
        )
    return gettext("{done} of {all_steps} steps done.").format(
        done=all_steps - left, all_steps=all_steps
    )


def what_words(sheet: Sheet, units: UnitSystem) -> str:
    """Return what is planted, how it came, and into what."""
    tree = sheet.tree
    kind = called(tree.species.name)
    if tree.cultivar:
        kind = f"{kind} \N{LEFT SINGLE QUOTATION MARK}{tree.cultivar}\N{RIGHT SINGLE QUOTATION MARK}"
    parts = [kind, str(dict(Tree.Stock.choices)[tree.stock.value]).lower()]
    if tree.stock_litres and tree.stock is not Stock.BARE_ROOT:
        parts.append(
            gettext("ball of {stock_litres}").format(
                stock_litres=format_quantity(tree.stock_litres, "L", units)
            )
        )
    if tree.in_container and tree.container_litres:
        litres = format_quantity(tree.container_litres, "L", units)
        parts.append(gettext("for a pot of {litres}").format(litres=litres))
    else:
        parts.append(
            gettext("for a pot") if tree.in_container else gettext("for the ground")
        )
    return ", ".join(parts)


def _day_words(sheet: Sheet, today: date) -> str:
    day = sheet.wanted.plant_on if sheet.wanted.tree is None else sheet.tree.planted_on
    if day is None:
        return gettext("No day is set yet.")
    if sheet.stood_on is not None:
        return ""
    return gettext("To be planted {day}.").format(day=day_words(day, today))


def unusual_words(sheet: Sheet) -> str:
    """Return a word where somebody chose another filling than is usual for the kind."""
    if sheet.tree.in_container or sheet.wish.backfill == sheet.usual_backfill:
        return ""
    usual = gettext(BACKFILL_WORDS[sheet.usual_backfill])
    return gettext(
        "Usual for this kind is {usual}; here somebody chose {chosen}. "
        "Both schools stand at the step."
    ).format(usual=usual, chosen=gettext(BACKFILL_WORDS[sheet.wish.backfill]))


@dataclass(frozen=True, slots=True)
class PrintedStep:
    """A step on paper: its amounts in words, and room for what is measured."""

    title: str
    how: str
    amounts: tuple[str, ...]
    blank: str
    boxes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Batch:
    """Trees whose sheets are alike, on paper as one, a box for each at each step."""

    names: tuple[tuple[int, str, str], ...]  # number, name, where
    what: str
    cautions: tuple[str, ...]
    unusual: str
    steps: tuple[PrintedStep, ...]


BLANKS = {"h": gettext_noop("hours"), "L": gettext_noop("given")}


def batches(placed: list[tuple[Sheet, str]], units: UnitSystem) -> list[Batch]:
    """Return sheets on paper: those with the same steps and amounts together.

    ``placed`` has with each sheet where its tree goes, in words or empty.
    """
    alike: dict[object, list[tuple[Sheet, str]]] = {}
    for sheet, where in placed:
        what = what_words(sheet, units)
        key = (what, sheet.steps, sheet.cautions, sheet.wish.backfill)
        alike.setdefault(key, []).append((sheet, where))
    return [_batch(group, units) for group in alike.values()]


def _batch(group: list[tuple[Sheet, str]], units: UnitSystem) -> Batch:
    first = group[0][0]
    numbered = [(number, sheet) for number, (sheet, _) in enumerate(group, 1)]
    is_one = len(group) == 1
    return Batch(
        names=tuple(
            (number, sheet.tree.name, where)
            for number, (sheet, where) in enumerate(group, 1)
        ),
        what=what_words(first, units),
        cautions=caution_words(first.cautions),
        unusual=unusual_words(first),
        steps=tuple(
            PrintedStep(
                title=title_of_step(step.code),
                how=gettext(CHECKS.get(step.code, "")),
                amounts=figures_words(step, units),
                blank=gettext(BLANKS.get(step.asks, "")),
                boxes=tuple(
                    _box(sheet, step, "" if is_one else str(number))
                    for number, sheet in numbered
                ),
            )
            for step in first.steps
        ),
    )


def _box(sheet: Sheet, step: Step, number: str) -> str:
    """Return what stands in a box: the tree's number, or that it is done already."""
    return "\N{CHECK MARK}" if step.code in sheet.ticks else number
