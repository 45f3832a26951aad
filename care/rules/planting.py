"""Planting: ask before digging, test the ground, and the sheet of the day itself."""

from dataclasses import dataclass, replace
from datetime import date, timedelta

from care.facts import Situation, WorkDone
from care.proposals import Proposal, Reason, Scalar
from care.science.establishment import caliper_mm, companions_from, watering_l
from care.science.planting import (
    BETTER_APART_M,
    LEAST_APART_M,
    MARK_BUSINESS_DAYS,
    PIPE_M,
    TEST_HOLE_M,
    UNDER_LINES_M,
    building_distance_m,
    business_days_after,
    business_days_before,
    is_too_close,
    nearest_window,
    planting_hole,
    septic_distance_m,
)
from care.science.planting_checks import (
    day_cautions,
    day_checks,
    ground_checks,
    pot_cautions,
    pot_checks,
)
from care.science.potting import pot_litres
from care.science.season import season_of
from care.science.soil import drainage_class

KIND = "planting"

# Days before the planting, first, best and last. A laboratory needs weeks; a test hole
# that drains badly must leave time to build a mound; marks fade. Common practice.
GROUND_DAYS = (60, 42, 28)
DRAINAGE_DAYS = (28, 10, 7)
LOCATE_FIRST_DAYS, LOCATE_LEAD_DAYS = 28, 3
EARLY_DAYS, LATE_DAYS = 2, 10  # around the day chosen
EFFORT_MINUTES = {"ground": 20, "locate": 10, "drainage": 20}
EFFORT_PLANT_MINUTES = 75  # 45-90 minutes and two people (from memory)
EFFORT_POT_MINUTES = 30


@dataclass(frozen=True, slots=True)
class Plan:
    """A tree that was entered before it stands: on which day it goes in."""

    situation: Situation
    planted_on: date
    season: int

    def key(self, step: str) -> str:
        """Return the identity of one step."""
        return f"{self.season}/{step}"

    def is_closed(self, step: str) -> bool:
        """Whether a step was done or left out, whatever the season it was planned for."""
        return bool(self.closed(step))

    def closed(self, step: str) -> list[WorkDone]:
        """Return what was logged of a step: a tree is planted once."""
        work = self.situation.logged(KIND)
        return [each for each in work if each.key.endswith(f"/{step}")]

    def not_before_entry(self, day: date) -> date:
        """Return a day, or the tree's entry where that came later."""
        return max(day, self.situation.tree.entered_on)

    def before(self, days: tuple[int, int, int]) -> tuple[date, date, date]:
        """Return a window that ends so many days before the planting."""
        first, best, last = (
            self.not_before_entry(self.planted_on - timedelta(days=each))
            for each in days
        )
        return first, best, last


def propose(situation: Situation) -> tuple[Proposal, ...]:
    """Return what a planned tree still needs before and on its planting day.

    Nothing for trees that stood here when they were entered, nor once the day is long
    past. The planting of a tree in the ground cannot be ticked before somebody has
    asked where pipes and cables lie.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    """
    plan = _plan(situation)
    if plan is None or plan.is_closed("plant"):
        return ()
    if situation.tree.in_container:
        return (_plant_pot(plan),)
    steps = {"ground": _ground, "locate": _locate, "drainage": _drainage}
    open_steps = [step for step in steps if not plan.is_closed(step)]
    if situation.tree.drainage_hours is not None and "drainage" in open_steps:
        open_steps.remove("drainage")
    return (*(steps[step](plan) for step in open_steps), _plant(plan))


def _plan(situation: Situation) -> Plan | None:
    tree = situation.tree
    day = tree.planted_on
    if day is None or day <= tree.entered_on:
        return None
    if situation.today > day + timedelta(days=LATE_DAYS):
        return None
    season = season_of(day, southern=situation.site.is_southern)
    return Plan(situation, day, season)


