"""Feeding: nitrogen for the canopy held now, in parts, never after the stop date."""

import math
from dataclasses import dataclass, replace
from datetime import date, timedelta

from care.facts import Answer, Origin, Situation
from care.proposals import Proposal, Reason, Scalar
from care.science.canopy import crown_area_m2
from care.science.feeding_ladders import yardstick
from care.science.feeding_record import (
    SETTLE_DAYS,
    as_fed,
    given_nitrogen_g,
    growth_share,
    is_past_unknown,
    is_settling,
    pruned_share,
)
from care.science.nutrients import (
    SeasonNitrogen,
    feeding_stop,
    outside_blackouts,
    product_mass_g,
    season_nitrogen,
    split_windows,
    stop_basis,
)
from care.science.pruning import CROWN_SHARE_LIMIT
from care.science.season import Window, season_of, work_of_season

KIND = "feeding"

BETWEEN_DAYS = 28  # the shortest published interval (banana, Florida: 4-8 weeks)
DUE_AFTER_DAYS = 14
HEAVY_RAIN_MM = 25.0  # common practice, no source: an inch washes feed away
LEAST_NITROGEN_G = 0.2  # a part for the smallest pot that is worth a walk; no source
EFFORT_MINUTES = 6


@dataclass(frozen=True, slots=True)
class Plan:
    """The season's nitrogen for one tree and how much of it is spoken for."""

    season: int
    total_g: float
    nitrogen: SeasonNitrogen
    canopy_m2: float | None
    growth_share: float
    splits: int
    given_g: float

    @property
    def split_g(self) -> float:
        """Nitrogen of one split."""
        return self.total_g / self.splits


def propose(situation: Situation) -> tuple[Proposal, ...]:
    """Return this season's splits still to come, or the next season's first.

    The first is firm. Nothing is made up for a split that was missed or blocked, and
    where the past of the season is unknown the answer is a question, not a dose.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    """
    if _has_no_figure(situation):
        return ()
    season = season_of(situation.today, southern=situation.site.is_southern)
    windows = _open_windows(situation, season)
    found: tuple[Proposal, ...] = ()
    if windows and not _must_rest(situation, season):
        question = _question(situation, season)
        if question:
            split, window = windows[0]
            return (_ask(situation, season, split, window, question),)
        found = _splits(situation, season, windows)
    return found or _next_season(situation, season + 1)


def _has_no_figure(situation: Situation) -> bool:
    species = situation.tree.species
    return species.nitrogen_first_year_g is None or species.nitrogen_mature_g is None


def _open_windows(situation: Situation, season: int) -> tuple[tuple[int, Window], ...]:
    """Return the splits not yet done, skipped, missed or blocked, 1-based."""
    tree, site, today = situation.tree, situation.site, situation.today
    work = work_of_season(situation, KIND, season)
    closed = {w.key for w in work}
    done = [w.on for w in situation.logged(KIND) if w.what == "done"]
    since = date.min if not done else done[-1] + timedelta(days=BETWEEN_DAYS)
    if tree.planted_on is not None:
        since = max(since, tree.planted_on + timedelta(days=SETTLE_DAYS))
    found = []
    for split, window in enumerate(split_windows(season, as_fed(tree), site), start=1):
        known_past = tree.fed_before is Answer.YES and window.start <= tree.entered_on
        if f"{season}/{split}" in closed or window.end < today or known_past:
            continue
        kept = window.within(since, window.end)
        allowed = outside_blackouts(kept, site) if kept else None
        if allowed is not None and allowed.end >= today:
            found.append((split, allowed))
    return tuple(found)


def _must_rest(situation: Situation, season: int) -> bool:
    """Whether the tree should not be fed at all this season."""
    return (
        is_settling(situation, season)
        or growth_share(situation) == 0
        or pruned_share(situation, season) > CROWN_SHARE_LIMIT
    )


