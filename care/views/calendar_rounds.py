"""Rounds as a calendar shows them: one a day and block, in the reader's units."""

from collections import Counter
from collections.abc import Callable, Iterable
from datetime import datetime, timedelta

from django.conf import settings
from django.db.models import F, Prefetch
from django.urls import reverse

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
    ("watering", "water"): "water",
    ("watering", "water_by_leave"): "with leave only, water",
    ("watering", "check"): "feel the soil of",
    ("feeding", "feed"): "feed",
    ("feeding", "rest"): "leave unfed:",
    ("flushing", "flush"): "wash out the pot of",
    ("soil", "test_soil"): "test the soil of",
    ("soil", "acidify"): "give sulfur to",
    ("mulching", "top_up"): "mulch",
    ("mulching", "clear_trunk"): "clear the trunk of",
    ("pruning", "prune"): "prune",
    ("training", "train"): "train",
    ("suckers", "pull_suckers"): "look for suckers on",
    ("suckers", "pull_sprouts"): "pull the sprouts of",
    ("suckers", "choose_pups"): "thin the stems of",
    ("sanitation", "clean_up"): "clear dried fruit from",
    ("sanitation", "look_for_blight"): "look for fire blight on",
    ("cold", "move_in"): "bring in",
    ("cold", "move_out"): "take out",
    ("cold", "cover"): "cover",
    ("cold", "group"): "huddle",
    ("freeze", "pick_ripe"): "pick the ripe fruit of",
    ("freeze", "ready_soil"): "water the soil of",
    ("freeze", "uncover"): "uncover",
    ("heat", "shade_pots"): "shade",
    ("heat", "water_early"): "ready for the heat",
    ("heat", "guard_bark"): "guard the bark of",
    ("weeding", "weed"): "weed round",
    ("weeding", "edge"): "cut the edge round",
    ("weeding", "fit_guard"): "guard the trunk of",
    ("thinning", "thin"): "thin the fruit of",
    ("thinning", "remove_fruit"): "take the fruit off",
    ("harvest", "look"): "look at",
    ("harvest", "pick"): "pick",
    ("harvest", "hold"): "do not pick yet from",
    ("planting", "ground"): "look into soil and rules for",
    ("planting", "locate"): "ask where lines lie for",
    ("planting", "drainage"): "test the drainage for",
    ("planting", "plant"): "plant",
    ("establishing", "settled"): "see to",
    ("establishing", "unstake"): "take the stake off",
    ("establishing", "growth"): "see the growth of",
    ("establishing", "review"): "let stand alone",
    ("establishing", "widen"): "widen the ring of",
    ("potting", "pot_up"): "pot on",
    ("potting", "root_prune"): "repot",
    ("potting", "look_at_roots"): "look at the roots of",
    ("inspection", "look_over"): "look over",
}
OTHERWISE = "look at"


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
        title = one.block.name if one.block else NO_BLOCK
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
    return ", ".join(f"{verb} {number}" for verb, number in counts.items())


def _line(task: Task, units: UnitSystem) -> str:
    amount = task_amount(task, units)
    return f"{task_title(task)}, {amount}" if amount else task_title(task)
