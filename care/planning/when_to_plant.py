"""When wanted trees are to be planted: their times as of a day, for a whole planting."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from care.facts import RainFacts, SiteFacts, Situation, TreeFacts, WeatherSeries
from care.planning.frost_outlook import frost_outlook, with_record_dates
from care.planning.gather import site_facts
from care.planning.kinds import Kinds
from care.planning.planting_sheet import wanted_facts
from care.planning.rains import rain_facts
from care.planning.stages import site_year, stages_by_tree
from care.planning.warmth import with_hottest_weeks
from care.planning.weather_days import read_weather, weather_series
from care.science.establishment import zone_number
from care.science.planting_time import (
    PlaceYear,
    PlantingSpan,
    PlantingTime,
    Verdict,
    planting_time,
)
from care.science.usual_climate import usual_climate
from orchard.models import Site, WantedTree

__all__ = [
    "PlantingSpan",
    "PlantingTime",
    "PlantingYear",
    "Verdict",
    "planting_times",
    "planting_year",
    "time_of_tree",
]


@dataclass(frozen=True, slots=True)
class PlantingYear:
    """A site's year as of a morning, as far as planting asks for it."""

    today: date
    site: SiteFacts
    series: WeatherSeries | None
    rains: RainFacts | None
    place: PlaceYear

    @property
    def is_told(self) -> bool:
        """Whether any weather or typed months say more than the calendar does."""
        return self.place.climate is not None

    @property
    def is_typed(self) -> bool:
        """Whether nobody measured anything here: usual months that were typed tell."""
        return self.series is not None and "o" not in self.series.origin


def planting_year(site: Site, today: date) -> PlantingYear:
    """Read a site's year strictly as of ``today``, in a constant number of queries."""
    series = weather_series(read_weather(site, today), today)
    facts = with_record_dates(site_facts(site), series, today)
    climate = None if series is None else usual_climate(series)
    coldest_c = None
    if series is not None and climate is not None:
        zone = frost_outlook(series, facts, today).zone
        coldest_c = zone.mean_c if zone else float(np.min(climate.tmin_c))
    return PlantingYear(
        today=today,
        site=with_hottest_weeks(facts, series),
        series=series,
        rains=rain_facts(series, today),
        place=PlaceYear(climate, coldest_c, zone_number(facts, series)),
    )


def planting_times(
    wanted: Iterable[WantedTree], year: PlantingYear, kinds: Kinds
) -> dict[int, PlantingTime]:
    """Return when to plant wanted trees of a site, by their numbers.

    Parameters
    ----------
    wanted : iterable of WantedTree
        Rows of :func:`care.planning.planting_sheet.wanted_of`.
    year : PlantingYear
        Of their site.
    kinds : Kinds
        Of their orchard.
    """
    # Numbers below nothing: no tree of the site is meant.
    trees = {
        row.pk: replace(wanted_facts(row, kinds, {}, year.today), id=-row.pk)
        for row in wanted
    }
    times = _times(trees.values(), year)
    return {pk: times[tree.id] for pk, tree in trees.items()}


def time_of_tree(tree: TreeFacts, year: PlantingYear) -> PlantingTime:
    """Return when to plant one tree that nobody wants yet."""
    return _times([tree], year)[tree.id]


def _times(
    trees: Iterable[TreeFacts], year: PlantingYear
) -> Mapping[int, PlantingTime]:
    unplanted = [replace(tree, planted_on=None) for tree in trees]
    of_site = site_year(year.site, year.series, year.today)
    stages = stages_by_tree(of_site, unplanted, {}, {})
    return {
        tree.id: planting_time(
            Situation(
                today=year.today,
                tree=tree,
                site=year.site,
                weather=year.series,
                rains=year.rains,
                stages=stages[tree.id],
            ),
            year.place,
        )
        for tree in unplanted
    }
