"""The steps of a planting sheet, in the order of the work, each with its amounts."""

from collections.abc import Callable
from dataclasses import dataclass

from care.facts import SiteFacts, Support, TreeFacts
from care.science.container_water import pot_diameter_m
from care.science.establishment import caliper_mm, watering_l
from care.science.mulch import CARRY_OVER
from care.science.planting import (
    ABOVE_GROUND_MM,
    DEEPER_MM,
    PIPE_M,
    TEST_HOLE_M,
    building_distance_m,
    planting_hole,
    septic_distance_m,
)
from care.science.planting_amounts import (
    MOUND_HEIGHT_M,
    MOUND_WIDTH_M,
    POT_MULCH_MM,
    STAKES,
    FirstFeed,
    Ring,
    backfill_l,
    medium_l,
    mixed_in_l,
    mound_l,
    pot_mulch_l,
    pot_water_l,
)
from care.science.planting_checks import (
    ACID,
    COMPOST,
    day_checks,
    ground_checks,
    pot_checks,
)
from care.science.potting import pot_litres

#: What must be known before anybody digs or buys.
BEFORE = ("locate", "distances", "lead", "plant_quarantine", "invasive", "soil_test")
#: The work itself, in its order; each sheet has those of its tree.
ORDER = (
    *BEFORE,
    *("drainage", "raised_mound", "drain_holes", "flare_found", "fig_deeper"),
    *("soak_roots", "circling_roots", "wire_burlap", "graft_above"),
    *("turf_ring", "hole_depth", "permanent_post", "no_gravel", "acid_mix"),
    *("soilless_mix", "native_backfill", "compost_backfill", "acid_backfill"),
    *("no_feed_in_hole", "no_feed_month", "first_feed", "set_height", "pot_height"),
    *("settle_with_water", "edging", "trunk_guard", "mulch_ring", "pot_mulch"),
    *("stake_if_windy", "fruit_off", "head_back", "label", "first_watering"),
)
#: Steps that ask for what was measured or given -> its unit.
ASKS = {"drainage": "h", "settle_with_water": "L", "first_watering": "L"}
#: A check of the planting task that the sheet has under another name.
RENAMED = {"drainage_known": "drainage"}

SOURCES: dict[str, tuple[str, ...]] = {
    "locate": ("us_811",),
    "drainage": ("tamu_drainage",),
    "raised_mound": ("tamu_drainage",),
    "flare_found": ("csu_planting",),
    "fig_deeper": ("uga_fig",),
    "hole_depth": ("csu_planting",),
    "permanent_post": ("az_mg_stakes",),
    "native_backfill": ("csu_planting", "uf_amendments"),
    "compost_backfill": ("uf_amendments", "common_practice"),
    "acid_backfill": ("uf_cir1192", "common_practice"),
    "acid_mix": ("uf_cir1192",),
    "no_feed_in_hole": ("uf_amendments", "tamu_fruit"),
    "no_feed_month": ("uf_containers",),
    "first_feed": ("uf_hs132_citrus", "tamu_fruit", "common_practice"),
    "set_height": ("csu_planting", "common_practice"),
    "settle_with_water": ("uf_establishment",),
    "first_watering": ("uf_establishment",),
    "mulch_ring": ("uf_ifas_mulch", "fyn_workbook"),
    "stake_if_windy": ("az_mg_stakes",),
    "drain_holes": ("uf_containers",),
    "soilless_mix": ("uf_containers",),
    "no_gravel": ("uf_containers",),
}
USUAL_SOURCE = ("common_practice",)
CAUTIONS: dict[str, tuple[str, ...]] = {
    "drainage": ("wait_for_marks", "hand_dig_near_marks"),
    "turf_ring": ("hand_dig_near_marks", "keep_back_straight"),
    "hole_depth": ("hand_dig_near_marks", "keep_back_straight"),
    "raised_mound": ("carry_small_loads",),
    "soilless_mix": ("damp_potting_dust",),
    "acid_mix": ("damp_potting_dust",),
    "acid_backfill": ("damp_potting_dust",),
    "compost_backfill": ("damp_potting_dust", "weedkiller_in_mulch"),
    "first_feed": ("not_in_hole", "moist_soil_only", "label_rules"),
    "trunk_guard": ("guard_loose",),
}


