"""Whom to tell of what on an evening whose weather cannot wait.

From four in the afternoon of the site people are told, in one message, of the urgent
work on trees that they look after or stand in for, of heat, and of official warnings.
Trees that nobody looks after are told to those who arrange the work, so that nothing
freezes unheard and a garden of sixty is not woken for one pot. Nobody is told again of
the same night unless it worsens: then one short message adds what changed.
"""

import logging
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from django.urls import reverse
from django.utils.translation import gettext

from care.models import Task
from care.planning.cold_ahead import Night, cold_nights
from care.planning.days_ahead import NearDays, read_near_days
from care.planning.plan_site import ensure_planned
from care.views.evening_digest import (
    Part,
    addition_lines,
    addition_title,
    is_changed,
    lines,
    title,
)
from care.views.evening_told import Told as State, all_told, news, told_of
from care.views.round_sheet import near_tasks
from care.views.task_lines import BEFORE_DARK, is_now
from orchard.access import May, may
from orchard.actions.in_care import CareOfSite, care_of_site
from orchard.actions.messages import Told, write_message
from orchard.languages import in_language, listed
from orchard.models import (
    Membership,
    Message,
    MessageChoice,
    OfficialWarning,
    Site,
)
from orchard.sources.official_warnings import concerns_work, site_moment, warnings_at
from orchard.units import UnitSystem

logger = logging.getLogger(__name__)

#: Common practice, no source: light enough to act, late enough for the last forecast.
TOLD_FROM = time(16)
#: After this nobody goes out to the trees any more; common practice, no source.
TOLD_UNTIL = time(22)
#: Work that is not urgent itself, but belongs to a cold evening's order.
GOES_ALONG = frozenset({("freeze", "ready_soil"), ("cold", "group")})
DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class SiteEvening:
    """What one site's evening brings, before it is shared out."""

    site: Site
    moment: datetime
    near: NearDays
    tasks: tuple[Task, ...]
    warnings: tuple[OfficialWarning, ...]
    care: CareOfSite
    night: Night | None
    is_hot: bool


def is_evening(site: Site, now: datetime) -> bool:
    """Whether a site's own clock stands between four and ten in the evening."""
    clock = now.astimezone(ZoneInfo(site.time_zone)).time()
    return TOLD_FROM <= clock < TOLD_UNTIL


def site_evening(site: Site, now: datetime) -> SiteEvening:
    """Return a site's evening; the plan is made fresh first."""
    today = site.today(now)
    ensure_planned(site, today)
    near, moment = read_near_days(site, today), site_moment(site, now)
    tasks = [task for task in near_tasks(site, today) if _belongs(task, today)]
    hot = {day for day, _ in near.hot_days()}
    is_of_cold = any(task.kind in BEFORE_DARK for task in tasks) or _was_told(
        site, today
    )
    return SiteEvening(
        site=site,
        moment=moment,
        near=near,
        tasks=tuple(tasks),
        warnings=tuple(filter(concerns_work, warnings_at(site, moment))),
        care=care_of_site(site),
        night=_coldest(site, today) if is_of_cold else None,
        is_hot=today + DAY in hot and today not in hot,
    )


def _prefix(orchard_id: int, today: date) -> str:
    return f"evening/{orchard_id}/{today}/"


def _was_told(site: Site, today: date) -> bool:
    prefix = _prefix(site.orchard_id, today)
    told = Message.objects.filter(orchard=site.orchard_id, key__startswith=prefix)
    return told.exists()


def _belongs(task: Task, today: date) -> bool:
    if not is_now(task, today):
        return False
    is_of_evening = task.kind in BEFORE_DARK or task.kind == "heat"
    is_urgent = task.is_urgent and is_of_evening
    return is_urgent or (task.kind, task.action) in GOES_ALONG


def _coldest(site: Site, today: date) -> Night | None:
    """Return the coldest of tonight's minima that somebody knows."""
    nights = (
        night
        for night in cold_nights(site, today, 1)
        if night.day > today or night.basis == "typed"
    )
    return min(nights, key=lambda night: night.minimum_c, default=None)


def write_evenings(now: datetime) -> int:
    """Write the messages of this evening at every site; return how many are new.

    Raises
    ------
    ExceptionGroup
        What failed, after every other site was told.
    """
    evenings: dict[tuple[int, date], list[SiteEvening]] = defaultdict(list)
    failures = []
    for site in Site.objects.select_related("orchard").order_by("orchard_id", "pk"):
        if not is_evening(site, now):
            continue
        try:
            evening = site_evening(site, now)
        except Exception as error:
            logger.exception("Nobody was told of the evening at site %s", site.pk)
            failures.append(error)
        else:
            evenings[site.orchard_id, evening.near.today].append(evening)
    written = 0
    for of_day in evenings.values():
        try:
            written += tell_evening(of_day, now)
        except Exception as error:
            orchard = of_day[0].site.orchard_id
            logger.exception("Nobody was told of the evening in orchard %s", orchard)
            failures.append(error)
    if failures:
        message = "Some sites were not told of their evening."
        raise ExceptionGroup(message, failures)
    return written


