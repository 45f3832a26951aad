"""The round as one sheet: now, coming, done, and what to say when nothing is due."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from django.db.models import F, Q, QuerySet
from django.utils.translation import gettext

from care.forms.all_done import short_id
from care.models import LogEntry, Task
from care.planning.fresh_plan import find_fresh_plan
from care.planning.learned_minutes import (
    GUESSES,
    WALK_MINUTES,
    LearnedMinutes,
    learn_minutes,
)
from care.planning.walk_order import corners_for, in_walking_order
from care.views.days import day_words
from care.views.log_lines import LogLine, log_line
from care.views.log_people import with_people
from care.views.many_ticks import DayChoice, day_choices
from care.views.reasons import short_reason
from care.views.task_lines import (
    Section,
    TaskLine,
    chosen_day,
    is_now,
    sections,
    task_line,
)
from care.views.unlogged_water import Question, is_asked, is_to_ask, question_of
from care.views.walk_words import about, began_words, fresh_words, work_words
from care.views.whose import Choice, WhoLinks, Whose, water_places, who_links
from care.views.wording import task_title
from orchard.models import Site, Tree
from orchard.views.site_page import SitePage

COMING_DAYS = 7
DONE_SHOWN = 60
#: More lines than a morning's walk has are shown by the hundred, in walking order.
LINES_SHOWN = 100
COMING_SHOWN = 40


@dataclass(frozen=True, slots=True)
class WalkWords:
    """How long today's walk takes, whether it began, what its walker said it took."""

    work: str
    can_begin: bool
    began: str
    said_minutes: float | None


@dataclass(frozen=True, slots=True)
class Part:
    """Which lines of many are shown: from ``first`` (counted from 0) to before ``end``."""

    first: int
    end: int
    total: int

    @property
    def words(self) -> str:
        """Say which part it is; empty where it is the whole."""
        if self.total <= self.end - self.first:
            return ""
        return gettext("Tasks {first} to {last} of {total}, in walking order.").format(
            first=self.first + 1, last=self.end, total=self.total
        )

    @property
    def has_next(self) -> bool:
        """Whether more follow."""
        return self.end < self.total

    @property
    def before(self) -> int:
        """Where the part before this one starts."""
        return max(self.first - LINES_SHOWN, 0)


@dataclass(frozen=True, slots=True)
class RoundSheet:
    """Everything the round's page says."""

    walk: WalkWords
    part: Part
    all_done: tuple[DayChoice, ...]
    seen: str
    coming_more: int
    fresh: str
    urgent: tuple[Section, ...]
    sections: tuple[Section, ...]
    question: Question | None
    asked: tuple[Task, ...]
    coming: tuple[TaskLine, ...]
    done: tuple[LogLine, ...]
    nothing: str
    has_trees: bool
    who: str
    who_links: WhoLinks | None
    water_places: tuple[tuple[str, str], ...]


def open_tasks(site: Site) -> QuerySet[Task]:
    """Return a site's open tasks of living trees, by block and row."""
    return (
        Task.objects.filter(
            site=site, status=Task.Status.OPEN, tree__status=Tree.Status.ALIVE
        )
        .select_related("tree__block", "round")
        .order_by(
            F("tree__block__position").asc(nulls_last=True),
            "tree__block_id",
            "tree__position",
            "tree__name",
            "due",
            "id",
        )
    )


def near_tasks(site: Site, today: date) -> QuerySet[Task]:
    """Return the open tasks that belong to today or the coming days."""
    horizon = today + timedelta(days=COMING_DAYS)
    return open_tasks(site).filter(
        Q(round__day__lte=horizon)
        | Q(due__lte=horizon)
        | Q(is_urgent=True)
        | Q(is_firm=False, likely_from__lte=horizon)
    )


def standing_trees(site: Site, day: date) -> QuerySet[Tree]:
    """Return the living trees of a site that stand planted on a day."""
    is_planted = Q(planted_on=None) | Q(planted_on__lte=day)
    return site.trees.filter(is_planted, status=Tree.Status.ALIVE)


def walk_now(
    page: SitePage, everything: Sequence[Task], whose: Whose
) -> tuple[tuple[list[Task], ...], list[Task]]:
    """Return what is shown now in walking order: what cannot wait, then all else."""
    due = [task for task in everything if is_now(task, page.today)]
    # Of all that is due, so that the order is one however little of it is shown.
    ordered = in_walking_order(due, corners_for(page.site, due))
    now = [task for task in ordered if whose.shows(task)]
    plain = [task for task in now if not task.is_urgent and not is_asked(task)]
    return _urgent_first([task for task in now if task.is_urgent]), plain


