"""Rounds as a calendar shows them: one a day and block, in the reader's units."""

from collections import Counter
from collections.abc import Callable, Iterable
from datetime import datetime, timedelta

from django.conf import settings
from django.db.models import F, Prefetch
from django.urls import reverse
from django.utils.translation import gettext, gettext_noop

from care.calendars.events import CalendarRound
from care.models import Round, Task
from care.planning.plan_site import ensure_planned
from care.planning.walk_order import corners_for, in_walking_order
from care.views.task_lines import NO_BLOCK
from care.views.wording import task_amount, task_title
from orchard.actions.in_care import care_of_site
from orchard.models import Membership, Orchard, Site
from orchard.units import UnitSystem

DAYS_BACK = timedelta(days=30)
DAYS_AHEAD = timedelta(days=400)
#: Trees of later rounds stand by row: their walk is looked at when it comes near.
WALK_AHEAD = timedelta(days=7)
SUMMARY_VERBS = {
    ("watering", "water"): gettext_noop("water {number}"),
    ("watering", "water_by_leave"): gettext_noop("with leave only, water {number}"),
    ("watering", "check"): gettext_noop("feel the soil of {number}"),
    ("feeding", "feed"): gettext_noop("feed {number}"),
    ("feeding", "rest"): gettext_noop("leave unfed: {number}"),
    ("flushing", "flush"): gettext_noop("wash out the pot of {number}"),
    ("soil", "test_soil"): gettext_noop("test the soil of {number}"),
    ("soil", "acidify"): gettext_noop("give sulfur to {number}"),
    ("mulching", "top_up"): gettext_noop("mulch {number}"),
    ("mulching", "clear_trunk"): gettext_noop("clear the trunk of {number}"),
    ("pruning", "prune"): gettext_noop("prune {number}"),
    ("training", "train"): gettext_noop("train {number}"),
    ("suckers", "pull_suckers"): gettext_noop("look for suckers on {number}"),
    ("suckers", "pull_sprouts"): gettext_noop("pull the sprouts of {number}"),
    ("suckers", "choose_pups"): gettext_noop("thin the stems of {number}"),
    ("sanitation", "clean_up"): gettext_noop("clear dried fruit from {number}"),
    ("sanitation", "look_for_blight"): gettext_noop("look for fire blight on {number}"),
    ("cold", "move_in"): gettext_noop("bring in {number}"),
    ("cold", "move_out"): gettext_noop("take out {number}"),
    ("cold", "cover"): gettext_noop("cover {number}"),
    ("cold", "group"): gettext_noop("huddle {number}"),
    ("freeze", "pick_ripe"): gettext_noop("pick the ripe fruit of {number}"),
    ("freeze", "ready_soil"): gettext_noop("water the soil of {number}"),
    ("freeze", "uncover"): gettext_noop("uncover {number}"),
    ("heat", "shade_pots"): gettext_noop("shade {number}"),
    ("heat", "water_early"): gettext_noop("ready for the heat {number}"),
    ("heat", "guard_bark"): gettext_noop("guard the bark of {number}"),
    ("weeding", "weed"): gettext_noop("weed round {number}"),
    ("weeding", "edge"): gettext_noop("cut the edge round {number}"),
    ("weeding", "fit_guard"): gettext_noop("guard the trunk of {number}"),
    ("thinning", "thin"): gettext_noop("thin the fruit of {number}"),
    ("thinning", "remove_fruit"): gettext_noop("take the fruit off {number}"),
    ("harvest", "look"): gettext_noop("look at {number}"),
    ("harvest", "pick"): gettext_noop("pick {number}"),
    ("harvest", "hold"): gettext_noop("do not pick yet from {number}"),
    ("planting", "ground"): gettext_noop("look into soil and rules for {number}"),
    ("planting", "locate"): gettext_noop("ask where lines lie for {number}"),
    ("planting", "drainage"): gettext_noop("test the drainage for {number}"),
    ("planting", "plant"): gettext_noop("plant {number}"),
    ("establishing", "settled"): gettext_noop("see to {number}"),
    ("establishing", "unstake"): gettext_noop("take the stake off {number}"),
    ("establishing", "growth"): gettext_noop("see the growth of {number}"),
    ("establishing", "review"): gettext_noop("let stand alone {number}"),
    ("establishing", "widen"): gettext_noop("widen the ring of {number}"),
    ("potting", "pot_up"): gettext_noop("pot on {number}"),
    ("potting", "root_prune"): gettext_noop("repot {number}"),
    ("potting", "look_at_roots"): gettext_noop("look at the roots of {number}"),
    ("inspection", "look_over"): gettext_noop("look over {number}"),
}
OTHERWISE = gettext_noop("look at {number}")


