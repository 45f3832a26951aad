"""A hose run as a sheet: the trees along it in walking order, litres and minutes."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from django.http import QueryDict
from django.utils.translation import gettext, ngettext

from care.forms.hose import HoseForm, HoseRunForm, box_of
from care.models import Task
from care.planning.walk_order import ordered_trees
from care.views.round_sheet import near_tasks, standing_trees
from care.views.task_lines import is_now
from orchard.models import Corner, Feature, Site, Tree
from orchard.units import UnitSystem, format_quantity
from orchard.views.site_page import SitePage

SECONDS_A_MINUTE = 60
TIMED_HOSE = "hose"
#: Of more trees those that are due come first, and a block shows the others.
TREES_SHOWN = 60


@dataclass(frozen=True, slots=True)
class HoseTree:
    """One tree along the hose: its box, whether it is due, how long it takes."""

    public_id: str
    name: str
    box: object
    is_chosen: bool
    minutes: str
    seconds: int


@dataclass(frozen=True, slots=True)
class HoseSheet:
    """The trees of a run in walking order, and what all of it takes."""

    trees: tuple[HoseTree, ...]
    flow: str
    total: str


def hose_form(page: SitePage, data: QueryDict | None) -> HoseForm:
    """Return the form that chooses the trees and the flow of a run."""
    return HoseForm(
        data,
        blocks=[(str(block.pk), block.name) for block in page.site.blocks.all()],
        taps=[(key, words) for key, (words, _flow) in _taps(page).items()],
        units=page.units,
    )


def _taps(page: SitePage) -> dict[str, tuple[str, float]]:
    """Return the taps whose flow is known, each in words and with its flow [L/min]."""
    known: dict[str, tuple[str, float]] = {}
    for tap in _tap_rows(page.site):
        if tap.flow_l_per_min is not None:
            words = _tap_words(str(tap), tap.flow_l_per_min, page.units)
            known[str(tap.pk)] = (words, tap.flow_l_per_min)
    flow = page.site.hose_flow_l_per_min
    if flow is not None:
        words = _tap_words(gettext("The hose as it was timed"), flow, page.units)
        known[TIMED_HOSE] = (words, flow)
    return known


def _tap_rows(site: Site) -> list[Feature]:
    return list(site.features.filter(kind=Feature.Kind.TAP))


def _tap_words(name: str, flow_l_per_min: float, units: UnitSystem) -> str:
    return gettext("{tap}: {amount} in a minute").format(
        tap=name, amount=format_quantity(flow_l_per_min, "L", units)
    )


def flow_of(page: SitePage, form: HoseForm) -> float | None:
    """Return the flow [L/min] that a valid form means; None where none is known."""
    given = form.cleaned_data
    if given.get("flow"):
        return float(given["flow"])
    taps = _taps(page)
    key = given.get("tap") or next(iter(taps), "")
    return taps[key][1] if key in taps else None


def _start(page: SitePage, form: HoseForm) -> list[Corner]:
    """Return where the walk starts: at the chosen tap, else at the first corner."""
    key = str(form.cleaned_data.get("tap") or "")
    taps = [tap for tap in _tap_rows(page.site) if not key or str(tap.pk) == key]
    if taps and taps[0].points_m:
        x_m, y_m = taps[0].points_m[0]
        return [Corner(site=page.site, name=str(taps[0]), x_m=x_m, y_m=y_m)]
    return list(Corner.objects.filter(site=page.site))


def hose_trees(page: SitePage, form: HoseForm) -> list[Tree]:
    """Return the standing trees that a valid form means, in walking order."""
    trees = standing_trees(page.site, page.today).select_related("block")
    if form.cleaned_data.get("block"):
        trees = trees.filter(block_id=form.cleaned_data["block"])
    return ordered_trees(trees, _start(page, form))


def within_reach(trees: Sequence[Tree], due: Mapping[int, Task]) -> list[Tree]:
    """Return as many trees as one page holds, in their order; of too many, those due."""
    if len(trees) > TREES_SHOWN:
        trees = [tree for tree in trees if tree.pk in due]
    return list(trees[:TREES_SHOWN])


def left_out(number: int) -> str:
    """Say how many trees a page leaves out; nothing where it shows all."""
    if number <= 0:
        return ""
    return ngettext(
        "{number} more tree stands there: choose a block to see it.",
        "{number} more trees stand there: choose a block to see them.",
        number,
    ).format(number=number)


def waterings(site: Site, today: date) -> dict[int, Task]:
    """Return the open firm waterings of the next days by the id of their tree."""
    tasks = near_tasks(site, today).filter(
        kind="watering", action="water", is_firm=True, unit="L", amount__isnull=False
    )
    return {task.tree_id: task for task in tasks}


def run_form(
    page: SitePage,
    trees: Sequence[Tree],
    due: Mapping[int, Task],
    data: QueryDict | None = None,
) -> HoseRunForm:
    """Return the form that logs a run, each box with what the plan asks for."""
    litres = {pk: task.amount for pk, task in due.items() if task.amount is not None}
    return HoseRunForm(
        data, trees=trees, litres=litres, today=page.today, units=page.units
    )


def posted_run(page: SitePage, data: QueryDict) -> HoseRunForm:
    """Return the form of a run that was sent, over the trees that it names."""
    standing = list(standing_trees(page.site, page.today))
    named = set(data.getlist("trees"))
    trees = [tree for tree in standing if str(tree.public_id) in named] or standing
    return run_form(page, trees, waterings(page.site, page.today), data)


def hose_sheet(
    page: SitePage, run: HoseRunForm, due: Mapping[int, Task], flow: float | None
) -> HoseSheet:
    """Return the lines of a run; without a flow it knows no minutes."""
    asked = set(run.data.getlist("trees")) if isinstance(run.data, QueryDict) else None
    lines = []
    for key, tree in run.trees.items():
        task = due.get(tree.pk)
        is_due = task is not None and is_now(task, page.today)
        seconds = _seconds(task, flow)
        lines.append(
            HoseTree(
                public_id=key,
                name=tree.name,
                box=run[box_of(tree)],
                is_chosen=is_due if asked is None else key in asked,
                minutes=run_time([seconds]),
                seconds=seconds,
            )
        )
    total = run_time(one.seconds for one in lines if one.is_chosen)
    return HoseSheet(
        trees=tuple(lines),
        flow="" if flow is None else format_quantity(flow, "L", page.units),
        total=total,
    )


def _seconds(task: Task | None, flow: float | None) -> int:
    """Return how long a hose runs for a task [s]; 0 where that is not known."""
    if task is None or not task.amount or not flow:
        return 0
    return round(SECONDS_A_MINUTE * task.amount / flow)


def run_time(seconds: Iterable[int]) -> str:
    """Return such as ``2 min 30 s``; nothing of nothing."""
    minutes, rest = divmod(sum(seconds), SECONDS_A_MINUTE)
    if not minutes and not rest:
        return ""
    if not minutes:
        return gettext("{seconds} s").format(seconds=rest)
    if not rest:
        return gettext("{minutes} min").format(minutes=minutes)
    return gettext("{minutes} min {seconds} s").format(minutes=minutes, seconds=rest)


def run_words(trees: int, litres: float, units: UnitSystem) -> str:
    """Return what was logged of a run."""
    words = ngettext(
        "Watered by hose: {number} tree, {amount}.",
        "Watered by hose: {number} trees, {amount} together.",
        trees,
    )
    return words.format(number=trees, amount=format_quantity(litres, "L", units))
