"""What a planting asks for, by its stock and kind: the lists of the sheet, and cautions.

One list for the task of the day and for the planting sheet, so that both say the same.
"""

from collections.abc import Sequence

from care.facts import SpeciesFacts, Stock, Support, TreeFacts
from care.science.establishment import ball_litres
from care.science.planting import may_stand_under_lines, planting_hole
from care.science.potting import ONE_PERSON_KG, pot_litres, wet_weight_kg
from care.science.shoots import has_rootstock
from care.science.soil import drains_slowly, drains_too_slowly

Codes = tuple[str, ...]

NATIVE, COMPOST, ACID = "native", "compost", "acid"  # what a hole is filled with
BACKFILLS = {
    NATIVE: "native_backfill",
    COMPOST: "compost_backfill",
    ACID: "acid_backfill",
}


def usual_backfill(species: SpeciesFacts) -> str:
    """Return what a kind's hole is filled with unless somebody chose otherwise.

    The soil that came out; peat or pine bark with it for acid lovers.
    """
    return ACID if species.feed_group == "berry_acid" else NATIVE


def ground_checks(species: SpeciesFacts, *, is_soil_tested: bool) -> Codes:
    """Return what soil and rules may forbid before anything is bought."""
    checks = ["lead", "plant_quarantine"]
    if species.invasive_note:
        checks.append("invasive")
    if not is_soil_tested:
        checks.append("soil_test")
    return tuple(checks)


def day_checks(tree: TreeFacts, backfill: str = "") -> Codes:
    """Return the list of the planting day of a tree for the ground, in order of work.

    Parameters
    ----------
    tree : TreeFacts
    backfill : str
        ``native``, ``compost`` or ``acid``; the kind's usual one where nobody chose.
    """
    species = tree.species
    is_bare = tree.stock is Stock.BARE_ROOT
    hours = tree.drainage_hours
    is_wood = species.habit in ("tree", "shrub")
    is_fig = planting_hole(tree).above_ground_m < 0
    choices = (
        ("distances", True),
        ("drainage_known", hours is None),
        ("raised_mound", drains_slowly(hours)),
        ("flare_found", not is_fig and is_wood),
        ("fig_deeper", is_fig),
        ("soak_roots", is_bare),
        ("circling_roots", not is_bare),
        ("wire_burlap", tree.stock is Stock.BALLED),
        ("graft_above", has_rootstock(tree)),
        ("hole_depth", True),
        (BACKFILLS[backfill or usual_backfill(species)], True),
        ("settle_with_water", True),
        ("no_feed_in_hole", True),
        ("fruit_off", True),
        ("head_back", is_bare and is_wood),
        ("permanent_post", tree.support is Support.PERMANENT),
        ("stake_if_windy", tree.support is not Support.PERMANENT and is_wood),
        ("mulch_ring", True),
        ("trunk_guard", not tree.has_trunk_guard and is_wood),
    )
    return _chosen(choices)


def day_cautions(tree: TreeFacts, *, is_asked: bool) -> Codes:
    """Return what to mind on the day; ``is_asked``: somebody called about lines."""
    is_too_tall = tree.near_wires and not may_stand_under_lines(tree.species)
    is_heavy = wet_weight_kg(ball_litres(tree), "soil") >= ONE_PERSON_KG
    choices = (
        ("wait_for_marks", not is_asked),
        ("too_tall_for_lines", is_too_tall),
        ("drains_too_slowly", drains_too_slowly(tree.drainage_hours)),
        ("hand_dig_near_marks", True),
        ("two_people_lift", is_heavy and tree.stock is not Stock.BARE_ROOT),
        ("keep_back_straight", True),
    )
    return _chosen(choices)


def pot_checks(tree: TreeFacts) -> Codes:
    """Return the list of the day of a plant for a pot."""
    choices = (
        ("drain_holes", True),
        ("soilless_mix", True),
        ("no_gravel", True),
        ("circling_roots", True),
        ("graft_above", has_rootstock(tree)),
        ("fruit_off", True),
        ("settle_with_water", True),
    )
    return _chosen(choices)


def pot_cautions(tree: TreeFacts) -> Codes:
    """Return what to mind when a plant goes into its pot."""
    litres = pot_litres(tree)
    is_heavy = (
        litres is None or wet_weight_kg(litres, tree.container_medium) >= ONE_PERSON_KG
    )
    return ("two_people_lift",) if is_heavy else ()


def _chosen(choices: Sequence[tuple[str, bool]]) -> Codes:
    return tuple(code for code, applies in choices if applies)
