"""Weeding: a ring without grass round young trees, and no trimmer near their bark."""

from datetime import date, timedelta

from care.facts import Situation
from care.proposals import Proposal, Reason
from care.science.mulch import ring_diameter_m
from care.science.season import Window, growth_start, next_on, season_date, season_of

KIND = "weeding"
KEY = "next"

YOUNG_YEARS = 3.0  # common practice, no source: until then grass costs most growth
# Common practice, no source: four to six weeks in growth, mulch holds weeds back; a
# grown tree bears grass better.
BETWEEN_DAYS = {"grass": 28, "bare": 28, "mulch": 42}
BETWEEN_DAYS_GROWN = 56
AFTER_PLANTING_DAYS = 28
EARLY_DAYS = 7
WINDOW_DAYS = 21
LAST_OCTOBER_DAY = (10, 31)
EFFORT_FIXED_MINUTES = 5
EFFORT_MINUTES_PER_M = 5  # a metre across the ring; no source


def propose(situation: Situation) -> tuple[Proposal, ...]:
    """Return the next weeding of the ring, in the growing season only.

    For trees in the ground that are younger than three years or stand in grass;
    never for pots. A skip counts like the work: whoever looked has decided.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    """
    if not _has_rival(situation):
        return ()
    season = _growing_season(situation)
    if situation.today not in season:
        return ()
    due = _due(situation, season)
    if due > season.end:
        return ()
    return (_weed(situation, due, season),)


def _has_rival(situation: Situation) -> bool:
    tree = situation.tree
    if tree.in_container:
        return False
    return tree.floor == "grass" or _is_young(situation)


def _is_young(situation: Situation) -> bool:
    years = situation.tree.years_since_planting(situation.today)
    return years is not None and 0 <= years < YOUNG_YEARS


def _growing_season(situation: Situation) -> Window:
    """Return the days of growth around today, up to the first frost where known."""
    site = situation.site
    season = season_of(situation.today, southern=site.is_southern)
    start = growth_start(season, situation.tree.species, site)
    end = season_date(season, *LAST_OCTOBER_DAY, southern=site.is_southern)
    if site.first_frost is not None and not site.is_frost_free:
        end = min(end, next_on(site.first_frost, start))
    return Window(start, end)


def _between_days(situation: Situation) -> int:
    if not _is_young(situation):
        return BETWEEN_DAYS_GROWN
    return BETWEEN_DAYS.get(situation.tree.floor, max(BETWEEN_DAYS.values()))


def _last(situation: Situation) -> date | None:
    work = situation.logged(KIND)
    return work[-1].on if work else None


def _due(situation: Situation, season: Window) -> date:
    """Return the day grass has grown back: since the last work, or since spring."""
    between = timedelta(days=_between_days(situation))
    first = season.start + between
    planted = situation.tree.planted_on
    if planted is not None:
        first = max(first, planted + timedelta(days=AFTER_PLANTING_DAYS))
    last = _last(situation)
    due = first if last is None else max(first, last + between)
    # Weeds that nobody pulled are not late: they are asked for again in their turn.
    missed = max(0, (situation.today - due).days - WINDOW_DAYS)
    return due + between * -(-missed // between.days)


def _weed(situation: Situation, due: date, season: Window) -> Proposal:
    tree = situation.tree
    years = tree.years_since_planting(situation.today)
    diameter_m = ring_diameter_m(tree.crown_width_m, years)
    if tree.mulch is not None and tree.mulch.ring_radius_m:
        diameter_m = 2 * tree.mulch.ring_radius_m
    code = "weed_young" if _is_young(situation) else "weed_grass"
    minutes = EFFORT_FIXED_MINUTES + round(EFFORT_MINUTES_PER_M * diameter_m)
    return Proposal(
        tree_id=tree.id,
        kind=KIND,
        key=KEY,
        action="weed",
        earliest=due - timedelta(days=EARLY_DAYS),
        due=due,
        latest=due + timedelta(days=WINDOW_DAYS),
        reason=Reason(
            code,
            (
                ("years", None if years is None else round(years, 1)),
                ("floor", tree.floor),
                ("between_days", _between_days(situation)),
                ("last_on", _last(situation)),
                ("ring_diameter_m", round(diameter_m, 2)),
                ("season_start", season.start),
                ("season_end", season.end),
            ),
            ("weeding_logged", "mulch_laid"),
        ),
        sources=("common_practice",),
        cautions=("trimmer_off_bark", "keep_back_straight"),
        effort_minutes=minutes,
    )
