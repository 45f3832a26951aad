"""What the rains mean for watering, in one line: set in, dry again, ended."""

from dataclasses import dataclass
from datetime import date, timedelta

from django.utils.translation import gettext, ngettext

from care.facts import RainState, WeatherSeries
from care.models import Task
from care.planning.plan_site import ensure_planned
from care.planning.rains import TOLD_DRY_DAYS, Rains, dry_days_now, rains_of
from care.views.days import count_days, short_day
from care.views.likely_words import capitalised
from care.views.rain_words import rains_notice
from orchard.models import Site, Tree

WATER_KINDS = ("watering", "establishing")
SOON = timedelta(days=7)


@dataclass(frozen=True, slots=True)
class GroundWater:
    """Waterings to come of trees in the ground: the first day, and how many are soon.

    ``first`` is ``None`` where none is in sight; ``trees`` is how many stand there.
    """

    trees: int
    first: date | None
    soon: int


def rain_notice(site: Site, series: WeatherSeries | None, today: date) -> str:
    """Return one line while the rains change what there is to do; nothing else.

    Parameters
    ----------
    site : Site
        Planned here if its plan is not of today.
    series : WeatherSeries or None
        The site's.
    today : datetime.date
    """
    if series is None:
        return ""
    rains, dry_days = rains_of(series, today), dry_days_now(series, today)
    news = rains_notice(rains, today)
    is_dry_again = rains.state is RainState.SET_IN and dry_days >= TOLD_DRY_DAYS
    if not news and not is_dry_again:
        return ""
    ensure_planned(site, today)
    return notice_words(rains, news, dry_days, ground_water(site, today), today)


def notice_words(
    rains: Rains, news: str, dry_days: int, water: GroundWater, today: date
) -> str:
    """Return the news of the rains with what follows for trees in the ground.

    Parameters
    ----------
    rains : Rains
    news : str
        That they set in or ended, or nothing.
    dry_days : int
        Read as dry in a row, up to now.
    water : GroundWater
        As planned.
    today : datetime.date
    """
    if not water.trees:
        return news
    if rains.state is RainState.SET_IN and dry_days >= TOLD_DRY_DAYS:
        return gettext("Dry for {dry_days} again: {resumes}.").format(
            dry_days=count_days(dry_days), resumes=_resumes(water, today)
        )
    if rains.state is RainState.ENDED:
        return f"{news} {capitalised(_resumes(water, today))}."
    if water.soon:
        still = ngettext(
            "{number} tree in the ground still needs water this week.",
            "{number} trees in the ground still need water this week.",
            water.soon,
        ).format(number=water.soon)
        return f"{news} {still}"
    alone = gettext("Leave the trees in the ground alone; pots still need a look.")
    return f"{news} {alone}"


def ground_water(site: Site, today: date) -> GroundWater:
    """Return the open waterings of a site's trees in the ground, by two queries."""
    standing = site.trees.filter(in_container=False, status=Tree.Status.ALIVE)
    due = list(
        Task.objects.filter(
            site=site,
            kind__in=WATER_KINDS,
            status=Task.Status.OPEN,
            tree__in_container=False,
        )
        .order_by("due")
        .values_list("tree_id", "due")
    )
    soon = {tree for tree, day in due if day <= today + SOON}
    return GroundWater(standing.count(), due[0][1] if due else None, len(soon))


def _resumes(water: GroundWater, today: date) -> str:
    if water.first is None:
        return gettext("no tree in the ground needs water yet")
    if water.first <= today:
        return gettext("trees in the ground need water now")
    day = short_day(water.first, today)
    return gettext("watering of trees in the ground resumes about {day}").format(
        day=day
    )
