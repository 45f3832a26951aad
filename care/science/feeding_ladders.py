"""The published ladder to set beside a computed amount, as a yardstick."""

from dataclasses import dataclass

from care.science.citrus_ladders import (
    arizona_share,
    california_citrus,
    florida_citrus,
)
from care.science.ladder_sources import Ladder
from care.science.small_fruit_ladders import (
    north_carolina_blueberry,
    north_carolina_grape,
)
from care.science.tree_fruit_ladders import (
    georgia_fig,
    louisiana_fig,
    new_hampshire_tree,
    north_carolina_tree,
    pennsylvania_stone,
)

NORTHERN_BERRIES = ("blueberry_highbush", "blueberry_rabbiteye")


@dataclass(frozen=True, slots=True)
class Grown:
    """What the ladders ask of a plant: its year since planting, from 1, and its size."""

    year: int
    height_m: float | None = None
    spacing_m: float | None = None
    caliper_mm: float | None = None


def yardstick(
    species_key: str, feed_group: str, plant: Grown, *, is_sandy: bool
) -> Ladder | None:
    """Return the published range to set beside an amount, if there is one.

    Citrus on sand by Florida's table and elsewhere by California's where that has the
    year, both by Arizona's shares. Apple, pear and stone fruit by the trunk where that
    was measured (New Hampshire), else by age.

    Parameters
    ----------
    species_key, feed_group : str
        As in the catalogue.
    is_sandy : bool
        Whether the soil is of the sand family.
    """
    if feed_group == "citrus":
        return _citrus(plant.year, is_sandy=is_sandy).scaled(arizona_share(species_key))
    if feed_group in ("pome", "stone"):
        return _tree_fruit(feed_group, plant)
    if species_key == "fig":
        return _fig(plant)
    if species_key in NORTHERN_BERRIES:
        return north_carolina_blueberry(plant.year)
    return north_carolina_grape(plant.year) if species_key == "grape" else None


def _citrus(year: int, *, is_sandy: bool) -> Ladder:
    californian = None if is_sandy else california_citrus(year)
    return californian or florida_citrus(year)


def _tree_fruit(feed_group: str, plant: Grown) -> Ladder | None:
    if plant.caliper_mm is not None:
        return new_hampshire_tree(feed_group, plant.caliper_mm)
    if feed_group == "stone":
        return pennsylvania_stone(plant.year)
    return north_carolina_tree(plant.year)


def _fig(plant: Grown) -> Ladder:
    if plant.height_m is not None and plant.spacing_m is not None:
        return georgia_fig(plant.year, plant.height_m, plant.spacing_m)
    return louisiana_fig(plant.year)