def _question(situation: Situation, season: int) -> str:
    """Return the code of what must be known before a dose, or ``""``."""
    tree = situation.tree
    if is_past_unknown(situation, season):
        return "feed_ask_past"
    if tree.in_container and not tree.container_litres:
        return "feed_ask_pot_size"
    is_sized = tree.in_container or tree.planted_on is not None
    return "" if is_sized or tree.crown_width_m is not None else "feed_ask_crown"


def _canopy_m2(situation: Situation) -> float | None:
    width = situation.tree.crown_width_m
    if width is not None:
        return float(crown_area_m2(width))
    return situation.water.crown_area_m2 if situation.water else None


def _plan(situation: Situation, season: int) -> Plan | None:
    tree, today = situation.tree, situation.today
    canopy = _canopy_m2(situation)
    years = tree.years_since_planting(today)
    species = as_fed(tree)
    nitrogen = season_nitrogen(
        species,
        # A crown guessed for watering is shown but never decides a dose.
        canopy_m2=canopy if tree.crown_width_m is not None else None,
        years=years,
        container_litres=tree.container_litres if tree.in_container else None,
    )
    if nitrogen is None:
        return None
    # A clump is one canopy: its members share one amount.
    share = growth_share(situation) / (1 + len(situation.clump_mates))
    total = nitrogen.nitrogen_g * share
    splits = species.feed_times_per_year or 1
    given = given_nitrogen_g(situation, season, total / splits)
    return Plan(season, total, nitrogen, canopy, share, splits, given)


def _splits(
    situation: Situation, season: int, windows: tuple[tuple[int, Window], ...]
) -> tuple[Proposal, ...]:
    plan = _plan(situation, season)
    if plan is None:
        return ()
    found: list[Proposal] = []
    left_g = plan.total_g - plan.given_g
    for split, window in windows:
        nitrogen_g = min(plan.split_g, left_g)
        if nitrogen_g < LEAST_NITROGEN_G:
            break
        left_g -= nitrogen_g
        proposal = _feed(situation, plan, split, window, nitrogen_g)
        found.append(proposal if not found else replace(proposal, is_firm=False))
    return tuple(found)


def _next_season(situation: Situation, season: int) -> tuple[Proposal, ...]:
    """Return the first split of the next season as a projection."""
    tree, site = situation.tree, situation.site
    if _question(situation, season) or is_settling(situation, season):
        return ()
    plan = _plan(situation, season)
    windows = split_windows(season, as_fed(tree), site)
    if plan is None or not windows:
        return ()
    first = outside_blackouts(windows[0], site)
    if first is None or plan.split_g < LEAST_NITROGEN_G:
        return ()
    return (replace(_feed(situation, plan, 1, first, plan.split_g), is_firm=False),)


def _feed(
    situation: Situation, plan: Plan, split: int, window: Window, nitrogen_g: float
) -> Proposal:
    site, tree = situation.site, situation.tree
    product_g = product_mass_g(nitrogen_g, site.feed_nitrogen_percent)
    due = min(window.start + timedelta(days=DUE_AFTER_DAYS), window.end)
    facts = _facts(situation, plan, split, nitrogen_g)
    return Proposal(
        tree_id=tree.id,
        kind=KIND,
        key=f"{plan.season}/{split}",
        action="feed",
        earliest=window.start,
        due=due,
        latest=window.end,
        reason=Reason("feed_split", facts, _would_change(situation)),
        amount=round(product_g, 1),
        unit="g",
        sources=_sources(situation),
        cautions=_cautions(situation),
        effort_minutes=EFFORT_MINUTES,
    )


