"""Pruning: in the species' window, a quarter of the crown at most, never near wires."""

from dataclasses import dataclass, replace
from datetime import date

from care.facts import Answer, Situation
from care.proposals import Proposal, Reason, Scalar
from care.science.power_lines import LOW_VOLTAGE_KV, minimum_distance_m
from care.science.pruning import (
    LARGE_LIMBS,
    CrownLimit,
    Held,
    crown_limit,
    height_step_m,
    hold_until,
    needs_dry_wounds,
    renovation_season,
    share_left,
)
from care.science.pruning_windows import has_wet_winter, pruning_windows, timing_of
from care.science.reach import (
    CAREFUL_M,
    REACH_M,
    STOP_M,
    needs_professional,
    working_height_m,
)
from care.science.season import (
    CARE_YEAR_FIRST_MONTH,
    Window,
    season_date,
    season_of,
    start_of_growth,
    work_of_season,
)
from care.science.training import training_year

KIND = "pruning"

LEAST_SHARE = 0.05  # less than this is not worth a ladder
SAW_YEARS = 3.0
EFFORT_SMALL_MINUTES = 20  # 5-30 minutes a small tree (from memory)
EFFORT_TALL_MINUTES = 50  # 34 minutes a standard apple, half more for novices
EFFORT_CHECK_MINUTES = 3
STOPS = ("prune_near_wires", "prune_too_tall")
UNMEASURED = ("prune_own_rule", "prune_formative")  # no share of the crown is named


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
    wires or above 20 ft never work, but a call to those who may do it. Young trees in
    training and bananas have their own kinds of task.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    """
    season = season_of(situation.today, southern=situation.site.is_southern)
    if situation.tree.species.prune_system == "pup_selection":
        return ()
    left = share_left(situation, season)
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
    """Return the windows of a season in which cuts are not those of training."""
    is_trained = training_year(situation, season) is not None
    if is_trained and not situation.tree.near_wires:
        return ()
    windows = pruning_windows(situation, season)
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
    if tree.pruned_before is Answer.YES and tree.entered_on >= _cut_from(
        situation, slot
    ):
        return False
    return slot.key not in {work.key for work in situation.logged(KIND)}


def _held(situation: Situation, slot: Slot) -> Slot | None:
    """Return the slot moved behind what holds cuts, or ``None`` if that ends it."""
    window = slot.window
    planted = situation.tree.planted_on
    if planted is not None and planted > window.start:
        window = Window(planted, window.end)
    held = hold_until(situation)
    if held is None or held.until <= window.start:
        return replace(slot, window=window)
    if held.until > window.end:
        return None
    return replace(slot, window=Window(held.until, window.end))


def _cut_from(situation: Situation, slot: Slot) -> date:
    """Return from when the crown may have been cut already for this season.

    A tree that is cut in summer may have lost its quarter in the winter before; what
    is renewed by a rule of its own has its cuts in each of its windows.
    """
    is_by_share = crown_limit(situation.tree.species).share is not None
    growth_on = start_of_growth(situation, slot.season).on
    if slot.window.start <= growth_on or not is_by_share:
        return slot.window.start
    southern = situation.site.is_southern
    return season_date(slot.season, CARE_YEAR_FIRST_MONTH, 1, southern=southern)


def _is_past_unknown(situation: Situation, slot: Slot) -> bool:
    """Whether this season's pruning may have happened before the tree was entered."""
    tree = situation.tree
    if tree.pruned_before is not Answer.UNKNOWN:
        return False
    planted, first = tree.planted_on, _cut_from(situation, slot)
    if planted is not None and planted >= first:
        return False
    if tree.entered_on <= first:
        return False
    return not work_of_season(situation, KIND, slot.season)


def _proposal(situation: Situation, slot: Slot, share: float | None) -> Proposal:
    tree = situation.tree
    due = _due(situation, slot)
    if tree.near_wires:
        return _check(situation, slot, due, "prune_near_wires")
    if needs_professional(tree):
        return _check(situation, slot, due, "prune_too_tall")
    if _is_past_unknown(situation, slot):
        return _check(situation, slot, due, "prune_ask_past")
    limit = crown_limit(tree.species)
    code = _code(situation, slot, limit)
    amount = None if code in UNMEASURED else share
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
        sources=(tree.species.source_of("prune_months"), *_sources(code)),
        cautions=_cautions(situation, due),
        effort_minutes=_effort(situation),
    )


def _due(situation: Situation, slot: Slot) -> date:
    """Return the middle of the whole window, or its start once that has passed."""
    whole = pruning_windows(situation, slot.season)[slot.number - 1]
    return min(max(whole.middle, slot.window.start), slot.window.end)