@dataclass(frozen=True, slots=True)
class Figure:
    """One amount of a step, in an SI unit, unrounded; with ``most`` it is a range."""

    name: str
    least: float
    unit: str
    most: float | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """One line of a sheet: what, how much, what to mind, from whom."""

    code: str
    figures: tuple[Figure, ...] = ()
    sources: tuple[str, ...] = USUAL_SOURCE
    cautions: tuple[str, ...] = ()

    @property
    def is_before(self) -> bool:
        """Whether it is settled before anybody digs."""
        return self.code in BEFORE

    @property
    def asks(self) -> str:
        """The unit of what is measured or given with the tick, if any."""
        return ASKS.get(self.code, "")

    @property
    def usual_amount(self) -> float | None:
        """What is given unless somebody says otherwise: the middle of its range."""
        if self.asks != "L" or not self.figures:
            return None
        figure = self.figures[0]
        return round((figure.least + (figure.most or figure.least)) / 2, 1)


@dataclass(frozen=True, slots=True)
class Wish:
    """One tree to be planted, and what was chosen for it."""

    tree: TreeFacts
    site: SiteFacts
    backfill: str
    has_edging: bool
    mulch_material: str
    ring: Ring
    feed: FirstFeed | None = None
    is_fed: bool = False


def steps_of(wish: Wish) -> tuple[Step, ...]:
    """Return the steps of one tree's sheet, in the order of the work."""
    codes = _codes(wish)
    return tuple(_step(code, wish) for code in ORDER if code in codes)


def _codes(wish: Wish) -> set[str]:
    tree, species = wish.tree, wish.tree.species
    checks = ground_checks(species, is_soil_tested=wish.site.soil_test is not None)
    codes = {"label", "first_feed" if wish.is_fed else "no_feed_in_hole"}
    if tree.in_container:
        codes |= {*pot_checks(tree), "pot_height", "pot_mulch"}
        codes |= {
            check for check in checks if check in ("plant_quarantine", "invasive")
        }
        codes |= {"acid_mix"} if wish.backfill == ACID else set()
        return codes - {"no_feed_in_hole"} | (
            set() if wish.is_fed else {"no_feed_month"}
        )
    day = {RENAMED.get(code, code) for code in day_checks(tree, wish.backfill)}
    codes |= {*day, *checks, "locate", "drainage", "turf_ring", "first_watering"}
    codes |= {"edging"} if wish.has_edging else set()
    codes |= set() if "fig_deeper" in codes else {"set_height"}
    return codes - ({"no_feed_in_hole"} if wish.is_fed else set())


def _step(code: str, wish: Wish) -> Step:
    figures = FIGURES[code](wish) if code in FIGURES else ()
    return Step(
        code=code,
        figures=figures,
        sources=_sources(code, wish),
        cautions=_cautions(code, wish),
    )


def _sources(code: str, wish: Wish) -> tuple[str, ...]:
    if code == "mulch_ring" and wish.tree.species.feed_group == "citrus":
        return (*SOURCES[code], "ucmg_citrus_mulch")
    return SOURCES.get(code, USUAL_SOURCE)


def _cautions(code: str, wish: Wish) -> tuple[str, ...]:
    if code == "mulch_ring":
        return _mulch_cautions(wish.mulch_material)
    return CAUTIONS.get(code, ())


def _mulch_cautions(material: str) -> tuple[str, ...]:
    carries = ("weedkiller_in_mulch",) if material in CARRY_OVER else ()
    seeds = ("weed_seed_in_mulch",) if material in ("clippings", "straw") else ()
    return ("damp_mulch_dust", *carries, *seeds, "keep_off_trunk", "carry_small_loads")


def _distances(wish: Wish) -> tuple[Figure, ...]:
    species = wish.tree.species
    height_m = species.mature_height_m
    found = [Figure("pipe_m", PIPE_M, "m")]
    if height_m is not None:
        found.append(Figure("wall_m", building_distance_m(height_m), "m"))
        found.append(Figure("septic_m", septic_distance_m(height_m), "m"))
    if species.spacing_typical_m is not None:
        found.append(Figure("spacing_m", species.spacing_typical_m, "m"))
    return tuple(found)


def _mound(_wish: Wish) -> tuple[Figure, ...]:
    least, most = mound_l()
    return (
        Figure("mound_l", least, "L loose", most),
        Figure("mound_height_m", MOUND_HEIGHT_M[0], "m", MOUND_HEIGHT_M[1]),
        Figure("mound_width_m", MOUND_WIDTH_M[0], "m", MOUND_WIDTH_M[1]),
    )


