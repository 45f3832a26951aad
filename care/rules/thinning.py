"""Thinning: fewer and larger fruit on bearing trees, none on fresh ones."""

from dataclasses import dataclass, replace
from datetime import date, timedelta

from care.facts import Situation
from care.proposals import Proposal, Reason, Scalar
from care.science.crop import (
    PER_CLUSTER,
    SPACING_MM,
    THINNED_AT_ELSE_MM,
    THINNED_AT_MM,
    Bloom,
    bloom_of,
    crops_near,
    is_bearing,
)
from care.science.reach import CAREFUL_M, FRESH_YEARS, REACH_M, working_height_m
from care.science.season import Window

KIND = "thinning"

# Four weeks after full bloom the trees have dropped what they will not carry; past 45
# to 50 days thinning no longer helps the size or the next year's buds (extension pages).
FIRST_DAYS = 28
LAST_DAYS = 49
FIRM_DAYS = 14
EFFORT_MINUTES = 45  # 30-60 minutes a semi-dwarf tree (from memory)
EFFORT_FRESH_MINUTES = 5


@dataclass(frozen=True, slots=True)
class Turn:
    """The thinning of one crop: what to do and when."""

    bloom: Bloom
    action: str
    window: Window

    @property
    def key(self) -> str:
        """Identity of the task."""
        return f"{self.bloom.crop}/1"


def propose(situation: Situation) -> tuple[Proposal, ...]:
    """Return the thinning of the next crop that is neither past nor closed.

    Four to seven weeks after full bloom, as seen or else guessed from the catalogue's
    months; a projection until two weeks before. Only kinds that are thinned, except
    that any fresh tree loses its fruit.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    """
    closed = {work.key for work in situation.logged(KIND)}
    for crop in crops_near(situation):
        turn = _turn(situation, crop)
        if turn is not None and turn.key not in closed:
            return (_thin(situation, turn),)
    return ()


def _turn(situation: Situation, crop: int) -> Turn | None:
    """Return one crop's thinning from today on, or ``None``."""
    bloom = bloom_of(situation, crop)
    if bloom is None:
        return None
    window = _window(situation, bloom)
    if window is None:
        return None
    action = _action(situation, window.middle)
    return Turn(bloom, action, window) if action else None


def _window(situation: Situation, bloom: Bloom) -> Window | None:
    """Return the weeks after bloom in which the tree stood here, if not over."""
    window = Window(
        bloom.full_on + timedelta(days=FIRST_DAYS),
        bloom.full_on + timedelta(days=LAST_DAYS),
    )
    if window.end < situation.today:
        return None
    planted = situation.tree.planted_on or window.start
    return window.within(planted, window.end)


def _action(situation: Situation, day: date) -> str:
    """Return ``thin``, ``remove_fruit`` or nothing, by the tree's age that day."""
    tree = situation.tree
    years = tree.years_since_planting(day)
    if years is not None and years < FRESH_YEARS:
        return "remove_fruit" if tree.species.habit == "tree" else ""
    is_thinned = tree.species.key in SPACING_MM
    return "thin" if is_thinned and is_bearing(tree, day) else ""


def _thin(situation: Situation, turn: Turn) -> Proposal:
    window, today = turn.window, situation.today
    proposal = Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key=turn.key,
        action="thin",
        earliest=window.start,
        due=window.middle,
        latest=window.end,
        reason=Reason("thin_crop", _facts(situation, turn), _would_change(turn)),
        sources=("ncsu_thinning", "uc_mg_thinning"),
        cautions=_cautions(situation),
        effort_minutes=EFFORT_MINUTES,
        is_firm=window.start <= today + timedelta(days=FIRM_DAYS),
    )
    if turn.action == "thin":
        return proposal
    return replace(
        proposal,
        action="remove_fruit",
        reason=Reason("thin_fresh", _facts(situation, turn), _would_change(turn)),
        sources=("common_practice",),
        effort_minutes=EFFORT_FRESH_MINUTES,
    )


def _facts(situation: Situation, turn: Turn) -> tuple[tuple[str, Scalar], ...]:
    species = situation.tree.species
    usual, least, most = SPACING_MM.get(species.key, (None, None, None))
    return (
        ("season", turn.bloom.crop),
        ("full_bloom_on", turn.bloom.full_on),
        ("bloom_seen", turn.bloom.is_seen),
        ("bloom_basis", turn.bloom.basis),
        ("days_after_bloom_from", FIRST_DAYS),
        ("days_after_bloom_to", LAST_DAYS),
        ("spacing_mm", usual),
        ("spacing_least_mm", least),
        ("spacing_most_mm", most),
        ("per_cluster", PER_CLUSTER.get(species.key)),
        ("fruit_width_mm", THINNED_AT_MM.get(species.key, THINNED_AT_ELSE_MM)),
        ("planted_on", situation.tree.planted_on),
    )


def _would_change(turn: Turn) -> tuple[str, ...]:
    codes = {
        "bloom_seen": not turn.bloom.is_seen,
        "light_crop": turn.action == "thin",
    }
    return tuple(code for code, applies in codes.items() if applies)


def _cautions(situation: Situation) -> tuple[str, ...]:
    if situation.tree.near_wires:
        return ("power_lines",)
    height_m = working_height_m(situation.tree, situation.today)
    codes = {
        "look_for_wires": height_m > REACH_M,
        "ladder": height_m > REACH_M,
        "stay_on_the_ground": height_m > CAREFUL_M,
    }
    return tuple(code for code, applies in codes.items() if applies)
