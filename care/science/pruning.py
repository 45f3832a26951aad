"""Pruning: how much of the crown at most, how much lower, and when to wait."""

from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache

from care.facts import Origin, Situation, SpeciesFacts, WeatherSeries, WorkDone
from care.science.season import is_tender, work_of_season

CROWN_SHARE_LIMIT = 0.25  # ANSI A300 (1995) 5.3.1: a quarter of the foliage a season
HARDY_HOLD_C = -12.0  # common practice, no source: an exceptional low for hardy trees
TENDER_HOLD_C = 0.0
FORECAST_DAYS = 16  # no forecast reaches further
HEAT_HOLD_C = 37.8  # 100 degF (UC Master Gardeners)
RAIN_DAY_MM = 1.0
DRY_DAYS = 3  # after cuts on trees that wet wounds make ill; common practice, no source
DROUGHT_KS = 0.5  # common practice, no source: a tree this thirsty is left alone
DROUGHT_DAYS = 3
RENOVATION_SEASONS = 3  # Washington State Extension in the Kitsap Sun, 1996
LARGE_LIMBS = 2  # a year, same source
GROWN_YEARS = 6.0  # common practice, no source: old enough to be neglected
LEAST_STEP_M = 1.0  # common practice, no source: a metre comes off in one season

WOUNDS_KEPT_DRY = ("almond", "olive", "pistachio")  # and all stone fruit


@dataclass(frozen=True, slots=True)
class CrownLimit:
    """How much may go in one season.

    ``share`` of the crown, or ``None`` where the crop is renewed by a rule of its
    own: ``fruiting_shoots`` (peach), ``vine``, ``canes``, ``stems`` (banana).
    """

    share: float | None
    own_rule: str = ""


@dataclass(frozen=True, slots=True)
class Held:
    """Cuts wait until a day; ``by`` is cold, heat, wet or drought."""

    until: date
    by: str


def crown_limit(species: SpeciesFacts) -> CrownLimit:
    """Return the limit of one species for a season.

    A quarter of the crown (ANSI A300-1995; UF/IFAS Miami-Dade for tropical fruit);
    peaches fruit on last year's shoots and take harder dormant pruning (UF/IFAS),
    vines, canes and banana stems are renewed.
    """
    if species.key in ("peach", "nectarine"):
        return CrownLimit(None, "fruiting_shoots")
    if species.prune_system == "pup_selection":
        return CrownLimit(None, "stems")
    if species.habit == "vine":
        return CrownLimit(None, "vine")
    if "cane" in species.prune_system or species.prune_system == "spur":
        return CrownLimit(None, "canes")
    return CrownLimit(CROWN_SHARE_LIMIT)


def share_left(situation: Situation, season: int) -> float | None:
    """Return the share of the crown that may still go, or ``None`` by its own rule.

    All cuts of the season count, whichever task asked for them.
    """
    limit = crown_limit(situation.tree.species).share
    if limit is None:
        return None
    gone = sum(work.amount or 0.0 for work in _done(situation, season))
    return max(0.0, limit - gone)


def _done(situation: Situation, season: int) -> tuple[WorkDone, ...]:
    work = work_of_season(situation, "pruning", season)
    return tuple(each for each in work if each.what == "done")


def height_step_m(height_m: float, target_m: float) -> float:
    """Return how much lower a tree is made in one season [m].

    A third of what is too much, so that three years do it, but a metre at least where
    that much is too much.
    """
    excess_m = max(0.0, height_m - target_m)
    return min(excess_m, max(excess_m / RENOVATION_SEASONS, LEAST_STEP_M))


def renovation_season(situation: Situation, season: int) -> int | None:
    """Return which of its three years a neglected tree is in, or ``None``.

    Neglected is a grown tree in the ground, under the quarter rule, that stood here for three seasons
    without a logged cut before its first; each season with cuts is one of the three.
    """
    tree = situation.tree
    years = tree.years_since_planting(situation.today)
    is_young = years is not None and years < GROWN_YEARS
    is_kind = tree.species.habit == "tree" and not tree.in_container
    if is_young or not is_kind or crown_limit(tree.species).share is None:
        return None
    pruned = {
        each
        for each in range(season - 2 * RENOVATION_SEASONS, season)
        if _done(situation, each)
    }
    first = min(pruned, default=season)
    unpruned_days = RENOVATION_SEASONS * 365
    waited = (situation.today - tree.entered_on).days - 365 * (season - first)
    if waited < unpruned_days or len(pruned) >= RENOVATION_SEASONS:
        return None
    return len(pruned) + 1


def hold_until(situation: Situation) -> Held | None:
    """Return what keeps cuts waiting and until when, the longest wait first.

    Tender plants wait at any forecast frost, hardy ones only at exceptional lows; all
    wait at 100 degF and in drought; stone fruit, almond, olive and pistachio wait for
    three dry days. Wood hurt by a freeze is the freeze rule's to wait for.
    """
    found = (_weather_hold(situation), _wet(situation), _thirst(situation))
    held = [each for each in found if each is not None]
    return max(held, key=lambda each: each.until, default=None)


@lru_cache(maxsize=8)  # the same for all trees of a site
def _expected(
    series: WeatherSeries | None, today: date
) -> tuple[tuple[date, float, float, float], ...]:
    """Return day, minimum, maximum [degC] and rain [mm] of today and the forecast."""
    if series is None:
        return ()
    days = (today + timedelta(days=ahead) for ahead in range(FORECAST_DAYS))
    known = [
        (day, series.index(day))
        for day in days
        if series.covers(day) and series.origin_on(day) is not Origin.NORMAL
    ]
    return tuple(
        (day, series.tmin_c[at], series.tmax_c[at], series.rain_mm[at])
        for day, at in known
    )


def _weather_hold(situation: Situation) -> Held | None:
    limit = TENDER_HOLD_C if is_tender(situation.tree.species) else HARDY_HOLD_C
    held: Held | None = None
    for day, low, high, _ in _expected(situation.weather, situation.today):
        # A gap compares as false either way.
        if low <= limit:
            held = Held(day + timedelta(days=1), "cold")
        elif high >= HEAT_HOLD_C:
            held = Held(day + timedelta(days=1), "heat")
    return held


def needs_dry_wounds(species: SpeciesFacts) -> bool:
    """Return whether wet cuts let disease into wood of this kind."""
    return species.feed_group == "stone" or species.key in WOUNDS_KEPT_DRY


def _wet(situation: Situation) -> Held | None:
    """Return the first of three days without rain, where today is not."""
    if not needs_dry_wounds(situation.tree.species):
        return None
    start = situation.today
    for day, _, _, rain_mm in _expected(situation.weather, situation.today):
        if (day - start).days >= DRY_DAYS:
            break
        if rain_mm >= RAIN_DAY_MM:
            start = day + timedelta(days=1)
    return Held(start, "wet") if start > situation.today else None


def _thirst(situation: Situation) -> Held | None:
    water = situation.water
    if water is None or water.stress_ks >= DROUGHT_KS:
        return None
    return Held(situation.today + timedelta(days=DROUGHT_DAYS), "drought")
