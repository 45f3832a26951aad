"""When to plant: by stock, by hardiness, and by the place's frosts and rains.

All of it is common practice without a source, except that UF/IFAS (Crane) plants
tropical fruit in spring and summer, the warm and wet half of the year.
"""

from dataclasses import dataclass
from datetime import date, timedelta

from care.facts import RainFacts, SiteFacts, Situation, SpeciesFacts, Stage, Stock
from care.science.season import (
    SHORT_SEASON_DAYS,
    Window,
    frost_free_days,
    is_tender,
    last_frost_in,
    next_on,
    season_date,
    start_of_growth,
)
from care.science.stage_months import month_guess

BEFORE_GROWTH_DAYS = 7
WORKABLE_BEFORE_GROWTH_DAYS = 42  # where the ground freezes
AUTUMN_DAYS = 75  # from the return of the rains
AROUND_RAINS_DAYS = 60
LEAST_DAYS = 30
# Northern months and days.
AUTUMN_FROM = (9, 15)
AUTUMN_UNTIL = (11, 15)  # where the first frost is not known
FROSTS_OVER = (4, 1)  # where the last frost is not known
HEAT_FROM = (6, 15)  # a month before the hottest weeks, where these are not known
BEFORE_HEAT_DAYS = 28
YEAR_DAYS = 365


@dataclass(frozen=True, slots=True)
class PlantingWindow:
    """Days to plant in, both ends included, and the code of the reason."""

    window: Window
    code: str


def windows_for(situation: Situation, season: int) -> tuple[PlantingWindow, ...]:
    """Return when to plant the tree of a situation, by its stages where known.

    As :func:`planting_windows`.
    """
    bare = situation.stage_day(Stage.LEAF_DROP, season - 1)
    return planting_windows(
        situation.tree.species,
        situation.tree.stock,
        situation.site,
        situation.rains,
        season,
        bud_break=start_of_growth(situation, season).on,
        leaf_drop=None if bare is None else bare.on,
    )


def planting_windows(
    species: SpeciesFacts,
    stock: Stock,
    site: SiteFacts,
    rains: RainFacts | None,
    season: int,
    *,
    bud_break: date,
    leaf_drop: date | None = None,
) -> tuple[PlantingWindow, ...]:
    """Return when to plant for the growth of one season, the best window first.

    Parameters
    ----------
    species : SpeciesFacts
        Whether it is tender, and drops its leaves.
    stock : Stock
        How it comes from the nursery.
    site : SiteFacts
        Frosts and hemisphere.
    rains : RainFacts or None
        The usual wet season; without one, rain decides nothing.
    season : int
        Year in which growth starts. Autumn and winter windows lie before it.
    bud_break : datetime.date
        Of that season.
    leaf_drop : datetime.date or None
        In the autumn before; ``None`` takes the months' guess.

    Notes
    -----
    Bare roots go in while dormant. Hardy trees in pots go in in autumn where summers
    are dry, in spring or autumn elsewhere, in spring only where winter is long. Tender
    trees wait for the end of frost, and are in before the heat or the daily rains.
    Where there is no frost, tender trees and evergreens go in before the rains or in
    their first weeks, or at any time if there is no wet season.
    """
    if site.is_frost_free and (is_tender(species) or species.is_evergreen):
        return _without_frost(site, rains, season)
    if is_tender(species):
        return (_after_frost(site, rains, season),)
    is_dormant = stock is not Stock.CONTAINER_GROWN and not species.is_evergreen
    if is_dormant:
        bare = leaf_drop or month_guess(Stage.LEAF_DROP, season - 1, species, site)
        return (_in_dormancy(site, bare, bud_break),)
    return _hardy(site, rains, season, bud_break)


def is_dry_summer(rains: RainFacts | None, *, southern: bool) -> bool:
    """Return whether the usual wet season leaves out the middle of summer."""
    if rains is None or rains.usual_start is None or rains.usual_end is None:
        return False
    midsummer = season_date(2001, 7, 15, southern=southern).timetuple().tm_yday
    length = (rains.usual_end - rains.usual_start) % YEAR_DAYS
    return (midsummer - rains.usual_start) % YEAR_DAYS > length


