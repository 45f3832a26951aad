"""What the log and the readings say of one tree's feeding so far."""

from dataclasses import replace
from datetime import timedelta

from care.facts import Answer, Situation, SpeciesFacts, TreeFacts
from care.science.nutrients import growth_gauge, split_windows
from care.science.season import growth_start, season_of, work_of_season

KIND = "feeding"
SETTLE_DAYS = 21  # UF/IFAS HS132: citrus is first fed three weeks after planting
PLANTING_GROWTH_MM = 150.0  # Texas A&M: first feed once 6 in have grown
GAUGE_DAYS = 365
POT_TIMES_A_SEASON = 4  # little and often: watering leaches pots; no source


def as_fed(tree: TreeFacts) -> SpeciesFacts:
    """Return the species with its parts a season, more of them in a pot."""
    species = tree.species
    if not tree.in_container:
        return species
    times = max(species.feed_times_per_year or 1, POT_TIMES_A_SEASON)
    return replace(species, feed_times_per_year=times)


def given_nitrogen_g(situation: Situation, season: int, split_g: float) -> float:
    """Return the grams of nitrogen given this season.

    A feeding of unknown amount counts as one split of ``split_g``, and so does every
    split that began before a tree entered as already fed.
    """
    given = sum(
        split_g if work.amount is None else work.amount
        for work in work_of_season(situation, KIND, season)
        if work.what == "done"
    )
    return given + split_g * _fed_before_entry(situation, season)


def _fed_before_entry(situation: Situation, season: int) -> int:
    tree = situation.tree
    if tree.fed_before is not Answer.YES:
        return 0
    windows = split_windows(season, as_fed(tree), situation.site)
    return sum(window.start <= tree.entered_on for window in windows)


def is_past_unknown(situation: Situation, season: int) -> bool:
    """Return whether the tree may have been fed this season without our knowing.

    Only a tree that was entered after growth began, long after its planting, with no
    answer and no logged amount since.
    """
    tree, site = situation.tree, situation.site
    if tree.fed_before is not Answer.UNKNOWN:
        return False
    if tree.entered_on <= growth_start(season, tree.species, site):
        return False
    planted = tree.planted_on
    if planted and tree.entered_on <= planted + timedelta(days=SETTLE_DAYS):
        return False
    return not any(
        work.what == "done" and work.amount is not None
        for work in work_of_season(situation, KIND, season)
    )


def is_settling(situation: Situation, season: int) -> bool:
    """Return whether a leaf-shedding tree has yet to grow in its planting year.

    University of Arizona feeds none in the planting year; Texas A&M once six inches
    have grown: the reading decides.
    """
    tree = situation.tree
    planted = tree.planted_on
    if planted is None or tree.species.is_evergreen:
        return False
    if season_of(planted, southern=situation.site.is_southern) != season:
        return False
    return not any(
        reading.on > planted and (reading.value or 0) >= PLANTING_GROWTH_MM
        for reading in situation.observed("shoot_growth_mm")
    )


def growth_share(situation: Situation) -> float:
    """Return the part of the nitrogen that the latest year's growth asks for."""
    tree, today = situation.tree, situation.today
    since = today - timedelta(days=GAUGE_DAYS)
    recent = [
        reading.value
        for reading in situation.observed("shoot_growth_mm")
        if reading.value is not None and reading.on >= since
    ]
    if not recent:
        return 1.0
    years = tree.years_since_planting(today)
    first_crop = tree.species.years_to_first_crop
    is_bearing = years is None or first_crop is None or years >= first_crop
    return growth_gauge(tree.species.feed_group, recent[-1], is_bearing=is_bearing)


def pruned_share(situation: Situation, season: int) -> float:
    """Return the share of the crown that logged pruning took this season."""
    return sum(
        work.amount or 0.0
        for work in situation.logged("pruning")
        if work.what == "done" and work.key.startswith(f"{season}/")
    )
