"""The round as one sheet: now, coming, done, and what to say when nothing is due."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.db.models import F, Q, QuerySet

from care.models import LogEntry, Task
from care.planning.walk_order import corners_for, in_walking_order
from care.views.days import day_words
from care.views.log_lines import LogLine, log_line
from care.views.log_people import with_people
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
from care.views.whose import Choice, WhoLinks, Whose, water_places, who_links
from care.views.wording import task_title
from orchard.models import Site, Tree
from orchard.units import UnitSystem
from orchard.views.site_page import SitePage

COMING_DAYS = 7
DONE_SHOWN = 60


@dataclass(frozen=True, slots=True)
class RoundSheet:
    """Everything the round's page says."""

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


def round_sheet(page: SitePage, choice: Choice) -> RoundSheet:
    """Read the plan and the log, and put what was chosen of them on one sheet."""
    today, units = page.today, page.units
    everything = list(near_tasks(page.site, today))
    whose = choice.over(everything, today)
    tasks = [task for task in everything if whose.shows(task)]
    due = [task for task in everything if is_now(task, today)]
    # Of all that is due, so that the order is one however little of it is shown.
    walk = in_walking_order(due, corners_for(page.site, due))
    now = [task for task in walk if whose.shows(task)]
    urgent = [task for task in now if task.is_urgent]
    calm = [task for task in now if not task.is_urgent]
    asked = [task for task in tasks if is_to_ask(task, today)]
    plain = [task for task in calm if not is_asked(task)]
    coming = sorted(
        (task for task in tasks if _is_coming(task, today)), key=_coming_order
    )
    trees = list(standing_trees(page.site, today))
    return RoundSheet(
        urgent=_urgent(urgent, today, units, whose),
        sections=sections(plain, today, units, whose.note),
        question=question_of(asked, today, units, whose),
        asked=tuple(asked),
        coming=tuple(
            task_line(task, today, units, whose.note(task)) for task in coming
        ),
        done=_done_today(page, whose),
        nothing="" if now else _nothing(page, tasks, whose),
        has_trees=bool(everything or trees) or _has_planned(page.site),
        who=whose.value,
        who_links=who_links(whose, due),
        water_places=tuple(water_places(whose, trees)),
    )


def _has_planned(site: Site) -> bool:
    return site.trees.filter(status=Tree.Status.ALIVE).exists()


def _is_coming(task: Task, today: date) -> bool:
    if is_now(task, today):
        return False
    first = chosen_day(task) if task.is_firm else task.likely_from or task.due
    return first <= today + timedelta(days=COMING_DAYS)


def _coming_order(task: Task) -> tuple[date, int]:
    day = chosen_day(task) if task.is_firm else task.likely_from or task.due
    return day, task.pk


def _urgent(
    tasks: Sequence[Task], today: date, units: UnitSystem, whose: Whose
) -> tuple[Section, ...]:
    """Return what cannot wait by block: fruit that cold ruins, then cold, then all else."""
    fruit = [task for task in tasks if task.action == "pick_ripe"]
    cold = [task for task in tasks if task.kind == "cold"]
    rest = [task for task in tasks if task not in fruit and task.kind != "cold"]
    return tuple(
        section
        for part in (fruit, cold, rest)
        for section in sections(part, today, units, whose.note)
    )


def _done_today(page: SitePage, whose: Whose) -> tuple[LogLine, ...]:
    """Return what was done where the choice looks, and by the reader anywhere."""
    entries = with_people(
        LogEntry.objects.filter(site=page.site, on=page.today, voided_at=None)
    )[:DONE_SHOWN]
    return tuple(
        log_line(entry, page.today, page.units)
        for entry in entries
        if entry.tree is None
        or page.person in (entry.person, *entry.also_by.all())
        or whose.shows_tree(entry.tree)
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
    work = f"{title[0].lower()}{title[1:]}"
    chance = "" if following.is_firm else "likely "
    reason = short_reason(following, today, units)
    why = f" {reason}" if reason else ""
    return f"Next: {work}, {chance}{day}.{why}"