def _facts(
    situation: Situation, plan: Plan, split: int, nitrogen_g: float
) -> tuple[tuple[str, Scalar], ...]:
    site, tree, canopy = situation.site, situation.tree, plan.canopy_m2
    per_m2 = nitrogen_g / canopy if canopy else None
    facts: list[tuple[str, Scalar]] = [
        ("season", plan.season),
        ("split", split),
        ("splits", plan.splits),
        ("nitrogen_g", round(nitrogen_g, 1)),
        ("season_nitrogen_g", round(plan.total_g, 1)),
        ("given_nitrogen_g", round(plan.given_g, 1)),
        ("canopy_m2", None if canopy is None else round(canopy, 2)),
        ("nitrogen_g_per_m2", None if per_m2 is None else round(per_m2, 1)),
        ("share_of_full", round(plan.nitrogen.share, 2)),
        ("share_basis", plan.nitrogen.basis),
        ("growth_share", round(plan.growth_share, 2)),
        ("clump_size", 1 + len(situation.clump_mates)),
        ("is_pot_capped", plan.nitrogen.is_pot_capped),
        ("product", site.feed_product_name),
        ("nitrogen_percent", site.feed_nitrogen_percent),
        ("moist_soil_only", True),
        ("stop_on", feeding_stop(plan.season, tree.species, site)),
        ("stop_basis", stop_basis(tree.species, site)),
        ("unverified", "nitrogen_mature_g" in tree.species.unverified),
    ]
    return tuple(facts) + _yardstick_facts(situation)


def _yardstick_facts(situation: Situation) -> tuple[tuple[str, Scalar], ...]:
    """Return the published range beside a ground tree's amount, where there is one."""
    tree = situation.tree
    years = tree.years_since_planting(situation.today)
    if years is None or tree.in_container:
        return ()
    ladder = yardstick(
        tree.species.key,
        tree.species.feed_group,
        int(years) + 1,
        height_m=tree.height_m,
        spacing_m=tree.spacing_m,
    )
    if ladder is None:
        return ()
    return (
        ("yardstick_low_g", round(ladder.low_g)),
        ("yardstick_high_g", round(ladder.high_g)),
        ("yardstick_source", ladder.source),
    )


def _ask(
    situation: Situation, season: int, split: int, window: Window, code: str
) -> Proposal:
    """Return a question in the place of the next dose; it carries no amount."""
    tree = situation.tree
    due = min(max(window.start, tree.entered_on), window.end)
    return Proposal(
        tree_id=tree.id,
        kind=KIND,
        key=f"{season}/{split}",
        action="check",
        earliest=window.start,
        due=due,
        latest=window.end,
        reason=Reason(
            code,
            (
                ("season", season),
                ("split", split),
                ("entered_on", tree.entered_on),
                ("product", situation.site.feed_product_name),
            ),
            ("feeding_logged", "past_answered", "crown_measured"),
        ),
        effort_minutes=2,
    )


def _would_change(situation: Situation) -> tuple[str, ...]:
    codes = ["feeding_logged", "shoots_measured"]
    if situation.tree.crown_width_m is None:
        codes.append("crown_measured")
    if situation.site.first_frost is None and not situation.site.is_frost_free:
        codes.append("first_frost_entered")
    if situation.site.feeding_blackouts:
        codes.append("local_rule_changed")
    return tuple(codes)


def _sources(situation: Situation) -> tuple[str, ...]:
    species = situation.tree.species
    fields = ("nitrogen_first_year_g", "nitrogen_mature_g")
    return tuple(dict.fromkeys(species.source_of(field) for field in fields))


def _cautions(situation: Situation) -> tuple[str, ...]:
    """Return what to mind; dry, wet or soon rain-washed soil comes first."""
    codes = []
    water = situation.water
    if water is not None and water.due_in_days == 0:
        codes.append("water_first")
    if water is not None and (water.is_saturated or water.is_frozen):
        codes.append("wait_for_workable_soil")
    if _rain_ahead_mm(situation) >= HEAVY_RAIN_MM:
        codes.append("wait_heavy_rain")
    codes += ["moist_soil_only", "keep_off_trunk", "label_rules", "check_local_rules"]
    return tuple(codes)


def _rain_ahead_mm(situation: Situation) -> float:
    """Return the rain forecast for today and tomorrow; gaps count as none."""
    series = situation.weather
    if series is None:
        return 0.0
    total = 0.0
    for ahead in range(2):
        day = situation.today + timedelta(days=ahead)
        if series.covers(day) and series.origin_on(day) is not Origin.NORMAL:
            rain_mm = float(series.rain_mm[series.index(day)])
            total += 0.0 if math.isnan(rain_mm) else rain_mm
    return total
