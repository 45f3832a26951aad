"""Pruning: in the species' window, a quarter of the crown at most, never near wires."""

from dataclasses import dataclass, replace
from datetime import date

from care.facts import Answer, Situation
from care.proposals import Proposal, Reason, Scalar
from care.science.pruning import (
    CrownLimit,
    crown_limit,
    hold_until,
    pruning_windows,
)
from care.science.season import Window, season_of, work_of_season

KIND = "pruning"

REACH_M = 2.0
LEAST_SHARE = 0.05  # less than this is not worth a ladder
PROFESSIONAL_HEIGHT_M = 4.5  # 15-20 ft: leave it to a professional (orchard advice)
SAW_YEARS = 3.0
EFFORT_SMALL_MINUTES = 20  # 5-30 minutes a small tree (from memory)
EFFORT_TALL_MINUTES = 50  # 34 minutes a standard apple, half more for novices
EFFORT_CHECK_MINUTES = 3


@dataclass(frozen=True, slots=True)
class Slot:
    """One window of one season, named as its task is."""

    season: int
    number: int
    window: Window

    @property
    def key(self) -> str:
        """Identity of the task."""
        return f"{self.season}/{self.number}"


def propose(situation: Situation) -> tuple[Proposal, ...]:
    """Return the season's next pruning, or the next season's as a projection.

    Where nobody knows whether the tree was pruned this season, a question; near
    wires, never work but a call to those who may do it.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    """
    season = season_of(situation.today, southern=situation.site.is_southern)
    left = _share_left(situation, season)
    found: list[Proposal] = []
    if left is None or left >= LEAST_SHARE:
        for slot in _slots(situation, season):
            held = _held(situation, slot) if _is_open(situation, slot) else None
            if held is not None:
                proposal = _proposal(situation, held, left)
                found.append(replace(proposal, is_firm=not found))
    return tuple(found) or _next_season(situation, season + 1)


def _next_season(situation: Situation, season: int) -> tuple[Proposal, ...]:
    """Return the first window of the next season as a projection."""
    ahead = _slots(situation, season)
    if not ahead:
        return ()
    limit = crown_limit(situation.tree.species)
    return (replace(_proposal(situation, ahead[0], limit.share), is_firm=False),)


def _slots(situation: Situation, season: int) -> tuple[Slot, ...]:
    windows = pruning_windows(season, situation.tree.species, situation.site)
    return tuple(
        Slot(season, number, window) for number, window in enumerate(windows, start=1)
    )


def _is_open(situation: Situation, slot: Slot) -> bool:
    """Whether a slot is neither past, done, skipped, nor before the planting."""
    tree = situation.tree
    if slot.window.end < situation.today:
        return False
    if tree.planted_on is not None and slot.window.end < tree.planted_on:
        return False
    if tree.pruned_before is Answer.YES and tree.entered_on >= slot.window.start:
        return False
    return slot.key not in {work.key for work in situation.logged(KIND)}


def _held(situation: Situation, slot: Slot) -> Slot | None:
    """Return the slot moved behind forecast cold or heat, or ``None`` if that ends it."""
    window = slot.window
    planted = situation.tree.planted_on
    if planted is not None and planted > window.start:
        window = Window(planted, window.end)
    held = hold_until(situation.weather, situation.today, situation.tree.species)
    if held is None or held[0] <= window.start:
        return replace(slot, window=window)
    if held[0] > window.end:
        return None
    return replace(slot, window=Window(held[0], window.end))


def _share_left(situation: Situation, season: int) -> float | None:
    """Return the share of the crown that may still go, or ``None`` by its own rule."""
    limit = crown_limit(situation.tree.species).share
    if limit is None:
        return None
    gone = sum(
        work.amount or 0.0
        for work in work_of_season(situation, KIND, season)
        if work.what == "done"
    )
    return max(0.0, limit - gone)


def _is_past_unknown(situation: Situation, slot: Slot) -> bool:
    """Whether this season's pruning may have happened before the tree was entered."""
    tree = situation.tree
    if tree.pruned_before is not Answer.UNKNOWN:
        return False
    planted = tree.planted_on
    if planted is not None and planted >= slot.window.start:
        return False
    if tree.entered_on <= slot.window.start:
        return False
    return not work_of_season(situation, KIND, slot.season)


