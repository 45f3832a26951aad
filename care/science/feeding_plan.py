"""One tree's nitrogen for one season, and the working that led to it."""

from dataclasses import dataclass, replace

from care.facts import Situation
from care.proposals import Scalar
from care.science.canopy import crown_area_m2
from care.science.feeding_ladders import Grown, yardstick
from care.science.feeding_record import (
    Growth,
    as_fed,
    given_nitrogen_g,
    growth,
    has_lost_crop,
    pruned_share,
)
from care.science.feeding_windows import feeding_stop, stop_basis
from care.science.kitchen_measures import PUBLISHED_DENSITY_G_PER_ML, kitchen_measure
from care.science.ladder_sources import Ladder
from care.science.nutrients import (
    SeasonNitrogen,
    is_sandy,
    product_mass_g,
    season_nitrogen,
    share_by_soil_test,
    soil_share,
    soil_test_in_force,
)
from care.science.pruning import CROWN_SHARE_LIMIT, crown_limit
from care.science.season import start_of_growth

Facts = tuple[tuple[str, Scalar], ...]


@dataclass(frozen=True, slots=True)
class FeedingPlan:
    """A season's nitrogen for one tree and how much of it is spoken for."""

    season: int
    nitrogen: SeasonNitrogen
    growth: Growth | None
    growth_share: float
    tested_share: float
    clump_size: int
    canopy_m2: float | None
    splits: int
    given_g: float

    @property
    def total_g(self) -> float:
        """Nitrogen of the season; a clump is one canopy and shares one amount."""
        shares = self.growth_share * self.tested_share / self.clump_size
        return self.nitrogen.nitrogen_g * shares

    @property
    def split_g(self) -> float:
        """Nitrogen of one part."""
        return self.total_g / self.splits


def feeding_plan(situation: Situation, season: int) -> FeedingPlan | None:
    """Return the plan of one season, or ``None`` where a figure is missing."""
    tree, site, today = situation.tree, situation.site, situation.today
    canopy = _canopy_m2(situation)
    species = as_fed(situation)
    nitrogen = season_nitrogen(
        species,
        # A crown guessed for watering is shown but never decides a dose.
        canopy_m2=canopy if tree.crown_width_m is not None else None,
        years=tree.years_since_planting(today),
        container_litres=tree.container_litres if tree.in_container else None,
        ground_share=soil_share(species, site),
    )
    if nitrogen is None:
        return None
    grown = growth(situation, season)
    plan = FeedingPlan(
        season=season,
        nitrogen=nitrogen,
        growth=grown,
        growth_share=1.0 if grown is None else grown.share,
        tested_share=1.0 if tree.in_container else share_by_soil_test(site, today),
        clump_size=1 + len(situation.clump_mates),
        canopy_m2=canopy,
        splits=species.feed_times_per_year or 1,
        given_g=0.0,
    )
    given = given_nitrogen_g(situation, season, plan.split_g)
    return replace(plan, given_g=given)


def _canopy_m2(situation: Situation) -> float | None:
    width = situation.tree.crown_width_m
    if width is not None:
        return float(crown_area_m2(width))
    return situation.water.crown_area_m2 if situation.water else None


def rest_reason(situation: Situation, season: int) -> str:
    """Return why a tree should not be fed at all this season, or ``""``.

    ``soil_test``, ``near_water``, ``growth``, ``cause`` (short shoots, but not from
    hunger) or ``pruned``: what a person could put right comes first. Kinds that are
    renewed by hard pruning every year are fed all the same.
    """
    tree, site = situation.tree, situation.site
    distance, setback = tree.water_distance_m, site.water_setback_m
    if setback is not None and distance is not None and distance < setback:
        return "near_water"
    if not tree.in_container and share_by_soil_test(site, situation.today) == 0:
        return "soil_test"
    limit = crown_limit(tree.species).share
    if limit is not None and pruned_share(situation, season) > limit:
        return "pruned"
    grown = growth(situation, season)
    if grown is None or grown.is_to_be_asked or grown.share > 0:
        return ""
    return "cause" if grown.cause else "growth"


def rest_facts(situation: Situation, season: int) -> Facts:
    """Return what may have decided that a tree is not fed."""
    site, grown = situation.site, growth(situation, season)
    test = soil_test_in_force(site, situation.today)
    return (
        ("water_distance_m", situation.tree.water_distance_m),
        ("water_setback_m", site.water_setback_m),
        ("soil_test_on", None if test is None else test.on),
        ("limit_share", CROWN_SHARE_LIMIT),
        *(() if grown is None else growth_facts(grown)),
    )


