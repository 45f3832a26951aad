"""What a phone keeps of a site for a week: what to do, how to, and how each tree is."""

from collections.abc import Iterable
from dataclasses import dataclass
from uuid import UUID

from django.utils.translation import gettext, ngettext

from care.models import Task
from care.planning.cold_ahead import ColdStand, cold_stands
from care.planning.gather import Records, gather
from care.planning.shift_work import hazards_of
from care.views.bring_words import bring_lines
from care.views.cautions import caution_words
from care.views.check_lists import check_list
from care.views.hold_words import hold_words
from care.views.round_sheet import COMING_SHOWN, coming_of, near_tasks, walk_now
from care.views.task_lines import NO_BLOCK, TaskLine, task_line
from care.views.tree_lines import TreeLine, living_trees, tree_blocks, with_grafts
from care.views.unlogged_water import is_to_ask
from care.views.walk_sheet import FIRST_THUNDER, NEVER_ALONE
from care.views.whose import Choice, who_links
from care.views.wording import NOUNS
from orchard.catalogue.of_orchard import catalogue_of
from orchard.models import Tree
from orchard.units import UnitSystem, format_temperature
from orchard.views.site_page import SitePage

#: A copy of more would load long on a poor line and is not walked in a day.
MOST_TASKS = 150
MOST_TREES = 200


@dataclass(frozen=True, slots=True)
class PocketLine:
    """One task, with what its tree and its work are called on the page."""

    line: TaskLine
    tree_id: UUID
    kind: str
    action: str


@dataclass(frozen=True, slots=True)
class PocketBlock:
    """The tasks of one block, in walking order."""

    title: str
    lines: tuple[PocketLine, ...]


@dataclass(frozen=True, slots=True)
class HowTo:
    """How one kind of work is done without harm."""

    title: str
    cautions: tuple[str, ...]
    steps: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PocketTree:
    """One tree: how it is, what is next, how much cold it bears, whether to pick."""

    line: TreeLine
    block: str
    cold: str
    held: str


@dataclass(frozen=True, slots=True)
class PocketSheet:
    """Everything that the pocket copy says of work and trees."""

    shown: str
    urgent: tuple[PocketBlock, ...]
    calm: tuple[PocketBlock, ...]
    left: str
    asked: tuple[PocketBlock, ...]
    coming: tuple[PocketLine, ...]
    stops: tuple[str, ...]
    bring: tuple[str, ...]
    how: tuple[HowTo, ...]
    trees: tuple[PocketTree, ...]
    trees_left: str


def pocket_sheet(page: SitePage, choice: Choice) -> PocketSheet:
    """Put what to do today and soon, how, and every tree's state on one sheet."""
    today = page.today
    everything = list(near_tasks(page.site, today))
    whose = choice.over(everything, today)
    groups, plain = walk_now(page, everything, whose)
    urgent = [task for group in groups for task in group]
    tasks = [task for task in everything if whose.shows(task)]
    asked = [task for task in tasks if is_to_ask(task, today)]
    coming = coming_of(tasks, today)
    how = how_to([*urgent, *plain, *asked, *coming])
    links = who_links(whose, [*urgent, *plain])
    trees = list(with_grafts(living_trees(page.site)))
    room = max(MOST_TASKS - len(urgent), 0)
    return PocketSheet(
        shown=links.shown if links else "",
        urgent=_blocks(urgent, page),
        calm=_blocks(plain[:room], page),
        asked=_blocks(asked[:MOST_TASKS], page),
        left=_tasks_left(len(plain) - room),
        coming=_lines(coming[:COMING_SHOWN], page),
        stops=_stops([*urgent, *plain]),
        bring=bring_lines([*urgent, *plain], page.units),
        how=how,
        trees=_trees(page, trees[:MOST_TREES], gather(page.site, today)),
        trees_left=_trees_left(len(trees) - MOST_TREES),
    )


def _tasks_left(number: int) -> str:
    if number <= 0:
        return ""
    return ngettext(
        "{number} more task is not in this copy: it keeps what comes first.",
        "{number} more tasks are not in this copy: it keeps what comes first.",
        number,
    ).format(number=number)


def _trees_left(number: int) -> str:
    if number <= 0:
        return ""
    return ngettext(
        "{number} more tree is not in this copy.",
        "{number} more trees are not in this copy.",
        number,
    ).format(number=number)


def _blocks(tasks: Iterable[Task], page: SitePage) -> tuple[PocketBlock, ...]:
    blocks: dict[int | None, list[Task]] = {}
    for task in tasks:
        blocks.setdefault(task.tree.block_id, []).append(task)
    return tuple(
        PocketBlock(_block_name(members[0].tree), _lines(members, page))
        for members in blocks.values()
    )


def _block_name(tree: Tree) -> str:
    return tree.block.name if tree.block else gettext(NO_BLOCK)


def _lines(tasks: Iterable[Task], page: SitePage) -> tuple[PocketLine, ...]:
    return tuple(
        PocketLine(
            task_line(task, page.today, page.units),
            task.tree.public_id,
            task.kind,
            task.action,
        )
        for task in tasks
    )


def _stops(tasks: Iterable[Task]) -> tuple[str, ...]:
    """Return what holds for every walk, whatever the weather is later in the week."""
    is_hazardous = any(hazards_of(task) for task in tasks)
    alone = (gettext(NEVER_ALONE),) if is_hazardous else ()
    return (gettext(FIRST_THUNDER), *alone)


def how_to(tasks: Iterable[Task]) -> tuple[HowTo, ...]:
    """Return how each kind of work is done, of those that have anything to say."""
    by_kind: dict[str, list[Task]] = {}
    for task in tasks:
        by_kind.setdefault(task.kind, []).append(task)
    found = (
        HowTo(
            _noun(kind),
            caution_words({code for task in members for code in task.cautions}),
            tuple(dict.fromkeys(step for task in members for step in check_list(task))),
        )
        for kind, members in by_kind.items()
    )
    return tuple(one for one in found if one.cautions or one.steps)


def _noun(kind: str) -> str:
    words = gettext(NOUNS.get(kind, kind))
    return f"{words[:1].upper()}{words[1:]}"


def _trees(
    page: SitePage, trees: Iterable[Tree], records: Records
) -> tuple[PocketTree, ...]:
    trees = list(trees)
    catalogue = catalogue_of(page.site.orchard)
    blocks = tree_blocks(trees, page.today, page.units, catalogue)
    ids = {tree.public_id: tree.pk for tree in trees}
    cold = cold_stands(records)
    return tuple(
        PocketTree(
            line,
            block.title,
            _cold_words(cold.get(ids[line.public_id]), page.units),
            hold_words(records.holds, ids[line.public_id], page.today) or line.held,
        )
        for block in blocks
        for line in block.lines
    )


def _cold_words(stand: ColdStand | None, units: UnitSystem) -> str:
    if stand is None:
        return ""
    words = gettext("Cold: bears {bears}, alarm from {alarm}").format(
        bears=format_temperature(stand.bears_c, units),
        alarm=format_temperature(stand.alarm_c, units),
    )
    if stand.is_unverified:
        words = gettext("{words}, unverified").format(words=words)
    return words