def _in_dormancy(site: SiteFacts, bare: date | None, bud_break: date) -> PlantingWindow:
    last = bud_break - timedelta(days=BEFORE_GROWTH_DAYS)
    workable = bud_break - timedelta(days=WORKABLE_BEFORE_GROWTH_DAYS)
    if _has_long_winter(site) or bare is None:
        return PlantingWindow(Window(workable, last), "planting_bare_root_in_spring")
    return PlantingWindow(
        Window(min(bare, workable), last), "planting_bare_root_in_dormancy"
    )


def _hardy(
    site: SiteFacts, rains: RainFacts | None, season: int, bud_break: date
) -> tuple[PlantingWindow, ...]:
    in_spring = PlantingWindow(
        _until_heat(site, season, bud_break), "planting_hardy_in_spring"
    )
    if _has_long_winter(site):
        return (in_spring,)
    autumn = season_date(season - 1, *AUTUMN_FROM, southern=site.is_southern)
    if rains is not None and is_dry_summer(rains, southern=site.is_southern):
        first = _on_day_of_year(rains.usual_start or 1, autumn)
        window = Window(first, first + timedelta(days=AUTUMN_DAYS))
        return (PlantingWindow(window, "planting_autumn_of_dry_summer"), in_spring)
    if site.first_frost is None:
        last = season_date(season, *AUTUMN_UNTIL, southern=site.is_southern)
    else:
        last = next_on(site.first_frost, autumn)
    last = max(last, autumn + timedelta(days=LEAST_DAYS))
    in_autumn = PlantingWindow(Window(autumn, last), "planting_hardy_in_autumn")
    return (in_spring, in_autumn)


def _after_frost(
    site: SiteFacts, rains: RainFacts | None, season: int
) -> PlantingWindow:
    """Return the days from the last frost, on the safe side, to heat or daily rains."""
    over = last_frost_in(season, site.on_the_safe_side) or season_date(
        season, *FROSTS_OVER, southern=site.is_southern
    )
    first = over + timedelta(days=1)
    window = _until_heat(site, season, first)
    if rains is not None and rains.usual_start is not None:
        wet = _on_day_of_year(rains.usual_start, first)
        least = first + timedelta(days=LEAST_DAYS)
        window = Window(first, min(window.end, max(wet, least)))
    return PlantingWindow(window, "planting_tender_after_frost")


def _without_frost(
    site: SiteFacts, rains: RainFacts | None, season: int
) -> tuple[PlantingWindow, ...]:
    start = season_date(season, 11, 1, southern=site.is_southern)
    around = timedelta(days=AROUND_RAINS_DAYS)
    if rains is None or rains.usual_start is None:
        following = season_date(season + 1, 11, 1, southern=site.is_southern)
        whole = Window(start, following - timedelta(days=1))
        return (PlantingWindow(whole, "planting_at_any_time"),)
    wet = _on_day_of_year(rains.usual_start, start)
    before = Window(wet - around, wet)
    within = Window(wet + timedelta(days=1), wet + around)
    return (
        PlantingWindow(before, "planting_before_rains"),
        PlantingWindow(within, "planting_in_first_rains"),
    )


def _until_heat(site: SiteFacts, season: int, first: date) -> Window:
    heat = _heat_in(site, season)
    return Window(first, max(heat, first + timedelta(days=LEAST_DAYS)))


def _heat_in(site: SiteFacts, season: int) -> date:
    """Return the last day that leaves four weeks until the hottest of a season."""
    if site.hottest_from is None:
        return season_date(season, *HEAT_FROM, southern=site.is_southern)
    midwinter = season_date(season, 1, 15, southern=site.is_southern)
    return next_on(site.hottest_from, midwinter) - timedelta(days=BEFORE_HEAT_DAYS)


def _has_long_winter(site: SiteFacts) -> bool:
    days = frost_free_days(site)
    return days is not None and days < SHORT_SEASON_DAYS


def _on_day_of_year(number: int, day: date) -> date:
    """Return the first such day of the year, 1-365, on or after a day."""
    this_year = date(day.year, 1, 1) + timedelta(days=number - 1)
    if this_year >= day:
        return this_year
    return date(day.year + 1, 1, 1) + timedelta(days=number - 1)