def dose_facts(situation: Situation, plan: FeedingPlan, nitrogen_g: float) -> Facts:
    """Return the whole working of one part: nitrogen, product, yardstick, stop."""
    site, tree = situation.site, situation.tree
    per_m2 = None if not plan.canopy_m2 else round(nitrogen_g / plan.canopy_m2, 1)
    return (
        ("nitrogen_g", round(nitrogen_g, 2)),
        ("season_nitrogen_g", round(plan.total_g, 2)),
        ("given_nitrogen_g", round(plan.given_g, 2)),
        *_basis_facts(plan),
        ("nitrogen_g_per_m2", per_m2),
        *(() if plan.growth is None else growth_facts(plan.growth)),
        *_soil_test_facts(situation),
        ("lost_crop", has_lost_crop(situation, plan.season)),
        ("product", site.feed_product_name),
        ("nitrogen_percent", site.feed_nitrogen_percent),
        *_product_facts(situation, nitrogen_g),
        ("moist_soil_only", True),
        *_season_facts(situation, plan.season),
        ("unverified", "nitrogen_mature_g" in tree.species.unverified),
        *ladder_facts(ladder_beside(situation)),
    )


def _basis_facts(plan: FeedingPlan) -> Facts:
    nitrogen = plan.nitrogen
    cap = nitrogen.pot_cap_g
    return (
        ("canopy_m2", None if plan.canopy_m2 is None else round(plan.canopy_m2, 2)),
        ("first_year_nitrogen_g", nitrogen.first_year_g),
        ("full_nitrogen_g", nitrogen.full_g),
        ("share_of_full", round(nitrogen.share, 4)),
        ("share_basis", nitrogen.basis),
        ("soil_share", round(nitrogen.soil_share, 2)),
        ("growth_share", round(plan.growth_share, 2)),
        ("tested_share", plan.tested_share),
        ("clump_size", plan.clump_size),
        ("pot_cap_g", None if cap is None else round(cap, 2)),
        ("is_pot_capped", nitrogen.is_pot_capped),
    )


def _product_facts(situation: Situation, nitrogen_g: float) -> Facts:
    """Return the product in grams and in cups; a weighed density goes before a rule."""
    site = situation.site
    grams = product_mass_g(nitrogen_g, site.feed_nitrogen_percent)
    weighed = site.feed_density_g_per_ml
    density = PUBLISHED_DENSITY_G_PER_ML if weighed is None else weighed
    measure = kitchen_measure(grams, density)
    return (
        ("product_g", round(grams, 1)),
        ("density_g_per_ml", round(density, 3)),
        ("is_density_weighed", weighed is not None),
        ("volume_ml", round(measure.volume_ml, 1)),
        ("measure_count", measure.count),
        ("measure", measure.unit),
    )


def growth_facts(grown: Growth) -> Facts:
    """Return a year's shoots and the band they were read against."""
    return (
        ("shoot_mm", round(grown.shoot_mm)),
        ("shoot_on", grown.on),
        ("band_low_mm", grown.low_mm),
        ("band_high_mm", grown.high_mm),
        ("growth", grown.verdict),
        ("short_cause", grown.cause or None),
    )


def _soil_test_facts(situation: Situation) -> Facts:
    test = soil_test_in_force(situation.site, situation.today)
    if test is None or situation.tree.in_container:
        return ()
    return (("soil_test_on", test.on), ("soil_test_nitrogen", test.nitrogen.value))


def _season_facts(situation: Situation, season: int) -> Facts:
    site, species = situation.site, situation.tree.species
    growing = start_of_growth(situation, season)
    return (
        ("growth_start_on", growing.on),
        ("growth_start_basis", growing.basis),
        ("stop_on", feeding_stop(season, species, site)),
        ("stop_basis", stop_basis(season, species, site)),
    )


def ladder_beside(situation: Situation) -> Ladder | None:
    """Return the published range for a ground tree of known age, where there is one."""
    tree = situation.tree
    years = tree.years_since_planting(situation.today)
    if years is None or years < 0 or tree.in_container:
        return None
    plant = Grown(int(years) + 1, tree.height_m, tree.spacing_m, tree.caliper_mm)
    species = tree.species
    sandy = is_sandy(situation.site)
    return yardstick(species.key, species.feed_group, plant, is_sandy=sandy)


def ladder_facts(ladder: Ladder | None) -> Facts:
    """Return a published range as facts; nothing where there is none."""
    if ladder is None:
        return ()
    return (
        ("yardstick_low_g", round(ladder.low_g, 1)),
        ("yardstick_high_g", round(ladder.high_g, 1)),
        ("yardstick_parts", ladder.applications),
        ("yardstick_source", ladder.source),
    )
