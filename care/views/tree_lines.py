"""Trees as lines: where they grow and what state they are in."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from uuid import UUID

from django.db.models import F, Prefetch, QuerySet
from django.utils.translation import gettext, pgettext

from care.models import LogEntry, Task
from care.views.days import short_day
from care.views.hold_words import no_picking_words
from care.views.task_lines import NO_BLOCK, is_now, task_line
from care.views.wording import title_of
from orchard.catalogue.of_orchard import OrchardCatalogue
from orchard.languages import listed
from orchard.models import Graft, Site, Tree
from orchard.units import UnitSystem, format_quantity

# "Look at the trunk of it" is said "Look at its trunk".
_OF_IT = re.compile(r"\bthe ([a-z]+(?: [a-z]+)?) of it\b")
QUOTES = "\N{LEFT SINGLE QUOTATION MARK}{}\N{RIGHT SINGLE QUOTATION MARK}"


@dataclass(frozen=True, slots=True)
class TreeLine:
    """One tree: name, what it is, and one phrase on its state."""

    public_id: UUID
    title: str
    what: str
    state: str
    is_late: bool
    held: str


@dataclass(frozen=True, slots=True)
class TreeBlock:
    """The trees of one block."""

    title: str
    lines: tuple[TreeLine, ...]


def with_grafts(trees: QuerySet[Tree]) -> QuerySet[Tree]:
    """Return trees with the grafts that live on them at hand."""
    living = Graft.objects.filter(ended_on=None)
    return trees.prefetch_related(Prefetch("grafts", queryset=living))


def living_trees(site: Site) -> QuerySet[Tree]:
    """Return a site's living trees in walking order."""
    return (
        site.trees.filter(status=Tree.Status.ALIVE)
        .select_related("block")
        .order_by(
            F("block__position").asc(nulls_last=True),
            "block_id",
            "position",
            "name",
            "id",
        )
    )


def species_name(tree: Tree, catalogue: OrchardCatalogue) -> str:
    """Return the species' common name, with the cultivar where there is one."""
    species = catalogue.species.get(tree.species_key)
    name = species.shown_name if species else tree.species_key.replace("_", " ")
    return f"{name} {QUOTES.format(tree.cultivar)}" if tree.cultivar else name


def grafted_words(grafts: Iterable[Graft]) -> str:
    """Return that cultivars are grafted on, or nothing."""
    names = [QUOTES.format(graft.cultivar) for graft in grafts]
    if not names:
        return ""
    return gettext(", with {listed} grafted on").format(listed=listed(names))


def place_words(tree: Tree, units: UnitSystem) -> str:
    """Return ``in the ground`` or ``in a 60 L pot``."""
    if not tree.in_container:
        return gettext("in the ground")
    if tree.container_litres is None:
        return gettext("in a pot")
    return gettext("in a {container_litres} pot").format(
        container_litres=format_quantity(tree.container_litres, "L", units)
    )


def planned_words(tree: Tree, today: date) -> str:
    """Return ``to be planted on 14 March`` of a planned tree, else nothing."""
    if tree.planted_on is None or not tree.is_planned(today):
        return ""
    return gettext("to be planted on {planted}").format(
        planted=short_day(tree.planted_on, today)
    )


def matches(tree: Tree, words: str, catalogue: OrchardCatalogue) -> bool:
    """Whether every word searched for occurs in what is known of the tree by name."""
    block = tree.block.name if tree.block else ""
    kinds = species_name(tree, catalogue) + grafted_words(tree.grafts.all())
    text = f"{tree.name} {tree.tag} {kinds} {block}".casefold()
    return all(word in text for word in words.casefold().split())


def next_tasks(trees: Iterable[Tree]) -> dict[int, list[Task]]:
    """Return the open tasks of trees by tree, soonest first."""
    found: dict[int, list[Task]] = {}
    tasks = (
        Task.objects.filter(
            tree__in=[tree.pk for tree in trees], status=Task.Status.OPEN
        )
        .select_related("tree", "round")
        .order_by("due", "id")
    )
    for task in tasks:
        found.setdefault(task.tree_id, []).append(task)
    return found


def tree_blocks(
    trees: Iterable[Tree],
    today: date,
    units: UnitSystem,
    catalogue: OrchardCatalogue,
) -> tuple[TreeBlock, ...]:
    """Return trees as lines by block, in the order given."""
    members = list(trees)
    tasks, held = next_tasks(members), _held_until(members, today)
    blocks: dict[str, list[TreeLine]] = {}
    for tree in members:
        title = tree.block.name if tree.block else NO_BLOCK
        line = _line(
            tree,
            tasks.get(tree.pk, []),
            today,
            units,
            species=species_name(tree, catalogue) + grafted_words(tree.grafts.all()),
            held_until=held.get(tree.pk),
        )
        blocks.setdefault(title, []).append(line)
    return tuple(TreeBlock(title, tuple(lines)) for title, lines in blocks.items())


def _held_until(trees: Iterable[Tree], today: date) -> dict[int, date]:
    """Return the last day on which fruit may not be picked, by tree."""
    rows = (
        LogEntry.objects.filter(
            tree__in=[tree.pk for tree in trees],
            held_until__gte=today,
            on__lte=today,
            voided_at=None,
        )
        .order_by("held_until")
        .values_list("tree_id", "held_until")
    )
    return {tree_id: until for tree_id, until in rows if tree_id and until}


def _line(
    tree: Tree,
    tasks: list[Task],
    today: date,
    units: UnitSystem,
    *,
    species: str,
    held_until: date | None,
) -> TreeLine:
    now = [task for task in tasks if is_now(task, today)]
    following = next(iter(now or tasks), None)
    line = task_line(following, today, units) if following else None
    planned = planned_words(tree, today)
    what = (species, place_words(tree, units), planned)
    return TreeLine(
        public_id=tree.public_id,
        title=f"{tree.tag} · {tree.name}" if tree.tag else tree.name,
        what=", ".join(words for words in what if words),
        state=state_phrase(following, line.when if line else "", is_due=bool(now)),
        is_late=line.is_late if line else False,
        held=no_picking_words(held_until, today) if held_until else "",
    )


def state_phrase(task: Task | None, when: str, *, is_due: bool) -> str:
    """Return what a tree waits for, such as ``Water it by Friday``."""
    if task is None:
        return gettext("Needs nothing in sight")
    it = pgettext("a tree in what to do with it", "it")
    work = title_of(task.kind, task.action, it, str(task.reason.get("code", "")))
    work = _OF_IT.sub(r"its \1", work)
    if is_due:
        return f"{work}: {when}"
    work = f"{work[0].lower()}{work[1:]}"
    return gettext("Next: {work}, {when}").format(work=work, when=when)
