"""When a kind of tree is pruned: in dormancy, in a dry summer, after its harvest.

The catalogue's months seed the windows; bud break, leaf drop, the last picking and the
usual start of the rains move them once they are seen or modelled.
"""

from dataclasses import replace
from datetime import date, timedelta
from enum import StrEnum

from care.facts import RainFacts, Situation, SpeciesFacts, Stage
from care.science.pruning import crown_limit
from care.science.season import (
    Window,
    is_tender,
    last_frost_in,
    month_runs,
    month_window,
    next_on,
    season_date,
    start_of_growth,
)

FROST_LEAD_DAYS = 56  # citrus and tropicals: four to eight weeks before a freeze
DRY_WEEKS_DAYS = 42  # six dry weeks: UC Master Gardeners, Tulare County
LEAST_DAYS = 14  # common practice, no source: a shorter window is none
NEAR_DAYS = 120  # a picking further away belongs to another year; no source
DORMANT_DAYS = 240  # leaf drop lies within these days before growth
SUMMER_MONTHS = (
    6,
    7,
    8,
)  # plums where silver leaf spreads in winter (RHS, from memory)
DORMANT_MONTHS = (11, 12, 1, 2, 3)
MIDWINTER_NORTH, MIDWINTER_SOUTH = 15, 196  # day of the year

DRY_SUMMER = ("apricot", "sweet_cherry", "sour_cherry")
PLUMS = ("european_plum", "japanese_plum")
# Bleed when cut late, or are done with in the dry part of winter: not drawn towards bud
# break (from memory).
EARLY_DORMANT = ("almond", "mulberry", "kiwifruit", "hardy_kiwi", "hazelnut")
AFTER_HARVEST = (
    *("avocado", "mango", "lychee", "longan", "jackfruit", "sapodilla"),
    *("mamey_sapote", "loquat", "tamarind", "macadamia", "coffee", "dragon_fruit"),
    *("surinam_cherry", "blueberry_southern_highbush"),
)
# The last month in which a kind may be pruned: mango by the end of September (UF/IFAS,
# read in a copy).
LAST_MONTH = {"mango": 9}


class Timing(StrEnum):
    """What a kind's window hangs on."""

    DORMANT = "dormant"
    DRY_SUMMER = "dry_summer"
    AFTER_HARVEST = "after_harvest"
    MONTHS = "months"


def timing_of(species: SpeciesFacts) -> Timing:
    """Return what the pruning window of a kind hangs on.

    Apricot, cherry and plum in the catalogue's summer months: dry summer (UC
    Cooperative Extension; RHS). Tropical fruit: after the last picking (UF/IFAS
    Miami-Dade). Bare trees: dormancy. All else, such as citrus: the months.
    """
    if species.key in AFTER_HARVEST:
        return Timing.AFTER_HARVEST
    if species.key in DRY_SUMMER or species.key == "european_plum":
        return Timing.DRY_SUMMER
    return Timing.MONTHS if species.is_evergreen else Timing.DORMANT


def has_wet_winter(rains: RainFacts | None, *, southern: bool) -> bool | None:
    """Return whether midwinter lies in the usual wet season; ``None`` if unknown."""
    if rains is None or rains.usual_start is None or rains.usual_end is None:
        return None
    day = MIDWINTER_SOUTH if southern else MIDWINTER_NORTH
    start, end = rains.usual_start, rains.usual_end
    return start <= day <= end if start <= end else day >= start or day <= end


def pruning_windows(situation: Situation, season: int) -> tuple[Window, ...]:
    """Return the windows of one season, in the order of the care year.

    One for each unbroken run of months. Bare trees: up to bud break, never before leaf
    drop, the months' length kept. Summer-pruned stone fruit: closed six weeks before
    the rains usually begin. Tropical fruit: from the last picking on. Frost-tender
    plants wait for the last frost and stop eight weeks before the first.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    season : int
        Care year.
    """
    species = situation.tree.species
    southern = situation.site.is_southern
    runs = month_runs(_months(situation))
    windows = [month_window(season, *run, southern=southern) for run in runs]
    timing = timing_of(species)
    if timing is Timing.DRY_SUMMER:
        return tuple(_before_rains(situation, each) for each in windows)
    if timing is Timing.DORMANT:
        moved = [
            _in_dormancy(situation, season, window)
            if first in DORMANT_MONTHS
            else window
            for window, (first, _) in zip(windows, runs, strict=True)
        ]
        return tuple(moved)
    if timing is Timing.AFTER_HARVEST:
        windows = [_after_picking(situation, season, each) for each in windows]
    if is_tender(species):
        windows = [_after_frost(situation, season, each) for each in windows]
    return tuple(windows)