def _is_first_year(situation: Situation, day: date) -> bool:
    years = situation.tree.years_since_planting(day)
    return years is not None and years < 1


def _proposal(situation: Situation, slot: Slot, share: float | None) -> Proposal:
    tree = situation.tree
    due = _due(situation, slot)
    if tree.near_wires:
        return _check(situation, slot, due, "prune_near_wires")
    if _is_past_unknown(situation, slot):
        return _check(situation, slot, due, "prune_ask_past")
    limit = crown_limit(tree.species)
    code = _code(situation, due, limit)
    amount = share if code in ("prune_window", "prune_light") else None
    return Proposal(
        tree_id=tree.id,
        kind=KIND,
        key=slot.key,
        action="prune",
        earliest=slot.window.start,
        due=due,
        latest=slot.window.end,
        reason=Reason(
            code,
            _facts(situation, slot, limit),
            ("pruning_logged", "severe_cold_forecast", "stage_seen"),
        ),
        amount=None if amount is None else round(amount, 3),
        unit="" if amount is None else "share",
        sources=(tree.species.source_of("prune_months"), "ansi_a300_1995"),
        cautions=_cautions(situation, due),
        effort_minutes=_effort(situation),
    )


def _due(situation: Situation, slot: Slot) -> date:
    """Return the middle of the whole window, or its start once that has passed."""
    whole = _slots(situation, slot.season)[slot.number - 1].window
    return min(max(whole.middle, slot.window.start), slot.window.end)


def _code(situation: Situation, due: date, limit: CrownLimit) -> str:
    if _is_first_year(situation, due):
        return "prune_formative"
    if limit.own_rule:
        return "prune_own_rule"
    is_light = situation.tree.species.prune_system == "none"
    return "prune_light" if is_light else "prune_window"


def _facts(
    situation: Situation, slot: Slot, limit: CrownLimit
) -> tuple[tuple[str, Scalar], ...]:
    species = situation.tree.species
    held = hold_until(situation.weather, situation.today, species)
    return (
        ("season", slot.season),
        ("system", species.prune_system),
        ("why", species.prune_reason),
        ("limit_share", limit.share),
        ("own_rule", limit.own_rule),
        ("window_start", slot.window.start),
        ("window_end", slot.window.end),
        ("held_until", None if held is None else held[0]),
        ("held_by", None if held is None else held[1]),
        ("height_m", situation.tree.height_m),
        ("height_target_m", situation.tree.height_target_m),
        ("unverified", "prune_months" in species.unverified),
    )


def _check(situation: Situation, slot: Slot, due: date, code: str) -> Proposal:
    is_wired = code == "prune_near_wires"
    return Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key=slot.key,
        action="check",
        earliest=slot.window.start,
        due=due,
        latest=slot.window.end,
        reason=Reason(
            code,
            (
                ("season", slot.season),
                ("entered_on", situation.tree.entered_on),
                ("keep_away_m", 3.0 if is_wired else None),
            ),
            ("wires_flag_removed",) if is_wired else ("past_answered",),
        ),
        cautions=("power_lines",) if is_wired else (),
        effort_minutes=EFFORT_CHECK_MINUTES,
    )


def _cautions(situation: Situation, due: date) -> tuple[str, ...]:
    tree = situation.tree
    codes = []
    height_m = tree.height_m or tree.species.mature_height_m or 0.0
    if _is_first_year(situation, due):
        height_m = tree.height_m or 0.0
    if height_m > REACH_M:
        codes.append("ladder")
    if height_m > PROFESSIONAL_HEIGHT_M:
        codes.append("call_professional")
    years = tree.years_since_planting(due)
    if years is None or years >= SAW_YEARS:
        codes.append("saw")
    codes.append("look_for_wires")
    if tree.species.feed_group == "stone":
        codes.append("dry_spell")
    if tree.species.toxicity_note:
        codes.append("toxic_parts")
    codes.append("clean_tools")
    return tuple(codes)


def _effort(situation: Situation) -> int:
    height_m = situation.tree.height_m
    is_tall = height_m is not None and height_m > PROFESSIONAL_HEIGHT_M
    return EFFORT_TALL_MINUTES if is_tall else EFFORT_SMALL_MINUTES