def round_sheet(page: SitePage, choice: Choice, first: int = 0) -> RoundSheet:
    """Read the plan and the log, and put what was chosen of them on one sheet.

    Of more lines than a page holds it shows a part, from number ``first`` on.
    """
    today, units = page.today, page.units
    everything = list(near_tasks(page.site, today))
    whose = choice.over(everything, today)
    tasks = [task for task in everything if whose.shows(task)]
    due = [task for task in everything if is_now(task, today)]
    now = [task for task in due if whose.shows(task)]
    urgent, plain = walk_now(page, everything, whose)
    learned = learn_minutes([page.site.pk], today)[page.site.pk] if now else GUESSES
    done = _done_today(page, whose)
    asked = [task for task in tasks if is_to_ask(task, today)]
    coming = coming_of(tasks, today)
    trees = list(standing_trees(page.site, today))
    lines = [*(task for group in urgent for task in group), *plain]
    part = _part(first, len(lines))
    shown = frozenset(task.pk for task in lines[part.first : part.end])
    return RoundSheet(
        part=part,
        all_done=day_choices(lines, today),
        seen=",".join(map(short_id, lines)),
        coming_more=max(len(coming) - COMING_SHOWN, 0),
        walk=_walk_words(page, lines, done, learned),
        fresh=_fresh(page, everything),
        urgent=tuple(
            section
            for group in urgent
            for section in sections(group, today, units, whose.note, shown)
        ),
        sections=_timed(
            sections(plain, today, units, whose.note, shown), plain, learned
        ),
        question=question_of(asked, today, units, whose),
        asked=tuple(asked),
        coming=tuple(
            task_line(task, today, units, whose.note(task))
            for task in coming[:COMING_SHOWN]
        ),
        done=tuple(log_line(entry, today, units) for entry in done),
        nothing="" if now else _nothing(page, tasks, whose),
        has_trees=bool(everything or trees) or _has_planned(page.site),
        who=whose.value,
        who_links=who_links(whose, due),
        water_places=tuple(water_places(whose, trees)),
    )


def _has_planned(site: Site) -> bool:
    return site.trees.filter(status=Tree.Status.ALIVE).exists()


def coming_of(tasks: Iterable[Task], today: date) -> list[Task]:
    """Return what comes in the next days, soonest first, of near tasks."""
    return sorted(
        (task for task in tasks if _is_coming(task, today)), key=_coming_order
    )


def _is_coming(task: Task, today: date) -> bool:
    if is_now(task, today):
        return False
    first = chosen_day(task) if task.is_firm else task.likely_from or task.due
    return first <= today + timedelta(days=COMING_DAYS)


def _coming_order(task: Task) -> tuple[date, int]:
    day = chosen_day(task) if task.is_firm else task.likely_from or task.due
    return day, task.pk


def _part(first: int, total: int) -> Part:
    """Return the part of ``total`` lines from ``first`` on, or the last there is."""
    first = min(max(first, 0), max(total - 1, 0)) // LINES_SHOWN * LINES_SHOWN
    return Part(first, min(first + LINES_SHOWN, total), total)


def _urgent_first(tasks: Sequence[Task]) -> tuple[list[Task], ...]:
    """Return what cannot wait: fruit that cold ruins, then cold, then all else."""
    fruit = [task for task in tasks if task.action == "pick_ripe"]
    cold = [task for task in tasks if task.kind == "cold"]
    rest = [task for task in tasks if task not in fruit and task.kind != "cold"]
    return fruit, cold, rest


def _done_today(page: SitePage, whose: Whose) -> list[LogEntry]:
    """Return what was done where the choice looks, and by the reader anywhere."""
    entries = with_people(
        LogEntry.objects.filter(site=page.site, on=page.today, voided_at=None)
    ).select_related("task__round")[:DONE_SHOWN]
    return [
        entry
        for entry in entries
        if (entry.tree is None and entry.kind != WALK_MINUTES)
        or page.person in (entry.person, *entry.also_by.all())
        or (entry.tree is not None and whose.shows_tree(entry.tree))
    ]


def _walk_words(
    page: SitePage,
    now: Sequence[Task],
    done: Sequence[LogEntry],
    learned: LearnedMinutes,
) -> WalkWords:
    rounds = [task.round for task in now if task.round and task.round.day == page.today]
    told = (
        entry.amount
        for entry in done
        if entry.kind == WALK_MINUTES and entry.person_id == page.person.pk
    )
    return WalkWords(
        work=work_words(learned.walk(now)),
        can_begin=len({task.tree_id for task in now}) > 1
        and any(one.begun_at is None for one in rounds),
        began=began_words([*now, *(one.task for one in done if one.task)], page.site),
        said_minutes=next(told, None),
    )


def _fresh(page: SitePage, near: Sequence[Task]) -> str:
    """Return what a fresh plan would save, where there is more than one walk to come."""
    ahead = {task.round.day for task in near if task.round is not None}
    if not page.may_edit or len(ahead) < 2:  # noqa: PLR2004 (one walk saves no other)
        return ""
    return fresh_words(find_fresh_plan(page.site, page.today))


def _timed(
    found: Sequence[Section], tasks: Sequence[Task], learned: LearnedMinutes
) -> tuple[Section, ...]:
    """Say of each block how long it takes, where there are several."""
    if len(found) < 2:  # noqa: PLR2004 (of one block the whole is said above)
        return tuple(found)
    by_block: dict[int | None, list[Task]] = {}
    for task in tasks:
        by_block.setdefault(task.tree.block_id, []).append(task)
    return tuple(
        replace(
            section, minutes=about(learned.walk(by_block[section.block_id]).minutes)
        )
        for section in found
    )


def _nothing(page: SitePage, near: Sequence[Task], whose: Whose) -> str:
    """Say when the next thing is and why, where today needs nobody."""
    today, units = page.today, page.units
    ahead = [task for task in near if not is_now(task, today)]
    following = min(ahead, key=_coming_order, default=None)
    if following is None:
        later = open_tasks(page.site).filter(due__gt=today).order_by("due", "id")
        following = next(filter(whose.shows, later), None)
    if following is None:
        return ""
    first = (following.likely_from or following.due) if not following.is_firm else None
    day = day_words(first or chosen_day(following), today)
    title = task_title(following)
    words = gettext("Next: {work}, {day}.")
    if not following.is_firm:
        words = gettext("Next: {work}, likely {day}.")
    said = words.format(work=f"{title[0].lower()}{title[1:]}", day=day)
    return " ".join(filter(None, [said, short_reason(following, today, units)]))