def _step(
    plan: Plan,
    step: str,
    window: tuple[date, date, date],
    reason: Reason,
    *,
    source: str,
    cautions: tuple[str, ...] = (),
) -> Proposal:
    return Proposal(
        tree_id=plan.situation.tree.id,
        kind=KIND,
        key=plan.key(step),
        action=step,
        earliest=window[0],
        due=window[1],
        latest=window[2],
        reason=replace(
            reason,
            facts=(("planted_on", plan.planted_on), *reason.facts),
            would_change=("planting_moved",),
        ),
        sources=(source,),
        cautions=cautions,
        effort_minutes=EFFORT_MINUTES[step],
    )


def _ground(plan: Plan) -> Proposal:
    """Return the look at the soil's past and at local rules on the kind."""
    situation = plan.situation
    species, is_tested = situation.tree.species, situation.site.soil_test is not None
    checks = ground_checks(species, is_soil_tested=is_tested)
    facts: tuple[tuple[str, Scalar], ...] = (
        ("invasive_note", species.invasive_note),
        ("soil_tested", is_tested),
        *_time_facts(plan),
        ("checks", " ".join(checks)),
    )
    return _step(
        plan,
        "ground",
        plan.before(GROUND_DAYS),
        Reason("plant_ground", facts),
        source="common_practice",
    )


def _first_dig(plan: Plan) -> date:
    """Return the first day of digging: the test hole's, else the planting's."""
    is_tested = plan.situation.tree.drainage_hours is not None
    if is_tested or plan.is_closed("drainage"):
        return plan.planted_on
    return plan.before(DRAINAGE_DAYS)[1]


def _locate(plan: Plan) -> Proposal:
    """Return the call that comes before any digging, with the days the marks take."""
    dig_on = _first_dig(plan)
    last = plan.not_before_entry(business_days_before(dig_on, MARK_BUSINESS_DAYS))
    best = plan.not_before_entry(last - timedelta(days=LOCATE_LEAD_DAYS))
    first = plan.not_before_entry(last - timedelta(days=LOCATE_FIRST_DAYS))
    facts = (("dig_on", dig_on), ("mark_business_days", MARK_BUSINESS_DAYS))
    return _step(
        plan,
        "locate",
        (first, best, last),
        Reason("plant_locate", facts),
        source="us_811",
    )


def _drainage(plan: Plan) -> Proposal:
    window = plan.before(DRAINAGE_DAYS)
    return _step(
        plan,
        "drainage",
        window,
        Reason("plant_drainage", (("hole_m", TEST_HOLE_M),)),
        source="tamu_drainage",
        cautions=("wait_for_marks", "hand_dig_near_marks"),
    )


def _time_facts(plan: Plan) -> tuple[tuple[str, Scalar], ...]:
    """Return the time for such stock, and a better day where the plan misses it."""
    found, nearest_on = nearest_window(plan.situation, plan.planted_on)
    is_missed = nearest_on != plan.planted_on
    return (
        ("window_code", found.code),
        ("window_start", found.window.start),
        ("window_end", found.window.end),
        ("better_on", nearest_on if is_missed else None),
    )


def _marks_from(plan: Plan) -> date | None:
    """Return the day on which the marks should be there, once somebody called."""
    calls = [work.on for work in plan.closed("locate") if work.what == "done"]
    if not calls:
        return None
    return business_days_after(calls[-1], MARK_BUSINESS_DAYS)


