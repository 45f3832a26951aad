"""Establishing: what a new tree needs looked at until it can be left alone."""

from dataclasses import dataclass, replace
from datetime import date, timedelta

from care.facts import Situation, Support
from care.proposals import Proposal, Reason
from care.science.establishment import (
    GROWING_MM,
    OTHER_MONTHS_PER_INCH,
    STALL_DAYS,
    STALL_DAYS_EVERGREEN,
    Establishment,
    companions_from,
    establishment,
    first_season_end,
    is_slow,
    months_per_inch,
    stall_over_on,
    steps_down,
    survival_months,
    watering_l,
)
from care.science.season import season_of, start_of_growth
from care.science.shoots import has_rootstock

KIND = "establishing"
RING = "next/ring"

SETTLED_DAYS = (14, 28, 42)  # after planting; common practice, no source
LOOK_DAYS = 42
UNSTAKE_DUE_DAYS = 28
REVIEW_DAYS = 56
LONGEST_DAYS = 3652  # no tree that people plant by hand takes longer; no source
RING_STEP_M = 0.15  # roots beyond the watered circle by a hand's width; no source
RING_ROUND_M = 0.05
WIDEST_RING_M = 0.6  # of a new tree's circle
RING_DAYS = 21
RING_HOLD_DAYS = 28
EFFORT_MINUTES = {"settled": 10, "unstake": 10, "growth": 5, "review": 5, "widen": 10}


@dataclass(frozen=True, slots=True)
class Young:
    """A tree that stands, and when it was planted."""

    situation: Situation
    planted_on: date
    season: int
    expected: Establishment

    def proposal(
        self,
        step: str,
        window: tuple[date, date, date],
        reason: Reason,
        sources: tuple[str, ...],
    ) -> Proposal:
        """Return one step of establishing."""
        return Proposal(
            tree_id=self.situation.tree.id,
            kind=KIND,
            key=f"{self.season}/{step}",
            action=step,
            earliest=window[0],
            due=window[1],
            latest=window[2],
            reason=replace(
                reason, facts=(("planted_on", self.planted_on), *reason.facts)
            ),
            sources=sources,
            effort_minutes=EFFORT_MINUTES[step],
        )


def propose(situation: Situation) -> tuple[Proposal, ...]:
    """Return what is due of a new tree's first looks; nothing for pots and old trees.

    The settled flare and ties after some weeks, the stake off after a season, a look
    at growth once a stall would be a worry, the wider ring as roots spread, and the
    end of it all. A look whose days are over is not asked for again; a stake is.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    """
    tree, today = situation.tree, situation.today
    day = tree.planted_on
    if tree.in_container or day is None or day > today or tree.species.habit == "herb":
        return ()
    if (today - day).days > LONGEST_DAYS and tree.support is not Support.STAKE:
        return ()
    season = season_of(day, southern=situation.site.is_southern)
    young = Young(situation, day, season, establishment(situation, day))
    steps = (_settled(young), _growth(young), _review(young), _unstake(young))
    closed = {work.key for work in situation.logged(KIND)}
    found = [step for step in steps if step is not None and step.key not in closed]
    return (*(step for step in found if _is_timely(young, step)), *_ring(young))


def _is_timely(young: Young, step: Proposal) -> bool:
    """Whether a step's days are not over, nor were when the tree was entered."""
    tree = young.situation.tree
    if step.latest < tree.entered_on:
        return False
    return step.action == "unstake" or step.latest >= young.situation.today


def _settled(young: Young) -> Proposal:
    """Return the look at what sank, swells or rubs in the first weeks."""
    tree = young.situation.tree
    first, best, last = (young.planted_on + timedelta(days=n) for n in SETTLED_DAYS)
    trunk_mm = young.expected.caliper_mm
    least_l, most_l = watering_l(trunk_mm)
    daily, alternate = steps_down(trunk_mm)
    survival = survival_months(trunk_mm)
    choices = (
        ("flare_after_settling", tree.species.key != "fig"),
        ("graft_above", has_rootstock(tree)),
        ("ties_loose", tree.support is not Support.NONE),
        ("trunk_guard", not tree.has_trunk_guard),
        ("guard_loose", tree.has_trunk_guard),
        ("ring_wet", True),
        ("ring_weeded", True),
    )
    return young.proposal(
        "settled",
        (first, best, last),
        Reason(
            "young_settled",
            (
                ("watering_l", round(least_l, 1)),
                ("watering_most_l", round(most_l, 1)),
                ("daily_until_days", daily),
                ("every_other_until_days", alternate),
                ("goal", tree.goal.value),
                ("twice_weekly_months", survival[0]),
                ("twice_weekly_most_months", survival[1]),
                ("checks", " ".join(code for code, applies in choices if applies)),
            ),
            ("planting_corrected",),
        ),
        ("uf_establishment", "common_practice"),
    )