def _deeper(wish: Wish) -> tuple[Figure, ...]:
    least, most = DEEPER_MM[wish.tree.species.key]
    return (Figure("deeper_mm", least, "mm", most),)


def _turf(wish: Wish) -> tuple[Figure, ...]:
    across = Figure("ring_width_m", 2 * wish.ring.radius_m, "m")
    return (across, Figure("turf_m2", wish.ring.turf_m2, "m²"))


def _hole(wish: Wish) -> tuple[Figure, ...]:
    hole = planting_hole(wish.tree)
    least, most = hole.least_width_m, hole.most_width_m
    return (
        Figure("hole_width_m", least, "m", most),
        Figure("hole_depth_m", hole.depth_m, "m"),
    )


def _back(wish: Wish) -> tuple[Figure, ...]:
    least, most = backfill_l(wish.tree)
    return (Figure("backfill_l", least, "L loose", most),)


def _mixed(backfill: str) -> Callable[[Wish], tuple[Figure, ...]]:
    def figures(wish: Wish) -> tuple[Figure, ...]:
        least, most = mixed_in_l(wish.tree, backfill)
        mixed = Figure(f"{backfill}_l", least, "L loose", most)
        return (mixed, *_back(wish))

    return figures


def _feed(wish: Wish) -> tuple[Figure, ...]:
    if wish.feed is None:
        return ()
    return (
        Figure("product_g", wish.feed.product_g, "g"),
        Figure("nitrogen_g", wish.feed.nitrogen_g, "g"),
    )


def _height(_wish: Wish) -> tuple[Figure, ...]:
    return (Figure("above_mm", ABOVE_GROUND_MM[0], "mm", ABOVE_GROUND_MM[1]),)


def _water(wish: Wish) -> tuple[Figure, ...]:
    if wish.tree.in_container:
        is_salty = wish.site.is_water_salty
        litres = pot_water_l(wish.tree, is_water_salty=is_salty)
        return (Figure("water_l", litres, "L"),)
    least, most = watering_l(caliper_mm(wish.tree))
    return (Figure("water_l", least, "L", most),)


def _mulch(wish: Wish) -> tuple[Figure, ...]:
    ring = wish.ring
    return (
        Figure("mulch_l", ring.mulch_l, "L loose"),
        Figure("mulch_depth_mm", ring.depth_mm, "mm"),
        Figure("trunk_gap_mm", ring.gap_mm, "mm"),
        Figure("ring_width_m", 2 * ring.radius_m, "m"),
    )


def _support(wish: Wish) -> tuple[Figure, ...]:
    stakes, ties = STAKES[wish.tree.support]
    if not stakes:
        return ()
    name = "posts" if wish.tree.support is Support.PERMANENT else "stakes"
    return (Figure(name, stakes, ""), Figure("ties", ties, ""))


def _medium(wish: Wish) -> tuple[Figure, ...]:
    litres = pot_litres(wish.tree) or 0.0
    return (
        Figure("medium_l", medium_l(wish.tree), "L loose"),
        Figure("pot_l", litres, "L"),
        Figure("pot_width_m", pot_diameter_m(litres), "m"),
    )


FIGURES: dict[str, Callable[[Wish], tuple[Figure, ...]]] = {
    "distances": _distances,
    "drainage": lambda _wish: (Figure("test_hole_m", TEST_HOLE_M, "m"),),
    "raised_mound": _mound,
    "fig_deeper": _deeper,
    "turf_ring": _turf,
    "hole_depth": _hole,
    "permanent_post": _support,
    "native_backfill": _back,
    "compost_backfill": _mixed(COMPOST),
    "acid_backfill": _mixed(ACID),
    "first_feed": _feed,
    "set_height": _height,
    "settle_with_water": _water,
    "first_watering": _water,
    "edging": lambda wish: (Figure("edging_m", wish.ring.edging_m, "m"),),
    "mulch_ring": _mulch,
    "stake_if_windy": _support,
    "soilless_mix": _medium,
    "pot_mulch": lambda wish: (
        Figure("pot_mulch_l", pot_mulch_l(wish.tree), "L loose"),
        Figure("mulch_depth_mm", POT_MULCH_MM, "mm"),
    ),
}
