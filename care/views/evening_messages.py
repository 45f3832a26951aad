"""What to tell whom on an evening whose cold cannot wait.

At four in the afternoon of the site people are told, once a day, of the urgent cold
work on trees that they look after or stand in for. Trees that nobody looks after are
told to those who arrange the work, so that nothing freezes unheard and a garden of
sixty is not woken for one pot.
"""

import logging
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, time
from zoneinfo import ZoneInfo

from django.urls import reverse

from care.models import Task
from care.planning.plan_site import ensure_planned
from care.views.round_sheet import near_tasks
from care.views.task_lines import BEFORE_DARK, is_now
from care.views.wording import task_amount, task_title
from orchard.access import May, may
from orchard.actions.in_care import CareOfSite, care_of_site
from orchard.actions.messages import Told, write_message
from orchard.models import Membership, Site
from orchard.units import UnitSystem

logger = logging.getLogger(__name__)

#: Common practice, no source: light enough to act, late enough for the last forecast.
TOLD_FROM = time(16)
#: After this nobody goes out to the trees any more; common practice, no source.
TOLD_UNTIL = time(22)


@dataclass(frozen=True, slots=True)
class Evening:
    """One member and the urgent cold work they are told of."""

    member: Membership
    tasks: tuple[Task, ...]


def is_evening(site: Site, now: datetime) -> bool:
    """Whether a site's own clock stands between four and ten in the evening."""
    clock = now.astimezone(ZoneInfo(site.time_zone)).time()
    return TOLD_FROM <= clock < TOLD_UNTIL


def evenings(site: Site, today: date) -> list[Evening]:
    """Return whom to tell of which work; the plan is made fresh first."""
    ensure_planned(site, today)
    tasks = [
        task
        for task in near_tasks(site, today)
        if task.is_urgent and task.kind in BEFORE_DARK and is_now(task, today)
    ]
    if not tasks:
        return []
    care = care_of_site(site)
    members = site.orchard.memberships.select_related("person").order_by("pk")
    told = (
        Evening(member, tuple(_concerning(member, tasks, care)))
        for member in members
        if may(member.role, May.TICK)
    )
    return [evening for evening in told if evening.tasks]


def _concerning(
    member: Membership, tasks: Iterable[Task], care: CareOfSite
) -> Iterable[Task]:
    arranges = may(member.role, May.ARRANGE)
    for task in tasks:
        place = (task.tree_id, task.tree.block_id)
        carers = care.carers(*place)
        known = member.pk in carers or member.pk in care.backups(*place)
        if known or (arranges and not carers):
            yield task


def write_evenings(now: datetime) -> int:
    """Write the messages of this evening at every site; return how many are new.

    Raises
    ------
    ExceptionGroup
        What failed, after every other site was told.
    """
    written, failures = 0, []
    for site in Site.objects.select_related("orchard").order_by("pk"):
        try:
            written += write_evening(site, now)
        except Exception as error:
            logger.exception("Nobody was told of the evening at site %s", site.pk)
            failures.append(error)
    if failures:
        message = "Some sites were not told of their evening."
        raise ExceptionGroup(message, failures)
    return written


def write_evening(site: Site, now: datetime) -> int:
    """Write one site's messages of this evening; return how many are new."""
    if not is_evening(site, now):
        return 0
    today = site.today(now)
    return sum(_write(one, site, today, now) for one in evenings(site, today))


def _write(evening: Evening, site: Site, today: date, now: datetime) -> bool:
    person = evening.member.person
    units = UnitSystem(person.units)
    number = len(evening.tasks)
    message = write_message(
        person=person,
        orchard=site.orchard,
        what=Told.COLD_TONIGHT,
        key=f"{Told.COLD_TONIGHT}/{site.pk}/{today}",
        why=f"You look after trees in {site.name}, or arrange the work there.",
        title=f"{site.name}: {number} thing{'s' * (number > 1)} to do before the cold",
        lines=[_line(task, units) for task in evening.tasks],
        path=reverse("round", args=[site.slug]),
        due_at=now,
        until=_end_of_evening(site, now),
    )
    return message is not None


def _line(task: Task, units: UnitSystem) -> str:
    amount = task_amount(task, units)
    return f"{task_title(task)}, {amount}" if amount else task_title(task)


def _end_of_evening(site: Site, now: datetime) -> datetime:
    local = now.astimezone(ZoneInfo(site.time_zone))
    return datetime.combine(local.date(), TOLD_UNTIL, local.tzinfo)