def _code(situation: Situation, slot: Slot, limit: CrownLimit) -> str:
    years = situation.tree.years_since_planting(_due(situation, slot))
    if years is not None and years < 1:
        return "prune_formative"
    if limit.own_rule:
        return "prune_own_rule"
    is_light = situation.tree.species.prune_system == "none"
    if renovation_season(situation, slot.season) is not None and not is_light:
        return "prune_renovate"
    if _height_step(situation) is not None:
        return "prune_to_height"
    return "prune_light" if is_light else "prune_window"


def _sources(code: str) -> tuple[str, ...]:
    limits = {"prune_own_rule": "uf_ifas_stone", "prune_renovate": "wsu_renovation"}
    return tuple(dict.fromkeys(("ansi_a300_1995", limits.get(code, "ansi_a300_1995"))))


def _height_step(situation: Situation) -> float | None:
    """Return by how much the tree is to be lowered this season, or ``None``."""
    tree = situation.tree
    if tree.height_m is None or tree.height_target_m is None:
        return None
    return height_step_m(tree.height_m, tree.height_target_m) or None


def _facts(
    situation: Situation, slot: Slot, limit: CrownLimit
) -> tuple[tuple[str, Scalar], ...]:
    tree, species = situation.tree, situation.tree.species
    held, step_m = _hold_of(situation, slot), _height_step(situation)
    is_southern = situation.site.is_southern
    return (
        ("season", slot.season),
        ("system", species.prune_system),
        ("why", species.prune_reason),
        ("timing", timing_of(species).value),
        ("wet_winter", has_wet_winter(situation.rains, southern=is_southern)),
        ("limit_share", limit.share),
        ("own_rule", limit.own_rule),
        ("window_start", slot.window.start),
        ("window_end", slot.window.end),
        ("held_until", None if held is None else held.until),
        ("held_by", None if held is None else held.by),
        ("height_m", tree.height_m),
        ("height_target_m", tree.height_target_m),
        ("height_after_m", _after(tree.height_m, step_m)),
        ("renovation_season", renovation_season(situation, slot.season)),
        ("large_limbs", LARGE_LIMBS),
        ("unverified", "prune_months" in species.unverified),
    )


def _hold_of(situation: Situation, slot: Slot) -> Held | None:
    """Return what moved this slot's start; cuts months away wait for no weather."""
    held = hold_until(situation)
    return held if held is not None and held.until == slot.window.start else None


def _after(height_m: float | None, step_m: float | None) -> float | None:
    if height_m is None or step_m is None:
        return None
    return round(height_m - step_m, 2)


def _check(situation: Situation, slot: Slot, due: date, code: str) -> Proposal:
    is_wired, is_stop = code == "prune_near_wires", code in STOPS
    keep_away_m = round(minimum_distance_m(LOW_VOLTAGE_KV), 2) if is_wired else None
    changes = {
        "prune_near_wires": "wires_flag_removed",
        "prune_too_tall": "height_measured",
    }
    sources = {
        "prune_near_wires": ("osha_1910_269",),
        "prune_too_tall": ("osu_tall_trees",),
    }
    cautions = {
        "prune_near_wires": "power_lines",
        "prune_too_tall": "call_professional",
    }
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
                ("keep_away_m", keep_away_m),
                ("up_to_kv", LOW_VOLTAGE_KV if is_wired else None),
                ("height_m", situation.tree.height_m),
                ("stop_height_m", STOP_M),
            ),
            (changes.get(code, "past_answered"),),
        ),
        sources=sources.get(code, ()),
        cautions=(cautions[code],) if is_stop else (),
        effort_minutes=EFFORT_CHECK_MINUTES,
    )


def _cautions(situation: Situation, due: date) -> tuple[str, ...]:
    tree = situation.tree
    height_m, years = working_height_m(tree, due), tree.years_since_planting(due)
    codes = {
        "ladder": height_m > REACH_M,
        "call_professional": height_m > CAREFUL_M,
        "saw": years is None or years >= SAW_YEARS,
        "look_for_wires": True,
        "dry_spell": needs_dry_wounds(tree.species),
        "toxic_parts": bool(tree.species.toxicity_note),
        "mango_sap": tree.species.key == "mango",
        "clean_tools": True,
    }
    return tuple(code for code, applies in codes.items() if applies)


def _effort(situation: Situation) -> int:
    height_m = situation.tree.height_m
    is_tall = height_m is not None and height_m > CAREFUL_M
    return EFFORT_TALL_MINUTES if is_tall else EFFORT_SMALL_MINUTES
