"""Potting: the next size, or the same pot with fresh mix and shorter roots."""

from dataclasses import dataclass
from datetime import date, timedelta

from care.facts import Situation
from care.proposals import Proposal, Reason, Scalar
from care.science.container_water import LEACHING_FRACTION
from care.science.potting import (
    FEED_DAYS,
    GROWING_YEARS,
    LARGEST_POT_L,
    ONE_PERSON_KG,
    ROOTS_OFF_MM,
    TOP_OFF_SHARE,
    YEARS_BETWEEN,
    easy_l,
    hot_day_l,
    hot_et0_mm,
    is_cramped,
    next_pot,
    pot_litres,
    potting_window,
    takes_small_steps,
    wet_kg_per_l,
    wet_weight_kg,
    years_due_on,
)
from care.science.season import Window, season_of

KIND = "potting"
FEEDING = "feeding"

FIRM_DAYS = 28
SLACK_DAYS = 60  # a window that opens this much before the years are full will do
LEAST_DAYS = 300  # a pot is left alone for a season after each potting
KNOWN_DAYS = 366  # entered within a year of planting: nothing happened unseen
EFFORT_MINUTES = {"pot_up": 40, "root_prune": 60, "look_at_roots": 10}


@dataclass(frozen=True, slots=True)
class Pot:
    """A plant in a pot of known size, and when it was last potted if anybody knows."""

    situation: Situation
    litres: float
    potted_on: date | None
    looked_on: date | None

    @property
    def is_small(self) -> bool:
        """Whether the kind, when grown, does not live in so small a pot."""
        least_l = self.situation.tree.species.container_min_l
        return least_l is not None and self.litres < least_l

    @property
    def is_cramped(self) -> bool:
        """Whether a hot day in full leaf empties what the pot readily gives."""
        water = self.situation.water
        species = self.situation.tree.species
        return water is not None and is_cramped(water, species)


@dataclass(frozen=True, slots=True)
class Turn:
    """What to do in one season, and why."""

    season: int
    action: str
    code: str
    window: Window

    @property
    def key(self) -> str:
        """Identity of the task."""
        return f"{self.season}/repot"


def propose(situation: Situation) -> tuple[Proposal, ...]:
    """Return the next potting, in this season's window or the next one's.

    A larger pot while the kind outgrows the present one or a hot day empties it, else
    fresh mix and shorter roots every third year. Where nobody knows when it was last
    potted, a look at the roots. One task a season.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    """
    pot = _pot(situation)
    if pot is None:
        return ()
    season = season_of(situation.today, southern=situation.site.is_southern)
    closed = {work.key for work in situation.logged(KIND)}
    for one in (season, season + 1):
        turn = _turn(pot, one)
        if turn is not None and turn.key not in closed:
            return (_proposal(pot, turn),)
    return ()


def _pot(situation: Situation) -> Pot | None:
    tree = situation.tree
    litres = pot_litres(tree)
    if not tree.in_container or litres is None or tree.is_planned(situation.today):
        return None
    work = situation.logged(KIND)
    potted = [w.on for w in work if w.what == "done" and w.amount is not None]
    looked = [w.on for w in work]
    planted = tree.planted_on
    is_known = planted is not None and (tree.entered_on - planted).days < KNOWN_DAYS
    if is_known and planted is not None:
        potted.append(planted)
    return Pot(situation, litres, max(potted, default=None), max(looked, default=None))


def _turn(pot: Pot, season: int) -> Turn | None:
    """Return what one season's window asks for, from today on, or ``None``."""
    window = potting_window(pot.situation, season)
    if window.end < max(pot.situation.today, pot.situation.tree.entered_on):
        return None
    window = _after_feeding(pot, window)
    found = _needed(pot, window)
    return None if found is None else Turn(season, *found, window)


def _needed(pot: Pot, window: Window) -> tuple[str, str] | None:
    """Return the action and the reason's code."""
    if pot.potted_on is None:
        return _look_for_roots(pot, window)
    rested = window.end - timedelta(days=LEAST_DAYS) >= pot.potted_on
    if not rested:
        return None
    if pot.is_cramped:
        can_grow = pot.litres < LARGEST_POT_L
        return ("pot_up", "pot_cramped") if can_grow else ("root_prune", "pot_full")
    years = GROWING_YEARS if pot.is_small else YEARS_BETWEEN[1]
    if years_due_on(pot.potted_on, years) > window.end + timedelta(days=SLACK_DAYS):
        return None
    return ("pot_up", "pot_growing") if pot.is_small else ("root_prune", "pot_roots")


def _look_for_roots(pot: Pot, window: Window) -> tuple[str, str] | None:
    looked = pot.looked_on
    if looked is not None and years_due_on(looked, GROWING_YEARS) > window.end:
        return None
    return "look_at_roots", "pot_ask_roots"


