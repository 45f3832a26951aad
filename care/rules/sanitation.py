"""Sanitation: dried fruit and cankers in winter, fire blight after bloom."""

from datetime import date, timedelta

from care.facts import Situation
from care.proposals import Proposal, Reason, Scalar
from care.science.crop import bloom_of, is_bearing
from care.science.pruning import needs_dry_wounds
from care.science.pruning_windows import Timing, timing_of
from care.science.reach import CAREFUL_M, REACH_M, working_height_m
from care.science.season import Window, season_of
from care.science.shoots import (
    BLIGHT_LEAST_MM,
    BLIGHT_MOST_MM,
    BLIGHTED,
    TOOL_ALCOHOL_PERCENT,
    TOOL_SECONDS,
    blight_window,
    clean_up_window,
    keeps_mummies,
)

KIND = "sanitation"

FIRM_DAYS = 14
DUE_DAYS = 28  # before bud break; common practice, no source
EFFORT_MINUTES = {"clean_up": 10, "look_for_blight": 5}


def propose(situation: Situation) -> tuple[Proposal, ...]:
    """Return this season's clean-up of rotten fruit and its looks for fire blight.

    Pome and stone fruit and almonds that are old enough to bear: what hangs on over
    winter carries rot into bloom. Pome fruit that does not bear yet: strikes after
    bloom; who bears is looked over for them anyway. No product is ever advised.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    """
    season = season_of(situation.today, southern=situation.site.is_southern)
    found = (_winter(situation, season), _blight(situation, season))
    return tuple(proposal for proposal in found if proposal is not None)


def _is_open(situation: Situation, key: str, window: Window) -> bool:
    tree = situation.tree
    first = max(situation.today, tree.entered_on, tree.planted_on or tree.entered_on)
    closed = {work.key for work in situation.logged(KIND)}
    return window.end >= first and key not in closed


def _winter(situation: Situation, season: int) -> Proposal | None:
    tree, key = situation.tree, f"{season}/winter"
    window = clean_up_window(situation, season)
    if not keeps_mummies(tree.species) or not is_bearing(tree, window.end):
        return None
    if not _is_open(situation, key, window):
        return None
    due = max(window.start, window.end - timedelta(days=DUE_DAYS))
    return _proposal(situation, key, window, due, "clean_up")


def _blight(situation: Situation, season: int) -> Proposal | None:
    key, bloom = f"{season}/blight", bloom_of(situation, season)
    tree = situation.tree
    if tree.species.key not in BLIGHTED or bloom is None:
        return None
    if is_bearing(tree, bloom.full_on):
        return None  # the looks at its young fruit see to that
    window = blight_window(bloom)
    if not _is_open(situation, key, window):
        return None
    return _proposal(situation, key, window, window.middle, "look_for_blight")


def _proposal(
    situation: Situation, key: str, window: Window, due: date, action: str
) -> Proposal:
    is_winter = action == "clean_up"
    return Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key=key,
        action=action,
        earliest=window.start,
        due=due,
        latest=window.end,
        reason=Reason(
            "sanitation_winter" if is_winter else "sanitation_blight",
            _facts(situation, key),
            ("stage_seen",) if is_winter else ("bloom_seen",),
        ),
        sources=("common_practice",) if is_winter else ("uc_ipm_fire_blight",),
        cautions=_cautions(situation, is_winter=is_winter),
        effort_minutes=EFFORT_MINUTES[action],
        is_firm=window.start <= situation.today + timedelta(days=FIRM_DAYS),
    )


def _facts(situation: Situation, key: str) -> tuple[tuple[str, Scalar], ...]:
    species = situation.tree.species
    return (
        ("season", int(key.split("/", maxsplit=1)[0])),
        ("below_least_mm", BLIGHT_LEAST_MM),
        ("below_most_mm", BLIGHT_MOST_MM),
        ("alcohol_percent", TOOL_ALCOHOL_PERCENT),
        ("tool_seconds", TOOL_SECONDS),
        ("cuts_wait_for_summer", timing_of(species) is Timing.DRY_SUMMER),
    )


def _cautions(situation: Situation, *, is_winter: bool) -> tuple[str, ...]:
    tree = situation.tree
    if tree.near_wires:
        return ("power_lines",)
    height_m = working_height_m(tree, situation.today)
    codes = {
        "look_for_wires": height_m > REACH_M,
        "ladder": height_m > REACH_M,
        "call_professional": height_m > CAREFUL_M,
        "dry_spell": needs_dry_wounds(tree.species),
        "clean_tools" if is_winter else "clean_each_cut": True,
    }
    return tuple(code for code, applies in codes.items() if applies)