def _months(situation: Situation) -> tuple[int, ...]:
    """Return the months of cuts: of plums summer where winters are wet."""
    species = situation.tree.species
    southern = situation.site.is_southern
    if species.key in PLUMS and has_wet_winter(situation.rains, southern=southern):
        return SUMMER_MONTHS
    return species.prune_months


def _in_dormancy(situation: Situation, season: int, window: Window) -> Window:
    bud = start_of_growth(situation, season)
    moved = window
    if bud.basis != "months":
        end = _last_dormant_day(situation, season, bud.on)
        start = end - (window.end - window.start)
        if situation.tree.species.key in EARLY_DORMANT:
            start, end = window.start, min(window.end, end)
        moved = Window(min(start, end), end)
    fallen = _leaf_drop(situation, moved.end)
    if fallen is None or fallen < moved.start:
        return moved
    return Window(fallen, moved.end)


def _last_dormant_day(situation: Situation, season: int, bud_on: date) -> date:
    """Return the last day of cuts: bud break, of peaches full bloom where known."""
    bloom = situation.stage_day(Stage.FULL_BLOOM, season)
    is_late = crown_limit(situation.tree.species).own_rule == "fruiting_shoots"
    if is_late and bloom is not None and bloom.basis != "months":
        return max(bud_on, bloom.on)
    return bud_on


def _leaf_drop(situation: Situation, before: date) -> date | None:
    """Return the leaf drop of the winter that ends with ``before``."""
    days = [
        stage.on
        for stage in situation.stages
        if stage.stage is Stage.LEAF_DROP
        and stage.basis != "months"
        and 0 <= (before - stage.on).days <= DORMANT_DAYS
    ]
    return max(days, default=None)


def _before_rains(situation: Situation, window: Window) -> Window:
    rains = situation.rains
    if rains is None or rains.usual_start is None:
        return window
    onset = _day_of_year(window.start.year, rains.usual_start)
    if onset <= window.start:
        onset = _day_of_year(window.start.year + 1, rains.usual_start)
    end = min(window.end, onset - timedelta(days=DRY_WEEKS_DAYS))
    is_long = (end - window.start).days >= LEAST_DAYS
    return Window(window.start, end) if is_long else window


def _day_of_year(year: int, day: int) -> date:
    return date(year, 1, 1) + timedelta(days=day - 1)


def last_picking(situation: Situation, near: Window) -> date | None:
    """Return the last picking within four months of a window, seen or logged."""
    days = [
        stage.on
        for stage in situation.stages
        if stage.stage is Stage.HARVEST and stage.basis == "seen"
    ]
    days += [picked.on for picked in situation.observed("harvest")]
    reach = timedelta(days=NEAR_DAYS)
    close = [day for day in days if near.start - reach <= day <= near.end]
    return max(close, default=None)


def _expected_picking(situation: Situation) -> date | None:
    """Return the next last picking that nobody has seen yet, by warmth or months."""
    days = [
        stage.on
        for stage in situation.stages
        if stage.stage is Stage.HARVEST and stage.on >= situation.today
    ]
    return min(days, default=None)


def _after_picking(situation: Situation, season: int, window: Window) -> Window:
    """Return the window from the day after the last picking, its length kept.

    Before any picking it waits for the expected last one.
    """
    picked, expected = last_picking(situation, window), _expected_picking(situation)
    if picked is not None:
        start = picked + timedelta(days=1)
        window = Window(start, start + (window.end - window.start))
    elif expected is not None and expected in window:
        window = Window(expected, window.end)
    month = LAST_MONTH.get(situation.tree.species.key)
    if month is None:
        return window
    last = season_date(season, month, 31, southern=situation.site.is_southern)
    return Window(min(window.start, last), min(window.end, last))


def _after_frost(situation: Situation, season: int, window: Window) -> Window:
    site = situation.site.on_the_safe_side
    frost = last_frost_in(season, site)
    if frost is None:
        return window
    start, end = window.start, window.end
    if start <= frost:
        start = frost + timedelta(days=1)
        end = max(end, start + (window.end - window.start))
        end = min(end, season_date(season, 10, 31, southern=site.is_southern))
    if site.first_frost is not None:
        stop = next_on(site.first_frost, frost) - timedelta(days=FROST_LEAD_DAYS)
        end = min(end, stop)
    return replace(window, start=min(start, end), end=end)
