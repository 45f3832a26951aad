"""Suckers: shoots from below the graft, water sprouts, and the pups of a banana."""

from datetime import date, timedelta

from care.facts import Situation
from care.proposals import Proposal, Reason, Scalar
from care.science.pruning import crown_limit
from care.science.reach import REACH_M, working_height_m
from care.science.season import (
    Window,
    is_frost_season,
    last_frost_in,
    season_of,
    work_of_season,
)
from care.science.shoots import (
    PUP_DAYS,
    SPROUT_LEAST_MM,
    SPROUT_MOST_MM,
    STEMS_KEPT,
    SUCKER_FREELY,
    has_rootstock,
    sprouts_window,
    suckers_window,
)
from care.science.training import training_year

KIND = "suckers"

FIRM_DAYS = 14
PUPS_KEY = "next/pups"
PUP_WINDOW_DAYS = 14
EFFORT_MINUTES = {"pull_suckers": 5, "pull_sprouts": 15, "choose_pups": 15}


def propose(situation: Situation) -> tuple[Proposal, ...]:
    """Return this season's looks for suckers and sprouts, or the pups to take out.

    Suckers in spring on grafted trees and kinds that sucker freely; water sprouts in
    early summer where the crown was cut this season or the last, which is what brings
    them; banana mats every month without frost.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    """
    if situation.tree.species.prune_system == "pup_selection":
        return _pups(situation)
    season = season_of(situation.today, southern=situation.site.is_southern)
    found = (_suckers(situation, season), _sprouts(situation, season))
    return tuple(proposal for proposal in found if proposal is not None)


def _is_open(situation: Situation, key: str, window: Window) -> bool:
    tree = situation.tree
    first = max(situation.today, tree.entered_on, tree.planted_on or tree.entered_on)
    closed = {work.key for work in situation.logged(KIND)}
    return window.end >= first and key not in closed


def _suckers(situation: Situation, season: int) -> Proposal | None:
    is_grafted = has_rootstock(situation.tree)
    if not is_grafted and situation.tree.species.key not in SUCKER_FREELY:
        return None
    key, window = f"{season}/spring", suckers_window(situation, season)
    if not _is_open(situation, key, window):
        return None
    code = "suckers_below_graft" if is_grafted else "suckers_own_roots"
    return _proposal(situation, key, window, "pull_suckers", code)


def _sprouts(situation: Situation, season: int) -> Proposal | None:
    species = situation.tree.species
    is_kind = species.habit == "tree" and species.leaf == "deciduous"
    if not is_kind or training_year(situation, season) is not None:
        return None
    if not _was_cut(situation, season):
        return None
    key, window = f"{season}/summer", sprouts_window(situation, season)
    if not _is_open(situation, key, window):
        return None
    return _proposal(situation, key, window, "pull_sprouts", "suckers_water_sprouts")


def _was_cut(situation: Situation, season: int) -> bool:
    """Whether the crown was cut lately; sprouts answer cuts."""
    work = (
        *work_of_season(situation, "pruning", season - 1),
        *work_of_season(situation, "pruning", season),
    )
    return any(each.what == "done" for each in work)


def _proposal(
    situation: Situation, key: str, window: Window, action: str, code: str
) -> Proposal:
    soon = situation.today + timedelta(days=FIRM_DAYS)
    return Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key=key,
        action=action,
        earliest=window.start,
        due=window.middle,
        latest=window.end,
        reason=Reason(code, _facts(situation, key), ("stage_seen", "graft_corrected")),
        sources=("uc_mg_suckers",) if action == "pull_suckers" else ("wsu_sprouts",),
        cautions=_cautions(situation, action),
        effort_minutes=EFFORT_MINUTES[action],
        is_firm=window.start <= soon,
    )


def _facts(situation: Situation, key: str) -> tuple[tuple[str, Scalar], ...]:
    species = situation.tree.species
    return (
        ("season", int(key.split("/", maxsplit=1)[0])),
        ("note", species.pup_notes),
        ("sprout_least_mm", SPROUT_LEAST_MM),
        ("sprout_most_mm", SPROUT_MOST_MM),
        ("limit_share", crown_limit(species).share),
    )


def _cautions(situation: Situation, action: str) -> tuple[str, ...]:
    tree = situation.tree
    is_crown = action == "pull_sprouts"
    if is_crown and tree.near_wires:
        return ("power_lines",)
    is_high = is_crown and working_height_m(tree, situation.today) > REACH_M
    codes = {
        "look_for_wires": is_high,
        "ladder": is_high,
        "toxic_parts": bool(tree.species.toxicity_note),
    }
    return tuple(code for code, applies in codes.items() if applies)


def _pups(situation: Situation) -> tuple[Proposal, ...]:
    """Return choosing a banana's stems, a month after the last time."""
    today = situation.today
    if is_frost_season(today, situation.site):
        return ()
    last = [work.on for work in situation.logged(KIND) if work.key == PUPS_KEY]
    due = _pups_due(situation, max(last, default=None))
    return (
        Proposal(
            tree_id=situation.tree.id,
            kind=KIND,
            key=PUPS_KEY,
            action="choose_pups",
            earliest=due,
            due=due,
            latest=due + timedelta(days=PUP_WINDOW_DAYS),
            reason=Reason(
                "suckers_pups",
                (
                    ("stems_least", STEMS_KEPT[0]),
                    ("stems_most", STEMS_KEPT[1]),
                    ("last_on", max(last, default=None)),
                    ("between_days", PUP_DAYS),
                    ("note", situation.tree.species.pup_notes),
                ),
                ("pups_logged",),
            ),
            sources=("catalogue",),
            cautions=("clean_tools",),
            effort_minutes=EFFORT_MINUTES["choose_pups"],
            is_firm=due <= today + timedelta(days=FIRM_DAYS),
        ),
    )


def _pups_due(situation: Situation, last: date | None) -> date:
    """Return a month after the last time, or the entry; not before the last frost."""
    entered = situation.tree.entered_on
    due = entered if last is None else last + timedelta(days=PUP_DAYS)
    season = season_of(situation.today, southern=situation.site.is_southern)
    frost = last_frost_in(season, situation.site)
    return due if frost is None or frost > situation.today else max(due, frost)
