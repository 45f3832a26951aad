"""One morning at a site, and its plants made ready to fold."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from care.facts import Observation, SiteFacts, TreeFacts, WeatherSeries, WorkDone
from care.planning.fold import Grove, gather_grove
from care.planning.futures import Futures, imagine_futures
from care.planning.leaf_year import lay_out_leaf
from care.planning.learned_demand import Learned, learn_demand
from care.planning.root_zones import (
    PLANTING_LAG_DAYS,
    Plant,
    can_be_balanced,
    describe_plant,
    warmth_since_planting,
)
from care.planning.site_weather import SiteWeather, judge_weather
from care.planning.tree_days import lay_out_days, watering_work
from care.planning.water_table import is_water_table_up
from care.science.water_balance import Stored

MEMORY_DAYS = 400  # more than a year: a winter's rain or a year's log settles it


@dataclass(frozen=True, slots=True)
class Scene:
    """All that is the same for every plant of a site on one morning."""

    site: SiteFacts
    series: WeatherSeries
    weather: SiteWeather
    futures: Futures
    work: tuple[WorkDone, ...]
    observations: tuple[Observation, ...]
    today: date
    is_water_table_up: bool

    @property
    def today_index(self) -> int:
        """Today's place in the weather series."""
        return self.series.index(self.today)

    @property
    def first_index(self) -> int:
        """The place of the first day that is folded."""
        return max(self.today_index - MEMORY_DAYS, 0)

    @property
    def rows(self) -> int:
        """How many days lie before today."""
        return self.today_index - self.first_index


@dataclass(frozen=True, slots=True)
class Run:
    """One batch of plants, ready to fold."""

    scene: Scene
    plants: tuple[Plant, ...]
    learned: tuple[Learned, ...]
    grove: Grove
    start: Stored


def group_trees(trees: Sequence[TreeFacts], today: date) -> list[tuple[TreeFacts, ...]]:
    """Return the balances to make: single trees, and clumps as one each."""
    groups: dict[tuple[str, int], list[TreeFacts]] = {}
    for tree in sorted(trees, key=lambda tree: tree.id):
        if not can_be_balanced(tree, today):
            continue
        in_clump = tree.clump_id is not None
        key = ("clump", tree.clump_id or 0) if in_clump else ("tree", tree.id)
        groups.setdefault(key, []).append(tree)
    return [tuple(members) for members in groups.values()]


def set_scene(
    site: SiteFacts,
    series: WeatherSeries,
    today: date,
    horizon_days: int,
    *,
    work: Iterable[WorkDone],
    observations: Iterable[Observation],
) -> Scene | None:
    """Return the scene, or ``None`` where the weather says nothing of today."""
    if not series.covers(today):
        return None
    weather = judge_weather(site, series)
    if weather is None:
        return None
    weather, futures = imagine_futures(
        site,
        series,
        weather,
        today_index=series.index(today),
        horizon_days=horizon_days,
    )
    return Scene(
        site=site,
        series=series,
        weather=weather,
        futures=futures,
        work=tuple(watering_work(work, today)),
        observations=tuple(seen for seen in observations if seen.on <= today),
        today=today,
        is_water_table_up=is_water_table_up(site, series, today),
    )


def _warmth(scene: Scene, tree: TreeFacts) -> tuple[float, float]:
    """Return the degree days from planting to the fold's first day, and to today."""
    if tree.planted_on is None:
        return 0.0, 0.0
    warmth, index = scene.weather.warmth, scene.today_index
    first = scene.series.start + timedelta(days=scene.first_index)
    usual = float(warmth[max(index - 365, 0) :][:365].mean())
    before = warmth_since_planting(tree, first, usual)
    rooted = scene.series.index(tree.planted_on) + PLANTING_LAG_DAYS
    recorded = float(warmth[max(scene.first_index, rooted) : index].sum())
    return before, before + recorded


def prepare(scene: Scene, groups: Sequence[tuple[TreeFacts, ...]]) -> Run:
    """Return a batch of balances ready to fold; a group is a tree or a clump."""
    warmths = [_warmth(scene, members[0]) for members in groups]
    plants = tuple(
        describe_plant(
            members,
            scene.site,
            scene.today,
            warmth=until_today,
            has_hard_winters=scene.weather.has_hard_winters,
        )
        for members, (_before, until_today) in zip(groups, warmths, strict=True)
    )
    calendar = slice(scene.first_index, scene.today_index + scene.futures.days)
    first = scene.series.start + timedelta(days=scene.first_index)
    days = lay_out_days(
        plants,
        first,
        scene.rows + scene.futures.days,
        work=scene.work,
        observations=scene.observations,
    )
    leaf = lay_out_leaf(plants, scene.site, scene.weather, calendar)
    nothing = np.zeros(len(plants))
    start = Stored(nothing, nothing, np.array([before for before, _all in warmths]))
    grove = gather_grove(plants, days, leaf, scene.weather, scene.first_index)
    learned = learn_demand(
        plants,
        grove,
        start,
        scene.rows,
        observations=scene.observations,
        first=first,
    )
    factors = np.array([each.demand.applied for each in learned])
    grove = replace(grove, drinking_m2=grove.drinking_m2 * factors)
    return Run(scene, plants, learned, grove, start)
