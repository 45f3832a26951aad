"""Inspection: look trees over by the season, no oftener than the year asks for."""

from datetime import timedelta

from care.facts import RainState, Situation
from care.proposals import Proposal, Reason, Scalar
from care.science.inspection import Look, checks_of, inspection_group, looks
from care.science.season import season_of

KIND = "inspection"

FIRM_DAYS = 14
EFFORT_MINUTES = 5  # inspect and log one tree (from memory)
TOLERATED_LEAF_SHARE = 0.10  # of a healthy tree's leaves (from memory)
REACH_M = 2.0


def propose(situation: Situation) -> tuple[Proposal, ...]:
    """Return the next look at a tree and its neighbours of one list, at most one.

    By the stages of its fruit, monthly in growth otherwise, weekly only where a
    source says so. A look that nobody took lapses: the next one comes in its turn. Of
    neighbours that are looked over together only one asks.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    """
    if not situation.is_look_lead:
        return ()
    closed = {work.key for work in situation.logged(KIND)}
    season = season_of(situation.today, southern=situation.site.is_southern)
    ahead = (
        look
        for one in (season - 1, season, season + 1)
        for look in looks(situation, one)
    )
    found = next((look for look in ahead if _is_open(situation, look, closed)), None)
    return () if found is None else (_look_over(situation, found),)


def _is_open(situation: Situation, look: Look, closed: set[str]) -> bool:
    tree = situation.tree
    since = max(tree.planted_on or tree.entered_on, tree.entered_on)
    is_over = look.window.end < situation.today or look.due < since
    return look.key not in closed and not is_over


def _is_wet(situation: Situation, look: Look) -> bool:
    """Whether a look falls in the rains; those of today say nothing of far-off looks."""
    rains = situation.rains
    is_in = rains is not None and rains.state is RainState.SET_IN
    return is_in and _is_near(situation, look)


def _is_near(situation: Situation, look: Look) -> bool:
    return look.window.start <= situation.today + timedelta(days=FIRM_DAYS)


def _look_over(situation: Situation, look: Look) -> Proposal:
    trees = 1 + len(situation.look_mates)
    return Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key=look.key,
        action="look_over",
        earliest=look.window.start,
        due=look.due,
        latest=look.window.end,
        reason=Reason(
            "inspect_look",
            _facts(situation, look),
            ("rains_change",) if _is_wet(situation, look) else ("stage_seen",),
        ),
        sources=_sources(situation, look),
        cautions=_cautions(situation, look),
        effort_minutes=EFFORT_MINUTES * trees,
        is_firm=_is_near(situation, look),
    )


def _facts(situation: Situation, look: Look) -> tuple[tuple[str, Scalar], ...]:
    is_wet = _is_wet(situation, look)
    return (
        ("season", look.season),
        ("stage", look.stage),
        ("group", inspection_group(situation.tree.species)),
        ("neighbours", len(situation.look_mates)),
        ("every_days", look.every_days),
        ("is_wet", is_wet),
        ("tolerated_leaf_share", TOLERATED_LEAF_SHARE),
        ("checks", " ".join(checks_of(look.stage, situation, is_wet=is_wet))),
    )


def _seeks_blight(situation: Situation, look: Look) -> bool:
    return "fire_blight" in checks_of(look.stage, situation, is_wet=False)


def _sources(situation: Situation, look: Look) -> tuple[str, ...]:
    weekly = ("uc_codling",) if look.stage == "fruitlet" else ()
    blight = ("uc_ipm_fire_blight",) if _seeks_blight(situation, look) else ()
    return (*weekly, *blight, "ipm_calendar")


def _cautions(situation: Situation, look: Look) -> tuple[str, ...]:
    tree = situation.tree
    height_m = tree.height_m or 0.0
    choices = (
        ("power_lines", tree.near_wires),
        ("stay_on_ground", height_m > REACH_M),
        ("no_spray_open_bloom", look.stage == "bloom"),
        ("spray_label_law", True),
        ("wet_disease", _is_wet(situation, look)),
        ("clean_each_cut", _seeks_blight(situation, look)),
        ("clean_tools", look.stage == "dormant"),
    )
    return tuple(code for code, applies in choices if applies)
