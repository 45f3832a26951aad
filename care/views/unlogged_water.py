"""Water nobody logged: one question after a quiet week, answered in two taps."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from statistics import median

from django.http import QueryDict
from django.utils.translation import gettext

from care.forms.unlogged_water import UnloggedForm
from care.models import Task
from care.views.days import count_days, day_words
from care.views.task_lines import NO_BLOCK, Section, is_now, sections
from care.views.whose import Whose
from care.views.wording import reason_of, task_amount
from orchard.models import Tree
from orchard.units import UnitSystem
from orchard.views.site_page import SitePage

# After a week without a word somebody may well have watered without ticking.
ASK_AFTER_DAYS = 7
# Amounts that differ more than this have no one figure that suits them; ours.
ALIKE_SHARE = 1.5
DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class AskedTree:
    """One tree of the question and what the plan would give it."""

    public_id: str
    name: str
    amount: str


@dataclass(frozen=True, slots=True)
class AskedBlock:
    """The trees of one block that the question is about."""

    title: str
    trees: tuple[AskedTree, ...]


@dataclass(frozen=True, slots=True)
class Question:
    """Whether anybody watered since a day; the waterings it would settle.

    ``litres`` suits all of them, or is ``None`` where they differ too much.
    ``likely_on`` is when the first of them would have been given water.
    """

    days: str
    since: str
    sections: tuple[Section, ...]
    blocks: tuple[AskedBlock, ...]
    count: int
    litres: float | None
    likely_on: date


def is_asked(task: Task) -> bool:
    """Whether a watering waits for a word on whether somebody did it."""
    days = reason_of(task).number("unknown_water_days")
    return task.kind == "watering" and days is not None and days > ASK_AFTER_DAYS


def is_to_ask(task: Task, today: date) -> bool:
    """Whether the round asks about a watering today.

    One that only a local rule keeps from today is asked about today all the same.
    """
    if not is_asked(task) or task.is_urgent:
        return False
    best = reason_of(task).day("rule_moved_from")
    return is_now(task, today) or (best is not None and best <= today)


def question_of(
    tasks: Sequence[Task], today: date, units: UnitSystem, whose: Whose
) -> Question | None:
    """Return the question that waterings nobody spoke of put; None without any."""
    if not tasks:
        return None
    days = min(int(reason_of(task).number("unknown_water_days") or 0) for task in tasks)
    return Question(
        days=count_days(days),
        since=day_words(today - days * DAY, today),
        sections=sections(tasks, today, units, whose.note),
        blocks=_blocks(tasks, units),
        count=len(tasks),
        litres=usual_litres([task.amount for task in tasks]),
        likely_on=likely_day(tasks, today),
    )


def _blocks(tasks: Sequence[Task], units: UnitSystem) -> tuple[AskedBlock, ...]:
    found: dict[str, list[AskedTree]] = {}
    for task in tasks:
        tree: Tree = task.tree
        title = tree.block.name if tree.block else gettext(NO_BLOCK)
        asked = AskedTree(str(tree.public_id), tree.name, task_amount(task, units))
        found.setdefault(title, []).append(asked)
    return tuple(AskedBlock(title, tuple(trees)) for title, trees in found.items())


def usual_litres(amounts: Sequence[float | None]) -> float | None:
    """Return one amount that suits all, or ``None`` where they differ too much."""
    known = [amount for amount in amounts if amount]
    if not known or len(known) < len(amounts):
        return None
    middle = median(known)
    low, high = middle / ALIKE_SHARE, middle * ALIKE_SHARE
    return middle if all(low <= amount <= high for amount in known) else None


def likely_day(tasks: Sequence[Task], today: date) -> date:
    """Return the day on which the first of the trees used up what it may.

    After the last word on any of them, and before today: who waters today says so.
    """
    days = [_days_short(task) for task in tasks]
    silent = min(
        int(reason_of(task).number("unknown_water_days") or 0) for task in tasks
    )
    back = min(max(*days, 1), max(silent - 1, 1))
    return today - back * DAY


def _days_short(task: Task) -> int:
    """Return for how many days a tree has been due by the reckoning."""
    reason = reason_of(task)
    missing, limit = reason.number("missing_l"), reason.number("threshold_l")
    daily = reason.number("litres_per_day")
    if missing is None or limit is None or not daily:
        return 0
    return round(max(missing - limit, 0.0) / daily)


def unlogged_form(
    page: SitePage, tasks: Sequence[Task], data: QueryDict | None = None
) -> UnloggedForm:
    """Return the form that answers for the trees of ``tasks``."""
    return UnloggedForm(
        data,
        trees=[str(task.tree.public_id) for task in tasks],
        likely=likely_day(tasks, page.today) if tasks else page.today - DAY,
        litres=usual_litres([task.amount for task in tasks]),
        today=page.today,
        units=page.units,
    )