def rounds_of(
    orchard: Orchard,
    now: datetime,
    units: UnitSystem,
    in_care_of: Membership | None = None,
) -> list[CalendarRound]:
    """Return the rounds of all sites of an orchard, planned up to this moment.

    With ``in_care_of`` they hold what that member looks after and nothing else.
    """
    sites = list(orchard.sites.order_by("pk"))
    several = len(sites) > 1
    found: list[CalendarRound] = []
    for site in sites:
        ensure_planned(site, site.today(now))
        is_shown = _everything if in_care_of is None else _in_care(site, in_care_of)
        found += _rounds_of_site(site, now, units, is_shown, is_named=several)
    return found


def _everything(task: Task) -> bool:
    del task
    return True


def _in_care(site: Site, member: Membership) -> Callable[[Task], bool]:
    """Return whether a task is one of the member's own; its tree must be at hand."""
    care = care_of_site(site)

    def is_own(task: Task) -> bool:
        return member.pk in care.carers(task.tree_id, task.tree.block_id)

    return is_own


def _rounds_of_site(
    site: Site,
    now: datetime,
    units: UnitSystem,
    is_shown: Callable[[Task], bool],
    *,
    is_named: bool,
) -> list[CalendarRound]:
    today = site.today(now)
    tasks = (
        Task.objects.exclude(status=Task.Status.WITHDRAWN)
        .select_related("tree__block", "round")
        .order_by(F("tree__position").asc(), "tree__name", "kind", "key", "id")
    )
    rounds = (
        Round.objects.filter(
            site=site,
            is_withdrawn=False,
            day__gte=today - DAYS_BACK,
            day__lte=today + DAYS_AHEAD,
        )
        .select_related("block")
        .prefetch_related(Prefetch("tasks", queryset=tasks))
    )
    corners = corners_for(site, [task for one in rounds for task in one.tasks.all()])
    address = settings.BASE_URL + reverse("round", args=[site.slug])
    shift = timedelta(days=site.calendar_shift_days)
    place = f"{site.name}, " if is_named else ""
    found = []
    for one in rounds:
        members = _shown(list(filter(is_shown, one.tasks.all())))
        if not members:
            continue
        title = one.block.name if one.block else gettext(NO_BLOCK)
        is_near = today <= one.day <= today + WALK_AHEAD
        walk = in_walking_order(members, corners) if is_near else members
        found.append(
            CalendarRound(
                uid=one.uid,
                day=one.day + shift,
                summary=f"{place}{title}: {_summary(members)}",
                description="\n".join(_line(task, units) for task in walk),
                sequence=one.sequence,
                changed_at=one.changed_at,
                url=address,
            )
        )
    return found


def _shown(tasks: list[Task]) -> list[Task]:
    """Return what is still open; of a round that is over, everything."""
    return [task for task in tasks if task.status == Task.Status.OPEN] or tasks


def _summary(tasks: Iterable[Task]) -> str:
    counts = Counter(
        SUMMARY_VERBS.get((task.kind, task.action), OTHERWISE) for task in tasks
    )
    return ", ".join(
        gettext(words).format(number=number) for words, number in counts.items()
    )


def _line(task: Task, units: UnitSystem) -> str:
    amount = task_amount(task, units)
    return f"{task_title(task)}, {amount}" if amount else task_title(task)