def tell_evening(evenings: Sequence[SiteEvening], now: datetime) -> int:
    """Tell every member what the evening of an orchard's sites asks of them.

    Parameters
    ----------
    evenings : sequence of SiteEvening
        Of one orchard and one local day, at least one.
    now : datetime
        Aware.

    Returns
    -------
    int
        How many messages are new.
    """
    orchard = evenings[0].site.orchard
    members = [
        member
        for member in orchard.memberships.select_related("person", "orchard")
        if may(member.role, May.TICK)
    ]
    today = evenings[0].near.today
    prefix = _prefix(orchard.pk, today)
    off = _switched_off(members)
    before = _told_before(members, prefix)
    last = _told_before(members, _prefix(orchard.pk, today - DAY))
    written = 0
    for member in members:
        told = all_told(before[member.person_id])
        parts = _parts(member, evenings, off[member.person_id], told)
        number = len(before[member.person_id])
        if not number and _was_said(parts, all_told(last[member.person_id])):
            continue
        key = f"{prefix}{number}"
        with in_language(member.person.language):
            written += _tell(member, parts, told, key=key, is_first=not number, now=now)
    return written


def _switched_off(members: Iterable[Membership]) -> dict[int, set[str]]:
    people = [member.person_id for member in members]
    off: dict[int, set[str]] = defaultdict(set)
    rows = MessageChoice.objects.filter(person__in=people, is_on=False)
    for person, what in rows.values_list("person", "what"):
        off[person].add(what)
    return off


def _told_before(members: Iterable[Membership], prefix: str) -> dict[int, list[State]]:
    people = [member.person_id for member in members]
    told: dict[int, list[State]] = defaultdict(list)
    rows = Message.objects.filter(person__in=people, key__startswith=prefix)
    for person, body in rows.values_list("person", "body"):
        told[person].append(told_of(body.get("facts", {})))
    return told


def _parts(
    member: Membership, evenings: Sequence[SiteEvening], off: set[str], told: State
) -> list[Part]:
    mine = (_part(member, evening, off, told) for evening in evenings)
    return [part for part in mine if part is not None]


def _was_said(parts: Sequence[Part], yesterday: State) -> bool:
    """Whether nothing but warnings that were told yesterday is left to tell."""
    now = all_told(part.told for part in parts)
    return not now.work and not now.heat and now.warnings <= yesterday.warnings


def _tell(
    member: Membership,
    parts: Sequence[Part],
    told: State,
    *,
    key: str,
    is_first: bool,
    now: datetime,
) -> bool:
    """Write one person's message, or a short addition, if anything is worse.

    Of two workers at once the key lets one write.
    """
    state = all_told(part.told for part in parts)
    found = news(told, state)
    if found.is_none:
        return False
    units = UnitSystem(member.person.units)
    shown = parts if is_first else [part for part in parts if is_changed(part, found)]
    said = (
        (title(shown, units), lines(shown, units))
        if is_first
        else (addition_title(shown, found), addition_lines(shown, found, units))
    )
    what, *also = _kinds(shown)
    message = write_message(
        person=member.person,
        orchard=member.orchard,
        what=what,
        also=also,
        key=key,
        why=_why(shown),
        title=said[0],
        lines=said[1],
        path=reverse("round", args=[shown[0].site.slug]),
        due_at=now,
        until=_end_of_evening(shown[0].site, now),
        facts=state.as_json(),
        time_zone=shown[0].site.time_zone,
    )
    return message is not None


def _part(
    member: Membership, evening: SiteEvening, off: set[str], told: State
) -> Part | None:
    """Return what one member is told of one site, ``None`` if nothing."""
    tasks = tuple(_concerning(member, evening.tasks, evening.care))
    heat = tuple(task for task in tasks if task.kind == "heat")
    cold = tuple(task for task in tasks if task.kind in BEFORE_DARK)
    cares = evening.care.has(member) or may(member.role, May.ARRANGE)
    wants_heat, wants_cold = Told.HEAT not in off, Told.COLD_TONIGHT not in off
    is_cold = wants_cold and any(task.is_urgent for task in cold)
    # Who has seen to everything hears of it when the night becomes colder still.
    was_cold = wants_cold and str(evening.site.pk) in told.minima
    part = Part(
        site=evening.site,
        moment=evening.moment,
        near=evening.near,
        night=evening.night if is_cold or was_cold else None,
        cold=cold if is_cold else (),
        heat=heat if wants_heat else (),
        is_hot=evening.is_hot and wants_heat and cares,
        warnings=evening.warnings if cares and Told.OFFICIAL_WARNING not in off else (),
    )
    is_any = part.night or part.cold or part.heat or part.is_hot or part.warnings
    return part if is_any else None


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


def _why(parts: Sequence[Part]) -> str:
    places = listed([part.site.name for part in parts])
    words = gettext("You look after trees in {places}, or arrange the work there.")
    return words.format(places=places)[:200]


def _kinds(parts: Sequence[Part]) -> list[Told]:
    is_cold = any(part.cold or part.night for part in parts)
    is_hot = any(part.heat or part.is_hot for part in parts)
    is_warned = any(part.warnings for part in parts)
    kinds = (
        (Told.COLD_TONIGHT, is_cold),
        (Told.HEAT, is_hot),
        (Told.OFFICIAL_WARNING, is_warned),
    )
    return [what for what, applies in kinds if applies]


def _end_of_evening(site: Site, now: datetime) -> datetime:
    local = now.astimezone(ZoneInfo(site.time_zone))
    return datetime.combine(local.date(), TOLD_UNTIL, local.tzinfo)
