"""Whose work the round shows: mine, everyone's, or one block's.

*Mine* is what a member looks after, and what nobody does, so that nothing is lost.
Who stands in for somebody sees their urgent work at once, and the rest as soon as
anything they look after here is late by more than a day.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.http import HttpRequest
from django.utils.translation import gettext, ngettext

from care.models import Task
from care.views.task_lines import is_now
from care.views.wording import count_trees
from orchard.actions.in_care import CareOfSite, Members, care_of_site
from orchard.languages import listed
from orchard.models import Block, Membership, Tree
from orchard.views.site_page import SitePage

MINE = "mine"
EVERYONE = "everyone"
BLOCK = "block:"
SESSION = "round_who"
#: Common practice, no source: a day late may be a day away.
STAND_IN_AFTER = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Choice:
    """What was chosen on one page, before its tasks are read."""

    value: str
    membership: Membership
    blocks: Sequence[Block]
    care: CareOfSite

    def over(self, tasks: Iterable[Task], today: date) -> "Whose":
        """Return the choice with what the open tasks say of who is away."""
        return Whose(self.value, self, _away(self.care, tasks, today))


@dataclass(frozen=True, slots=True)
class Whose:
    """Decides for every task and tree whether the round shows it."""

    value: str
    choice: Choice
    away: frozenset[int]

    @property
    def block_id(self) -> int | None:
        """The one block that is shown, if it is one."""
        is_block = self.value.startswith(BLOCK)
        return int(self.value.removeprefix(BLOCK)) if is_block else None

    def shows(self, task: Task) -> bool:
        """Whether the round shows a task; its tree must be at hand."""
        tree = task.tree
        return self.shows_tree(tree) or (
            self.value == MINE and task.is_urgent and self._is_backup(tree)
        )

    def shows_tree(self, tree: Tree) -> bool:
        """Whether what is done to all that is shown is done to this tree."""
        if self.block_id is not None:
            return tree.block_id == self.block_id
        if self.value == EVERYONE:
            return True
        carers = self._carers(tree)
        is_mine = not carers or self.choice.membership.pk in carers
        return is_mine or (self._is_backup(tree) and self.away.issuperset(carers))

    def note(self, task: Task) -> str:
        """Say why a task that is not one's own is shown under *mine*."""
        carers = self._carers(task.tree)
        if self.value != MINE or self.choice.membership.pk in carers:
            return ""
        if not carers:
            return (
                gettext("nobody looks after it") if self.choice.care.is_arranged else ""
            )
        names = listed([one.person.shown_name for one in carers.values()])
        return gettext("you stand in for {names}").format(names=names)

    def instead(self, value: str) -> "Whose":
        """Return the same with another choice."""
        return Whose(value, self.choice, self.away)

    def _carers(self, tree: Tree) -> Members:
        return self.choice.care.carers(tree.pk, tree.block_id)

    def _is_backup(self, tree: Tree) -> bool:
        backups = self.choice.care.backups(tree.pk, tree.block_id)
        return self.choice.membership.pk in backups


def _away(care: CareOfSite, tasks: Iterable[Task], today: date) -> frozenset[int]:
    """Return the members of whose work something is late by more than a day."""
    late: set[int] = set()
    for task in tasks:
        if is_now(task, today) and task.latest < today - STAND_IN_AFTER:
            late.update(care.carers(task.tree_id, task.tree.block_id))
    return frozenset(late)


def chosen(request: HttpRequest, page: SitePage) -> Choice:
    """Return what the form, the address or the session says, else what suits.

    An address with a choice is remembered until the session ends.
    """
    blocks, care = list(page.site.blocks.all()), care_of_site(page.site)
    allowed = {MINE, EVERYONE, *(f"{BLOCK}{block.pk}" for block in blocks)}
    remembered = request.session.get(SESSION, {})
    slug = page.site.slug
    asked = (request.POST.get("who"), request.GET.get("who"), remembered.get(slug))
    usual = MINE if care.has(page.membership) else EVERYONE
    value = next((one for one in asked if one in allowed), usual)
    if request.GET.get("who") == value != remembered.get(slug):
        request.session[SESSION] = {**remembered, slug: value}
    return Choice(value, page.membership, blocks, care)


@dataclass(frozen=True, slots=True)
class WhoLink:
    """One way to see the round, and how many tasks it holds now."""

    value: str
    words: str
    count: int
    is_current: bool


@dataclass(frozen=True, slots=True)
class WhoLinks:
    """The ways to see the round; blocks fold away where there are many."""

    people: tuple[WhoLink, ...]
    blocks: tuple[WhoLink, ...]
    is_one_block: bool
    shown: str


def who_links(whose: Whose, now: Sequence[Task]) -> WhoLinks | None:
    """Return the ways to see the round; None where all of them show the same."""
    choice = whose.choice
    several = len(choice.blocks) > 1
    is_one_block = whose.block_id is not None
    can_choose = several and (len(now) > 0 or is_one_block)
    if not (can_choose or choice.care.is_arranged):
        return None
    people = _people(is_arranged=choice.care.is_arranged, is_one_block=is_one_block)
    mine = sum(map(whose.instead(MINE).shows, now))
    counts = {MINE: mine, EVERYONE: len(now)}
    in_block = Counter(task.tree.block_id for task in now)
    return WhoLinks(
        people=tuple(
            WhoLink(value, words, counts[value], is_current=value == whose.value)
            for value, words in people
        ),
        blocks=tuple(
            WhoLink(
                f"{BLOCK}{block.pk}",
                block.name,
                in_block[block.pk],
                is_current=block.pk == whose.block_id,
            )
            for block in choice.blocks
            if several
        ),
        is_one_block=is_one_block,
        shown=_shown(whose, now),
    )


def _people(*, is_arranged: bool, is_one_block: bool) -> list[tuple[str, str]]:
    """Return the choices of people; a lone one only leads back from one block."""
    if is_arranged:
        return [(MINE, gettext("Mine")), (EVERYONE, gettext("Everyone"))]
    return [(EVERYONE, gettext("Everyone"))] if is_one_block else []


def _shown(whose: Whose, now: Sequence[Task]) -> str:
    """Say what is shown and how much of the whole; empty where it is the whole."""
    number = sum(map(whose.shows, now))
    if whose.block_id is None and number == len(now):
        return ""
    what = gettext("yours and nobody's")
    if whose.block_id is not None:
        names = {block.pk: block.name for block in whose.choice.blocks}
        what = names[whose.block_id]
    return ngettext(
        "Shown: {what}, {number} of {all} task today.",
        "Shown: {what}, {number} of {all} tasks today.",
        len(now),
    ).format(what=what, number=number, all=len(now))


def water_places(whose: Whose, trees: Sequence[Tree]) -> list[tuple[str, str]]:
    """Return what "watered all" may mean here, each with its number of trees."""
    shown = [tree for tree in trees if whose.shows_tree(tree)]
    names = {block.pk: block.name for block in whose.choice.blocks}
    counts = Counter(tree.block_id for tree in shown)
    if whose.block_id is not None:
        return [("", f"{names[whose.block_id]}: {count_trees(len(shown))}")]
    everything = (
        gettext("All trees")
        if whose.value == EVERYONE
        else gettext("All that is shown")
    )
    places = [("", f"{everything}: {count_trees(len(shown))}")]
    return places + [
        (str(pk), f"{name}: {count_trees(counts[pk])}")
        for pk, name in names.items()
        if counts[pk]
    ]
