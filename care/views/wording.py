"""What to do, in words: verb and tree first, the amount in the reader's units."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from care.models import Task
from orchard.units import UnitSystem, format_quantity

# (kind, action) -> the work, with the tree's name where {} stands.
TITLES = {
    ("watering", "water"): "Water {}",
    ("watering", "water_by_leave"): "Water {}, but only with leave",
    ("watering", "check"): "Feel the soil of {}",
    ("feeding", "feed"): "Feed {}",
    ("feeding", "check"): "Settle the feeding of {}",
    ("feeding", "rest"): "Leave {} unfed",
    ("flushing", "flush"): "Wash salts out of the pot of {}",
    ("soil", "test_soil"): "Test the soil of {}",
    ("soil", "acidify"): "Give sulfur to {}",
    ("soil", "check"): "Know the soil of {}",
    ("mulching", "top_up"): "Mulch {}",
    ("mulching", "clear_trunk"): "Clear mulch from the trunk of {}",
    ("mulching", "check"): "Look at the mulch of {}",
    ("pruning", "prune"): "Prune {}",
    ("pruning", "check"): "Settle the pruning of {}",
    ("training", "train"): "Train {}",
    ("suckers", "pull_suckers"): "Look for suckers on {}",
    ("suckers", "pull_sprouts"): "Pull the water sprouts of {}",
    ("suckers", "choose_pups"): "Thin the stems of {}",
    ("sanitation", "clean_up"): "Clear dried fruit and cankers from {}",
    ("sanitation", "look_for_blight"): "Cut fire blight out of {}, if any",
    ("cold", "move_in"): "Bring {} in",
    ("cold", "move_out"): "Take {} out",
    ("cold", "cover"): "Cover {}",
    ("cold", "check"): "Ready {} for the cold",
    ("cold", "group"): "Huddle the pot of {} by a warm wall",
    ("freeze", "pick_ripe"): "Pick the ripe fruit of {} before the freeze",
    ("freeze", "ready_soil"): "Water the soil of {} before the frost",
    ("freeze", "uncover"): "Uncover {}",
    ("freeze", "look_at_damage"): "Look how far {} froze back",
    ("heat", "shade_pots"): "Shade the pot of {}",
    ("heat", "water_early"): "Ready {} for the heat",
    ("heat", "guard_bark"): "Guard the bark of {} from the sun",
    ("weeding", "weed"): "Weed round {}",
    ("weeding", "edge"): "Cut the edge round {}",
    ("weeding", "fit_guard"): "Guard the trunk of {}",
    ("weeding", "look_guard"): "Look at the trunk guard of {}",
    ("thinning", "thin"): "Thin the fruit of {}",
    ("thinning", "remove_fruit"): "Take this year's fruit off {}",
    ("harvest", "look"): "Look whether {} is ripe",
    ("harvest", "pick"): "Pick {}",
    ("harvest", "hold"): "Leave the fruit of {} for now",
    ("planting", "ground"): "Look into soil and rules for {}",
    ("planting", "locate"): "Ask where pipes and cables lie for {}",
    ("planting", "drainage"): "Test the drainage for {}",
    ("planting", "plant"): "Plant {}",
    ("establishing", "settled"): "See how {} has settled",
    ("establishing", "unstake"): "Take the stake off {}",
    ("establishing", "growth"): "See whether {} grows",
    ("establishing", "review"): "Let {} stand on its own roots",
    ("establishing", "widen"): "Widen the watered ring of {}",
    ("potting", "pot_up"): "Pot {} on",
    ("potting", "root_prune"): "Repot {} and trim its roots",
    ("potting", "look_at_roots"): "Look at the roots of {}",
    ("inspection", "look_over"): "Look over {}",
}
# Where the reason says more than the action.
REASON_TITLES = {
    "feed_ask_past": "Was {} fed this season?",
    "feed_ask_pot_size": "How large is the pot of {}?",
    "feed_ask_crown": "How wide is the crown of {}?",
    "feed_ask_short_shoots": "Why are the shoots of {} short?",
    "soil_ask_result": "What did the soil test of {} say?",
    "feed_ask_first_growth": "Measure the first shoots of {}",
    "prune_ask_past": "Was {} pruned this season?",
    "prune_near_wires": "Call a professional to prune {}",
    "prune_too_tall": "Call a professional to prune {}",
    "mulch_ask_depth": "Measure the mulch of {}",
    "mulch_look_at_trunk": "Look at the trunk of {}",
}
# Answered on the page behind the line; a tick would say nothing.
QUESTIONS = frozenset(
    {"feed_ask_past", "feed_ask_pot_size", "feed_ask_crown", "prune_ask_past"}
)
# What a button says that finishes a whole row.
ROW_VERBS = {
    ("watering", "water"): "watered",
    ("watering", "check"): "checked",
    ("feeding", "feed"): "fed",
    ("feeding", "check"): "settled",
    ("feeding", "rest"): "left unfed",
    ("flushing", "flush"): "washed out",
    ("soil", "test_soil"): "tested",
    ("soil", "acidify"): "given sulfur",
    ("soil", "check"): "read",
    ("mulching", "top_up"): "mulched",
    ("mulching", "clear_trunk"): "cleared",
    ("mulching", "check"): "looked at",
    ("pruning", "prune"): "pruned",
    ("training", "train"): "trained",
    ("suckers", "pull_suckers"): "looked at",
    ("suckers", "pull_sprouts"): "cleared of sprouts",
    ("suckers", "choose_pups"): "thinned",
    ("sanitation", "clean_up"): "cleared",
    ("sanitation", "look_for_blight"): "looked at",
    ("cold", "move_in"): "brought in",
    ("cold", "move_out"): "taken out",
    ("cold", "cover"): "covered",
    ("cold", "check"): "ready for the cold",
    ("cold", "group"): "huddled",
    ("freeze", "pick_ripe"): "picked",
    ("freeze", "ready_soil"): "watered",
    ("freeze", "uncover"): "uncovered",
    ("freeze", "look_at_damage"): "looked at",
    ("heat", "shade_pots"): "shaded",
    ("heat", "water_early"): "ready for the heat",
    ("heat", "guard_bark"): "guarded",
    ("weeding", "weed"): "weeded",
    ("weeding", "edge"): "edged",
    ("weeding", "fit_guard"): "guarded",
    ("weeding", "look_guard"): "looked at",
    ("thinning", "thin"): "thinned",
    ("thinning", "remove_fruit"): "cleared of fruit",
    ("harvest", "look"): "looked at",
    ("harvest", "pick"): "picked",
    ("harvest", "hold"): "left to hang",
    ("planting", "ground"): "looked into",
    ("planting", "locate"): "asked about",
    ("planting", "drainage"): "tested",
    ("planting", "plant"): "planted",
    ("establishing", "settled"): "seen to",
    ("establishing", "unstake"): "freed of stakes",
    ("establishing", "growth"): "looked at",
    ("establishing", "review"): "left to itself",
    ("establishing", "widen"): "given a wider ring",
    ("potting", "pot_up"): "potted on",
    ("potting", "root_prune"): "repotted",
    ("potting", "look_at_roots"): "looked at",
    ("inspection", "look_over"): "looked over",
}
NOUNS = {
    "watering": "watering",
    "feeding": "feeding",
    "flushing": "washing of pots",
    "soil": "soil",
    "mulching": "mulching",
    "pruning": "pruning",
    "training": "training",
    "suckers": "removal of suckers",
    "sanitation": "clearing of rotten fruit and wood",
    "cold": "cold protection",
    "freeze": "work before and after a freeze",
    "heat": "heat protection",
    "weeding": "weeding",
    "thinning": "thinning of fruit",
    "harvest": "harvest",
    "planting": "planting",
    "establishing": "care of the newly planted",
    "potting": "potting",
    "inspection": "looking over",
}

Fact = float | int | str | bool | None


@dataclass(frozen=True, slots=True)
class StoredReason:
    """A task's reason as the plan stored it, facts in their order."""

    code: str
    facts: tuple[tuple[str, Fact], ...]
    would_change: tuple[str, ...]

    def fact(self, name: str) -> Fact:
        """Return one fact, or None."""
        return dict(self.facts).get(name)

    def number(self, name: str) -> float | None:
        """Return a fact that is a number, or None."""
        value = self.fact(name)
        if isinstance(value, bool) or not isinstance(value, int | float):
            return None
        return float(value) if math.isfinite(value) else None

    def day(self, name: str) -> date | None:
        """Return a fact that is a day, or None."""
        value = self.fact(name)
        return date.fromisoformat(value) if isinstance(value, str) and value else None

    def text(self, name: str) -> str:
        """Return a fact that is a word, or nothing."""
        value = self.fact(name)
        return value if isinstance(value, str) else ""

    def holds(self, name: str) -> bool:
        """Whether a fact is true."""
        return self.fact(name) is True


