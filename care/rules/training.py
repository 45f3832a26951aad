"""Training: a young tree's frame, step by step through its first winters."""

from dataclasses import replace
from datetime import timedelta

from care.facts import Answer, Situation
from care.proposals import Proposal, Reason, Scalar
from care.science.pruning import hold_until, needs_dry_wounds
from care.science.season import Window, season_of
from care.science.training import Turn, training_turns

KIND = "training"

FIRM_DAYS = 14
EFFORT_MINUTES = 15  # 5-30 minutes a small tree (from memory)
SOURCES = {
    "central_leader": ("sunset_training", "southwest_central_leader"),
    "modified_leader": ("sunset_training", "southwest_central_leader"),
    "open_center": ("sunset_training", "ncsu_peach_training", "uf_ifas_stone"),
    "tipped": ("uf_tropical_training", "uf_ifas_miami_dade"),
}
ANGLE_SOURCES = ("nmsu_h333",)


def propose(situation: Situation) -> tuple[Proposal, ...]:
    """Return what is still to do on a young tree this season, or the next step ahead.

    Near wires nothing is asked: the pruning's call to a professional is enough.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    """
    if situation.tree.near_wires:
        return ()
    season = season_of(situation.today, southern=situation.site.is_southern)
    for each in (season, season + 1):
        turns = [
            held
            for turn in training_turns(situation, each)
            if _is_open(situation, turn) and (held := _held(situation, turn))
        ]
        if turns:
            return tuple(_train(situation, turn) for turn in turns)
    return ()


def _is_open(situation: Situation, turn: Turn) -> bool:
    """Whether a step is neither past, closed nor done before the tree was entered."""
    tree, window = situation.tree, turn.window
    if window.end < max(situation.today, tree.entered_on):
        return False
    if tree.pruned_before is Answer.YES and tree.entered_on >= window.start:
        return False
    return turn.key not in {work.key for work in situation.logged(KIND)}


def _held(situation: Situation, turn: Turn) -> Turn | None:
    """Return the step moved behind what holds cuts, or ``None`` if that ends it."""
    held = hold_until(situation)
    if held is None or held.until <= turn.window.start:
        return turn
    if held.until > turn.window.end:
        return None
    window = Window(held.until, turn.window.end)
    return replace(turn, window=window, due=max(turn.due, held.until))


def _train(situation: Situation, turn: Turn) -> Proposal:
    soon = situation.today + timedelta(days=FIRM_DAYS)
    season = season_of(situation.today, southern=situation.site.is_southern)
    return Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key=turn.key,
        action="train",
        earliest=turn.window.start,
        due=turn.due,
        latest=turn.window.end,
        reason=Reason(
            "train_step",
            _facts(situation, turn),
            ("pruning_logged", "stage_seen", "severe_cold_forecast"),
        ),
        sources=_sources(turn),
        cautions=_cautions(situation),
        effort_minutes=EFFORT_MINUTES,
        is_firm=turn.season == season or turn.window.start <= soon,
    )


def _facts(situation: Situation, turn: Turn) -> tuple[tuple[str, Scalar], ...]:
    held = hold_until(situation)
    if held is not None and held.until != turn.window.start:
        held = None  # work of another month waits for no weather of today
    return (
        ("season", turn.season),
        ("step", turn.step.code),
        ("training_year", turn.year),
        ("frame", turn.frame),
        ("turn", turn.name),
        ("window_start", turn.window.start),
        ("window_end", turn.window.end),
        ("held_until", None if held is None else held.until),
        ("held_by", None if held is None else held.by),
        *turn.step.numbers,
    )


def _sources(turn: Turn) -> tuple[str, ...]:
    """Return the keys behind the step's numbers; advice without numbers is practice."""
    if not turn.step.numbers:
        return ("common_practice",)
    has_angles = any(name.startswith("angle") for name, _ in turn.step.numbers)
    known = SOURCES.get(turn.frame, ("common_practice",))
    return (*known, *(ANGLE_SOURCES if has_angles else ()))


def _cautions(situation: Situation) -> tuple[str, ...]:
    species = situation.tree.species
    codes = {
        "look_for_wires": True,
        "dry_spell": needs_dry_wounds(species),
        "toxic_parts": bool(species.toxicity_note),
        "mango_sap": species.key == "mango",
        "clean_tools": True,
    }
    return tuple(code for code, applies in codes.items() if applies)
