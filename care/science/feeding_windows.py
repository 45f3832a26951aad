"""When a season's feedings may be: from the start of growth to the last safe day."""

from datetime import date, timedelta

from care.facts import SiteFacts, SpeciesFacts
from care.science.season import (
    SHORT_SEASON_DAYS,
    Window,
    frost_free_days,
    growth_start,
    next_on,
    season_date,
)

FROST_LEAD_DAYS = 56  # eight weeks before the first frost (from memory)
JULY_STOP = (7, 15)  # Penn State Extension, stone fruit: never after 15 July
OCTOBER_STOP = (10, 31)  # UF/IFAS HS132: February to October where frost is rare
# Last days of a species' own, where frost ends the season: NC Extension feeds
# blueberries to early July and grapes to mid-June; UGA gives young figs the last part
# in mid-July, LSU none in late summer; UC feeds no avocado after 1 October.
SPECIES_STOPS = {
    "blueberry_highbush": (7, 10),
    "blueberry_rabbiteye": (7, 10),
    "grape": (6, 20),
    "fig": (7, 31),
    "avocado": (10, 1),
}
MAX_WINDOW_DAYS = 56  # common practice, no source: a split later than this is missed

# Days between parts. NC State splits tree fruit between late winter and May; Arizona
# gives citrus thirds in January-February, March-April and May-June; UGA feeds young
# figs in early spring, mid-May and mid-July; elsewhere six weeks: San Diego Master
# Gardeners (any fruit tree), NC Extension (blueberry, grape).
BETWEEN_DAYS = {"pome": 70, "stone": 70, "citrus": 60, "fig": 60}
BETWEEN_DAYS_ELSE = 42


def feeding_stop(season: int, species: SpeciesFacts, site: SiteFacts) -> date:
    """Return the last day on which the season may be fed.

    The earlier of the species' own last day and eight weeks before the first frost;
    leaf-shedding trees where the season is short no later than mid-July (Penn State
    Extension, stone fruit); frost-free sites until the end of October, after harvest
    too (UF/IFAS HS132; UC Master Gardeners of Ventura). Where the first frost is not
    known, mid-July: the earliest of the general stops.
    """
    return _stop(season, species, site)[0]


def stop_basis(season: int, species: SpeciesFacts, site: SiteFacts) -> str:
    """Return a code for what sets the stop date of :func:`feeding_stop`.

    ``frost_free``, ``frost_unknown``, ``short_season``, ``first_frost`` or
    ``species``.
    """
    return _stop(season, species, site)[1]


def _stop(season: int, species: SpeciesFacts, site: SiteFacts) -> tuple[date, str]:
    southern = site.is_southern
    if site.is_frost_free:
        return season_date(season, *OCTOBER_STOP, southern=southern), "frost_free"
    found = [_frost_stop(season, species, site)]
    own = SPECIES_STOPS.get(species.key)
    if own is not None:
        found.append((season_date(season, *own, southern=southern), "species"))
    return min(found)


def _frost_stop(
    season: int, species: SpeciesFacts, site: SiteFacts
) -> tuple[date, str]:
    july = season_date(season, *JULY_STOP, southern=site.is_southern)
    frost = site.safest_first_frost
    if frost is None:
        return july, "frost_unknown"
    start = growth_start(season, species, site)
    stop = next_on(frost, start) - timedelta(days=FROST_LEAD_DAYS)
    days = frost_free_days(site)
    is_short = days is None or days < SHORT_SEASON_DAYS
    if species.is_evergreen or not is_short:
        return stop, "first_frost"
    return min((stop, "first_frost"), (july, "short_season"))


def between_days(species: SpeciesFacts, site: SiteFacts) -> int | None:
    """Return the most days between two parts, or ``None`` where they fill the season.

    Where no frost ends it, evergreens are fed from spring to autumn (UF/IFAS HS132).
    """
    if species.is_evergreen and site.is_frost_free:
        return None
    by_group = BETWEEN_DAYS.get(species.feed_group, BETWEEN_DAYS_ELSE)
    return BETWEEN_DAYS.get(species.key, by_group)


def split_windows(
    season: int,
    species: SpeciesFacts,
    site: SiteFacts,
    *,
    start: date,
    spread_out: bool = False,
) -> tuple[Window, ...]:
    """Return one window a part, from the start of growth on.

    The windows do not touch each other, and none outlasts eight weeks or the stop.
    Empty where growth starts too late for all of them.

    Parameters
    ----------
    start : date
        Bud break of the season, as best known: nothing is fed before.
    spread_out : bool
        Evenly to the stop, as for pots that watering leaches.
    """
    stop = feeding_stop(season, species, site)
    times = species.feed_times_per_year or 1
    span = (stop - start).days + 1
    if span < times:
        return ()
    most = None if spread_out else between_days(species, site)
    step = span / times if most is None else min(span / times, most)
    firsts = [start + timedelta(days=int(step * split)) for split in range(times)]
    lasts = [first - timedelta(days=1) for first in firsts[1:]] + [stop]
    return tuple(
        Window(first, min(last, first + timedelta(days=MAX_WINDOW_DAYS)))
        for first, last in zip(firsts, lasts, strict=True)
    )


def outside_blackouts(window: Window, site: SiteFacts) -> Window | None:
    """Return the first unbroken part of a window in which the site may be fed.

    ``None`` where the local rule blocks all of it.
    """
    if not site.feeding_blackouts:
        return window
    free: list[date] = []
    for offset in range((window.end - window.start).days + 1):
        day = window.start + timedelta(days=offset)
        if not is_blacked_out(day, site):
            free.append(day)
        elif free:
            break
    return Window(free[0], free[-1]) if free else None


def is_blacked_out(day: date, site: SiteFacts) -> bool:
    """Return whether the local authority forbids feeding on ``day``."""
    for blackout in site.feeding_blackouts:
        start = blackout.start.in_year(day.year)
        end = blackout.end.in_year(day.year)
        if start <= end and start <= day <= end:
            return True
        if start > end and (day >= start or day <= end):
            return True
    return False