def reason_of(task: Task) -> StoredReason:
    """Read the reason of a task; an empty one has no code and no facts."""
    stored: Mapping[str, object] = task.reason
    facts = stored.get("facts") or []
    pairs = facts.items() if isinstance(facts, Mapping) else facts
    changes = stored.get("would_change") or []
    return StoredReason(
        code=str(stored.get("code", "")),
        facts=tuple((str(name), value) for name, value in pairs),  # type: ignore[attr-defined]  # JSON pairs
        would_change=tuple(str(code) for code in changes),  # type: ignore[attr-defined]  # a JSON list
    )


def title_of(kind: str, action: str, tree_name: str, code: str = "") -> str:
    """Return the work in words, such as ``Water Anna's apple``."""
    usual = f"{kind.replace('_', ' ').capitalize()}: {{}}"
    return REASON_TITLES.get(code, TITLES.get((kind, action), usual)).format(tree_name)


def task_title(task: Task) -> str:
    """Return a task in words; its tree must be at hand."""
    return title_of(task.kind, task.action, task.tree.name, reason_of(task).code)


def amount_words(amount: float | None, unit: str, kind: str, units: UnitSystem) -> str:
    """Return an amount as a person measures it, or nothing."""
    if amount is None:
        return ""
    if unit == "L" and kind == "mulching":
        return format_quantity(amount, "L loose", units)
    words = format_quantity(amount, unit, units)
    return f"up to {words}" if unit == "share" else words


def task_amount(task: Task, units: UnitSystem) -> str:
    """Return a task's planned amount, or nothing."""
    return amount_words(task.amount, task.unit, task.kind, units)


def count_trees(number: int) -> str:
    """Return such as ``1 tree`` or ``5 trees``."""
    return "1 tree" if number == 1 else f"{number} trees"