def _after_feeding(pot: Pot, window: Window) -> Window:
    """Return the window moved out of the weeks after a feeding, its end kept."""
    fed = [work.on for work in pot.situation.logged(FEEDING) if work.what == "done"]
    if not fed:
        return window
    free_on = fed[-1] + timedelta(days=FEED_DAYS)
    return Window(min(max(window.start, free_on), window.end), window.end)


def _proposal(pot: Pot, turn: Turn) -> Proposal:
    tree, today = pot.situation.tree, pot.situation.today
    new_l = _new_litres(pot, turn)
    return Proposal(
        tree_id=tree.id,
        kind=KIND,
        key=turn.key,
        action=turn.action,
        earliest=turn.window.start,
        due=turn.window.middle,
        latest=turn.window.end,
        reason=Reason(turn.code, _facts(pot, turn, new_l), _would_change(turn)),
        amount=new_l,
        unit="" if new_l is None else "L",
        sources=("uf_containers", "common_practice"),
        cautions=_cautions(pot, turn, new_l),
        effort_minutes=EFFORT_MINUTES[turn.action],
        is_firm=turn.window.start <= today + timedelta(days=FIRM_DAYS),
    )


def _new_litres(pot: Pot, turn: Turn) -> float | None:
    """Return the pot it goes into; ``None`` where roots are only looked at."""
    if turn.action == "pot_up":
        return round(next_pot(pot.litres, pot.situation.tree.species).advised_l)
    return pot.litres if turn.action == "root_prune" else None


def _facts(pot: Pot, turn: Turn, new_l: float | None) -> tuple[tuple[str, Scalar], ...]:
    tree = pot.situation.tree
    steps = next_pot(pot.litres, tree.species)
    weighed_l = pot.litres if new_l is None else new_l
    return (
        ("season", turn.season),
        ("pot_l", round(pot.litres, 1)),
        ("pot_diameter_m", tree.container_diameter_m),
        ("grown_pot_l", tree.species.container_min_l),
        ("careful_l", round(steps.careful_l)),
        ("bold_l", round(steps.bold_l)),
        ("small_steps", takes_small_steps(tree.species)),
        ("potted_on", pot.potted_on),
        ("roots_off_mm", ROOTS_OFF_MM[0]),
        ("roots_off_most_mm", ROOTS_OFF_MM[1]),
        ("top_off_share", TOP_OFF_SHARE[0]),
        ("top_off_most_share", TOP_OFF_SHARE[1]),
        ("years_between", YEARS_BETWEEN[0]),
        ("years_between_most", YEARS_BETWEEN[2]),
        ("weighed_l", round(weighed_l, 1)),
        ("wet_kg_per_l", wet_kg_per_l(tree.container_medium)),
        ("wet_weight_kg", round(wet_weight_kg(weighed_l, tree.container_medium))),
        *_demand_facts(pot),
        ("leaching_share", LEACHING_FRACTION),
        ("window_start", turn.window.start),
        ("window_end", turn.window.end),
        ("checks", " ".join(_checks(turn))),
    )


def _demand_facts(pot: Pot) -> tuple[tuple[str, Scalar], ...]:
    """Return what a hot day takes of the pot, where the balance knows it."""
    water, species = pot.situation.water, pot.situation.tree.species
    if water is None:
        return ()
    return (
        ("crown_area_m2", round(water.crown_area_m2, 2)),
        ("kc_mid", species.kc_mid),
        ("hot_et0_mm", round(hot_et0_mm(water), 1)),
        ("hot_day_l", round(hot_day_l(water, species), 1)),
        ("depletion_p", round(water.depletion_p, 2)),
        ("store_l", round(water.store_l, 1)),
        ("easy_l", round(easy_l(water), 1)),
    )


def _checks(turn: Turn) -> tuple[str, ...]:
    if turn.action == "look_at_roots":
        return ("slip_out", "drain_holes", "pot_salt")
    trim = ("roots_trimmed",) if turn.action == "root_prune" else ("circling_roots",)
    top = ("top_cut",) if turn.action == "root_prune" else ()
    return (
        "drain_holes",
        "soilless_mix",
        "no_gravel",
        *trim,
        "same_depth",
        *top,
        "settle_with_water",
        "pot_salt",
        "no_feed_month",
    )


def _would_change(turn: Turn) -> tuple[str, ...]:
    changes = ("potting_logged", "pot_measured")
    return (*changes, "crown_measured") if turn.code == "pot_cramped" else changes


def _cautions(pot: Pot, turn: Turn, new_l: float | None) -> tuple[str, ...]:
    tree = pot.situation.tree
    litres = max(pot.litres, new_l or 0.0)
    is_heavy = wet_weight_kg(litres, tree.container_medium) >= ONE_PERSON_KG
    choices = (
        ("two_people_lift", is_heavy),
        ("move_before_watering", is_heavy),
        ("damp_potting_dust", turn.action != "look_at_roots"),
        (
            "toxic_parts",
            bool(tree.species.toxicity_note) and turn.action == "root_prune",
        ),
    )
    return tuple(code for code, applies in choices if applies)
