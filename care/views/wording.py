"""What to do, in words: verb and tree first, the amount in the reader's units."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext, gettext_noop, ngettext, pgettext_lazy

from care.models import Task
from orchard.languages import Words
from orchard.units import UnitSystem, format_quantity

# (kind, action) -> the work, with the tree's name where {} stands. What is said alike
# of work that is done is told apart from it.
TITLES: dict[tuple[str, str], Words] = {
    ("watering", "water"): gettext_noop("Water {}"),
    ("watering", "water_by_leave"): gettext_noop("Water {}, but only with leave"),
    ("watering", "check"): gettext_noop("Feel the soil of {}"),
    ("feeding", "feed"): gettext_noop("Feed {}"),
    ("feeding", "check"): gettext_noop("Settle the feeding of {}"),
    ("feeding", "rest"): gettext_noop("Leave {} unfed"),
    ("flushing", "flush"): gettext_noop("Wash salts out of the pot of {}"),
    ("soil", "test_soil"): gettext_noop("Test the soil of {}"),
    ("soil", "acidify"): gettext_noop("Give sulfur to {}"),
    ("soil", "check"): gettext_noop("Know the soil of {}"),
    ("mulching", "top_up"): gettext_noop("Mulch {}"),
    ("mulching", "clear_trunk"): gettext_noop("Clear mulch from the trunk of {}"),
    ("mulching", "check"): gettext_noop("Look at the mulch of {}"),
    ("pruning", "prune"): gettext_noop("Prune {}"),
    ("pruning", "check"): gettext_noop("Settle the pruning of {}"),
    ("training", "train"): gettext_noop("Train {}"),
    ("suckers", "pull_suckers"): gettext_noop("Look for suckers on {}"),
    ("suckers", "pull_sprouts"): gettext_noop("Pull the water sprouts of {}"),
    ("suckers", "choose_pups"): gettext_noop("Thin the stems of {}"),
    ("sanitation", "clean_up"): gettext_noop("Clear dried fruit and cankers from {}"),
    ("sanitation", "look_for_blight"): gettext_noop(
        "Cut fire blight out of {}, if any"
    ),
    ("cold", "move_in"): gettext_noop("Bring {} in"),
    ("cold", "move_out"): gettext_noop("Take {} out"),
    ("cold", "cover"): gettext_noop("Cover {}"),
    ("cold", "check"): gettext_noop("Ready {} for the cold"),
    ("cold", "group"): gettext_noop("Huddle the pot of {} by a warm wall"),
    ("freeze", "pick_ripe"): gettext_noop(
        "Pick the ripe fruit of {} before the freeze"
    ),
    ("freeze", "ready_soil"): gettext_noop("Water the soil of {} before the frost"),
    ("freeze", "uncover"): gettext_noop("Uncover {}"),
    ("freeze", "look_at_damage"): gettext_noop("Look how far {} froze back"),
    ("heat", "shade_pots"): gettext_noop("Shade the pot of {}"),
    ("heat", "water_early"): gettext_noop("Ready {} for the heat"),
    ("heat", "guard_bark"): gettext_noop("Guard the bark of {} from the sun"),
    ("weeding", "weed"): gettext_noop("Weed round {}"),
    ("weeding", "edge"): pgettext_lazy("to do", "Cut the edge round {}"),
    ("weeding", "fit_guard"): gettext_noop("Guard the trunk of {}"),
    ("weeding", "look_guard"): gettext_noop("Look at the trunk guard of {}"),
    ("thinning", "thin"): gettext_noop("Thin the fruit of {}"),
    ("thinning", "remove_fruit"): gettext_noop("Take this year's fruit off {}"),
    ("harvest", "look"): gettext_noop("Look whether {} is ripe"),
    ("harvest", "pick"): gettext_noop("Pick {}"),
    ("harvest", "hold"): gettext_noop("Leave the fruit of {} for now"),
    ("planting", "ground"): gettext_noop("Look into soil and rules for {}"),
    ("planting", "locate"): gettext_noop("Ask where pipes and cables lie for {}"),
    ("planting", "drainage"): gettext_noop("Test the drainage for {}"),
    ("planting", "plant"): gettext_noop("Plant {}"),
    ("establishing", "settled"): gettext_noop("See how {} has settled"),
    ("establishing", "unstake"): gettext_noop("Take the stake off {}"),
    ("establishing", "growth"): gettext_noop("See whether {} grows"),
    ("establishing", "review"): pgettext_lazy("to do", "Let {} stand on its own roots"),
    ("establishing", "widen"): gettext_noop("Widen the watered ring of {}"),
    ("potting", "pot_up"): gettext_noop("Pot {} on"),
    ("potting", "root_prune"): gettext_noop("Repot {} and trim its roots"),
    ("potting", "look_at_roots"): gettext_noop("Look at the roots of {}"),
    ("inspection", "look_over"): gettext_noop("Look over {}"),
}
# Where the reason says more than the action.
REASON_TITLES = {
    "feed_ask_past": gettext_noop("Was {} fed this season?"),
    "feed_ask_pot_size": gettext_noop("How large is the pot of {}?"),
    "feed_ask_crown": gettext_noop("How wide is the crown of {}?"),
    "feed_ask_short_shoots": gettext_noop("Why are the shoots of {} short?"),
    "soil_ask_result": gettext_noop("What did the soil test of {} say?"),
    "feed_ask_first_growth": gettext_noop("Measure the first shoots of {}"),
    "prune_ask_past": gettext_noop("Was {} pruned this season?"),
    "prune_near_wires": gettext_noop("Call a professional to prune {}"),
    "prune_too_tall": gettext_noop("Call a professional to prune {}"),
    "mulch_ask_depth": gettext_noop("Measure the mulch of {}"),
    "mulch_look_at_trunk": gettext_noop("Look at the trunk of {}"),
}
# Answered on the page behind the line; a tick would say nothing.
QUESTIONS = frozenset(
    {"feed_ask_past", "feed_ask_pot_size", "feed_ask_crown", "prune_ask_past"}
)
# What a button says that finishes a whole row.
ROW_VERBS = {
    ("watering", "water"): pgettext_lazy("done to several trees", "watered"),
    ("watering", "check"): pgettext_lazy("done to several trees", "checked"),
    ("feeding", "feed"): pgettext_lazy("done to several trees", "fed"),
    ("feeding", "check"): pgettext_lazy("done to several trees", "settled"),
    ("feeding", "rest"): pgettext_lazy("done to several trees", "left unfed"),
    ("flushing", "flush"): pgettext_lazy("done to several trees", "washed out"),
    ("soil", "test_soil"): pgettext_lazy("done to several trees", "tested"),
    ("soil", "acidify"): pgettext_lazy("done to several trees", "given sulfur"),
    ("soil", "check"): pgettext_lazy("done to several trees", "read"),
    ("mulching", "top_up"): pgettext_lazy("done to several trees", "mulched"),
    ("mulching", "clear_trunk"): pgettext_lazy("done to several trees", "cleared"),
    ("mulching", "check"): pgettext_lazy("done to several trees", "looked at"),
    ("pruning", "prune"): pgettext_lazy("done to several trees", "pruned"),
    ("training", "train"): pgettext_lazy("done to several trees", "trained"),
    ("suckers", "pull_suckers"): pgettext_lazy("done to several trees", "looked at"),
    ("suckers", "pull_sprouts"): pgettext_lazy(
        "done to several trees", "cleared of sprouts"
    ),
    ("suckers", "choose_pups"): pgettext_lazy("done to several trees", "thinned"),
    ("sanitation", "clean_up"): pgettext_lazy("done to several trees", "cleared"),
    ("sanitation", "look_for_blight"): pgettext_lazy(
        "done to several trees", "looked at"
    ),
    ("cold", "move_in"): pgettext_lazy("done to several trees", "brought in"),
    ("cold", "move_out"): pgettext_lazy("done to several trees", "taken out"),
    ("cold", "cover"): pgettext_lazy("done to several trees", "covered"),
    ("cold", "check"): pgettext_lazy("done to several trees", "ready for the cold"),
    ("cold", "group"): pgettext_lazy("done to several trees", "huddled"),
    ("freeze", "pick_ripe"): pgettext_lazy("done to several trees", "picked"),
    ("freeze", "ready_soil"): pgettext_lazy("done to several trees", "watered"),
    ("freeze", "uncover"): pgettext_lazy("done to several trees", "uncovered"),
    ("freeze", "look_at_damage"): pgettext_lazy("done to several trees", "looked at"),
    ("heat", "shade_pots"): pgettext_lazy("done to several trees", "shaded"),
    ("heat", "water_early"): pgettext_lazy(
        "done to several trees", "ready for the heat"
    ),
    ("heat", "guard_bark"): pgettext_lazy("done to several trees", "guarded"),
    ("weeding", "weed"): pgettext_lazy("done to several trees", "weeded"),
    ("weeding", "edge"): pgettext_lazy("done to several trees", "edged"),
    ("weeding", "fit_guard"): pgettext_lazy("done to several trees", "guarded"),
    ("weeding", "look_guard"): pgettext_lazy("done to several trees", "looked at"),
    ("thinning", "thin"): pgettext_lazy("done to several trees", "thinned"),
    ("thinning", "remove_fruit"): pgettext_lazy(
        "done to several trees", "cleared of fruit"
    ),
    ("harvest", "look"): pgettext_lazy("done to several trees", "looked at"),
    ("harvest", "pick"): pgettext_lazy("done to several trees", "picked"),
    ("harvest", "hold"): pgettext_lazy("done to several trees", "left to hang"),
    ("planting", "ground"): pgettext_lazy("done to several trees", "looked into"),
    ("planting", "locate"): pgettext_lazy("done to several trees", "asked about"),
    ("planting", "drainage"): pgettext_lazy("done to several trees", "tested"),
    ("planting", "plant"): pgettext_lazy("done to several trees", "planted"),
    ("establishing", "settled"): pgettext_lazy("done to several trees", "seen to"),
    ("establishing", "unstake"): pgettext_lazy(
        "done to several trees", "freed of stakes"
    ),
    ("establishing", "growth"): pgettext_lazy("done to several trees", "looked at"),
    ("establishing", "review"): pgettext_lazy(
        "done to several trees", "left to itself"
    ),
    ("establishing", "widen"): pgettext_lazy(
        "done to several trees", "given a wider ring"
    ),
    ("potting", "pot_up"): pgettext_lazy("done to several trees", "potted on"),
    ("potting", "root_prune"): pgettext_lazy("done to several trees", "repotted"),
    ("potting", "look_at_roots"): pgettext_lazy("done to several trees", "looked at"),
    ("inspection", "look_over"): pgettext_lazy("done to several trees", "looked over"),
}
NOUNS = {
    "watering": gettext_noop("watering"),
    "feeding": gettext_noop("feeding"),
    "flushing": gettext_noop("washing of pots"),
    "soil": gettext_noop("soil"),
    "mulching": gettext_noop("mulching"),
    "pruning": gettext_noop("pruning"),
    "training": gettext_noop("training"),
    "suckers": gettext_noop("removal of suckers"),
    "sanitation": gettext_noop("clearing of rotten fruit and wood"),
    "cold": gettext_noop("cold protection"),
    "freeze": gettext_noop("work before and after a freeze"),
    "heat": gettext_noop("heat protection"),
    "weeding": gettext_noop("weeding"),
    "thinning": gettext_noop("thinning of fruit"),
    "harvest": gettext_noop("harvest"),
    "planting": gettext_noop("planting"),
    "establishing": gettext_noop("care of the newly planted"),
    "potting": gettext_noop("potting"),
    "inspection": gettext_noop("looking over"),
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
    title = REASON_TITLES.get(code, TITLES.get((kind, action), usual))
    return gettext(str(title)).format(tree_name)


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
    return gettext("up to {amount}").format(amount=words) if unit == "share" else words


def task_amount(task: Task, units: UnitSystem) -> str:
    """Return a task's planned amount, or nothing."""
    return amount_words(task.amount, task.unit, task.kind, units)


def count_trees(number: int) -> str:
    """Return such as ``1 tree`` or ``5 trees``."""
    return ngettext("{number} tree", "{number} trees", number).format(number=number)