def _plant(plan: Plan) -> Proposal:
    """Return the planting day with its sheet."""
    is_asked = plan.is_closed("locate")
    marks_from = _marks_from(plan)
    due = plan.planted_on if marks_from is None else max(plan.planted_on, marks_from)
    first = min(
        due, plan.not_before_entry(plan.planted_on - timedelta(days=EARLY_DAYS))
    )
    if marks_from is not None:
        first = max(first, marks_from)
    tree = plan.situation.tree
    return Proposal(
        tree_id=tree.id,
        kind=KIND,
        key=plan.key("plant"),
        action="plant",
        earliest=first,
        due=due,
        latest=due + timedelta(days=LATE_DAYS),
        reason=Reason(
            "plant_day",
            (
                ("planted_on", plan.planted_on),
                ("blocked_by", "" if is_asked else "plant_locate"),
                ("marks_from", marks_from),
                *_time_facts(plan),
                *_hole_facts(plan),
                *_place_facts(plan),
                ("checks", " ".join(day_checks(tree))),
            ),
            ("planting_moved", "drainage_measured"),
        ),
        sources=("csu_planting", "uf_establishment", "common_practice"),
        cautions=day_cautions(tree, is_asked=is_asked),
        effort_minutes=EFFORT_PLANT_MINUTES,
        is_firm=is_asked,
    )


def _hole_facts(plan: Plan) -> tuple[tuple[str, Scalar], ...]:
    tree = plan.situation.tree
    hole = planting_hole(tree)
    least_l, most_l = watering_l(caliper_mm(tree))
    hours = tree.drainage_hours
    return (
        ("stock", tree.stock.value),
        ("ball_width_m", round(hole.ball_width_m, 2)),
        ("hole_width_m", round(hole.least_width_m, 2)),
        ("hole_width_most_m", round(hole.most_width_m, 2)),
        ("hole_depth_m", round(hole.depth_m, 2)),
        ("above_ground_m", round(hole.above_ground_m, 3)),
        ("settle_l", round(least_l, 1)),
        ("settle_most_l", round(most_l, 1)),
        ("drainage_hours", hours),
        ("drainage", drainage_class(hours)),
    )


def _place_facts(plan: Plan) -> tuple[tuple[str, Scalar], ...]:
    """Return how far from what; where no height is known, nothing of those."""
    tree = plan.situation.tree
    species = tree.species
    height_m = species.mature_height_m
    is_close = tree.spacing_m is not None and is_too_close(tree.spacing_m, species)
    companions, companions_surely = companions_from(plan.planted_on)
    return (
        (
            "wall_m",
            None if height_m is None else round(building_distance_m(height_m), 1),
        ),
        ("pipe_m", round(PIPE_M, 1)),
        (
            "septic_m",
            None if height_m is None else round(septic_distance_m(height_m), 1),
        ),
        ("under_lines_m", round(UNDER_LINES_M, 1)),
        ("spacing_m", tree.spacing_m),
        ("spacing_least_m", species.spacing_min_m),
        ("spacing_usual_m", species.spacing_typical_m),
        ("apart_least_m", round(LEAST_APART_M, 1)),
        ("apart_better_m", round(BETTER_APART_M[0], 1)),
        ("too_close", is_close),
        ("companions_from", companions),
        ("companions_surely", companions_surely),
    )


def _plant_pot(plan: Plan) -> Proposal:
    """Return the potting of a plant that is still to come; nothing is dug."""
    tree = plan.situation.tree
    litres = pot_litres(tree)
    return Proposal(
        tree_id=tree.id,
        kind=KIND,
        key=plan.key("plant"),
        action="plant",
        earliest=plan.not_before_entry(plan.planted_on - timedelta(days=EARLY_DAYS)),
        due=plan.planted_on,
        latest=plan.planted_on + timedelta(days=LATE_DAYS),
        reason=Reason(
            "plant_pot",
            (
                ("planted_on", plan.planted_on),
                *_time_facts(plan),
                ("pot_l", None if litres is None else round(litres, 1)),
                ("grown_pot_l", tree.species.container_min_l),
                ("checks", " ".join(pot_checks(tree))),
            ),
            ("planting_moved",),
        ),
        sources=("uf_containers", "common_practice"),
        cautions=pot_cautions(tree),
        effort_minutes=EFFORT_POT_MINUTES,
    )