def _unstake(young: Young) -> Proposal | None:
    """Return taking the stake off after the first season it stood through."""
    situation = young.situation
    if situation.tree.support is not Support.STAKE:
        return None
    southern = situation.site.is_southern
    end = first_season_end(young.planted_on, southern=southern)
    following = season_of(end, southern=southern) + 1
    last = max(start_of_growth(situation, following).on, end)
    due = min(end + timedelta(days=UNSTAKE_DUE_DAYS), last)
    return young.proposal(
        "unstake",
        (end, due, last),
        Reason(
            "young_unstake",
            (("season_end", end), ("checks", "stands_alone ties_off")),
            ("support_corrected",),
        ),
        ("az_mg_stakes",),
    )


def _growth(young: Young) -> Proposal | None:
    """Return the look at growth once a stall would be a worry; none once it grew."""
    situation = young.situation
    grown = [
        reading.value
        for reading in situation.observed("shoot_growth_mm")
        if reading.on >= young.planted_on and reading.value is not None
    ]
    if any(value >= GROWING_MM for value in grown):
        return None
    due = stall_over_on(situation, young.planted_on)
    slow = is_slow(situation.tree.species)
    return young.proposal(
        "growth",
        (due, due, due + timedelta(days=LOOK_DAYS)),
        Reason(
            "young_growth",
            (
                ("stall_days", STALL_DAYS_EVERGREEN if slow else STALL_DAYS),
                ("is_slow", slow),
                ("growing_mm", GROWING_MM),
                ("measured_mm", max(grown, default=None)),
                ("checks", "scratch_bark wet_or_dry roots_deep leaves_small"),
            ),
            ("shoots_measured",),
        ),
        ("common_practice",),
    )


def _review(young: Young) -> Proposal:
    """Return the end of establishing, by the published months and the balance."""
    found = young.expected
    low, high = months_per_inch(found.zone)
    soonest, surely = companions_from(young.planted_on)
    water = young.situation.water
    due = found.expected_on
    return young.proposal(
        "review",
        (due, due, due + timedelta(days=REVIEW_DAYS)),
        Reason(
            "young_established",
            (
                ("zone", found.zone),
                ("caliper_mm", round(found.caliper_mm)),
                ("months_per_inch", low),
                ("months_per_inch_most", high),
                ("other_months_per_inch", OTHER_MONTHS_PER_INCH),
                ("counted_from", found.counted_from),
                ("soonest_on", found.soonest_on),
                ("latest_on", found.latest_on),
                ("other_on", found.other_on),
                ("balance_settled", None if water is None else water.is_established),
                ("companions_from", soonest),
                ("companions_surely", surely),
                ("checks", "water_steps_down companions ring_to_dripline"),
            ),
            ("forecast", "watering_logged"),
        ),
        ("uf_establishment", "umn_establishment", "common_practice"),
    )


def _ring(young: Young) -> tuple[Proposal, ...]:
    """Return widening the watered circle where roots have outgrown it."""
    situation = young.situation
    water, now_m = situation.water, situation.tree.watered_radius_m
    if water is None or water.root_radius_m is None or now_m is None:
        return ()
    if water.root_radius_m < now_m + RING_STEP_M or now_m >= WIDEST_RING_M:
        return ()
    if _is_held(situation):
        return ()
    steps = round(water.root_radius_m / RING_ROUND_M)
    radius_m = min(round(steps * RING_ROUND_M, 2), WIDEST_RING_M)
    today = situation.today
    return (
        Proposal(
            tree_id=situation.tree.id,
            kind=KIND,
            key=RING,
            action="widen",
            earliest=today,
            due=today + timedelta(days=RING_DAYS // 3),
            latest=today + timedelta(days=RING_DAYS),
            reason=Reason(
                "young_widen_ring",
                (
                    ("root_radius_m", round(water.root_radius_m, 2)),
                    ("watered_radius_m", now_m),
                    ("new_radius_m", radius_m),
                ),
                ("irrigation_entered",),
            ),
            amount=radius_m,
            unit="m",
            sources=("uf_establishment",),
            cautions=("keep_back_straight",),
            effort_minutes=EFFORT_MINUTES["widen"],
        ),
    )


def _is_held(situation: Situation) -> bool:
    """Whether somebody widened the ring, or said not now, in the last weeks."""
    last = [work.on for work in situation.logged(KIND) if work.key == RING]
    return bool(last) and (situation.today - last[-1]).days < RING_HOLD_DAYS
