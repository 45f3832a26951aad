"""What the season is likely to bring a site, or one species of it, in one place."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np

from care.facts import Place, SpeciesFacts, WeatherSeries
from care.planning.chill_ahead import chill_ahead
from care.planning.ensemble import (
    ChillAhead,
    FrostAhead,
    HeatAhead,
    LikelyDay,
    Members,
    StageAhead,
)
from care.planning.frost_ahead import frosts_ahead
from care.planning.gather import Records
from care.planning.heat_ahead import heat_ahead
from care.planning.stages_ahead import stages_ahead
from care.science.crop import is_bearing

MONTHS = 12
LEAST_MONTH_DAYS = 10  # of each month of the year; ours
INDOORS = (Place.INDOORS_HEATED, Place.INDOORS_UNHEATED)


@dataclass(frozen=True, slots=True)
class SeasonAhead:
    """Chill, warmth, the frosts at 0 degC and stages; ``None`` where unknown."""

    chill: ChillAhead | None
    heat: HeatAhead | None
    frost: FrostAhead | None
    stages: tuple[StageAhead, ...]

    @property
    def members(self) -> Members | None:
        """How the courses of the weather came to be, ``None`` without any."""
        return None if self.heat is None else self.heat.degree_days_fan.members


def knows_the_year(series: WeatherSeries) -> bool:
    """Whether every month has known or usual days: else a January is no summer."""
    days = np.datetime64(series.start, "D") + np.arange(len(series))
    months = days.astype("datetime64[M]").astype(np.int64) % MONTHS
    is_known = (series.tmin_c <= series.tmax_c) & (np.array(list(series.origin)) != "f")
    counts = np.bincount(months[is_known], minlength=MONTHS)
    return bool((counts >= LEAST_MONTH_DAYS).all())


def season_ahead(records: Records, needs_hours: Iterable[float]) -> SeasonAhead:
    """Return what is likely as of a site's records.

    Parameters
    ----------
    records : Records
        With the site's weather, or nothing is known; nothing either before the
        weather of every month of the year is.
    needs_hours : iterable of float
        Chill hours of 0 to 7.2 degC that some tree asks for.
    """
    series, site, today = records.weather, records.site, records.today
    if series is None or not knows_the_year(series):
        return SeasonAhead(None, None, None, ())
    frosts = () if site.is_frost_free else frosts_ahead(series, site, today)
    return SeasonAhead(
        chill=chill_ahead(series, site, today, needs_hours),
        heat=heat_ahead(series, site, today),
        frost=frosts[0] if frosts else None,
        stages=stages_ahead(records),
    )


def of_species(records: Records, species: SpeciesFacts) -> Records:
    """Return the records with the trees of one species, which teach each other.

    All have the figures of ``species``, whatever their own cultivars need.
    """
    kind = tuple(
        replace(tree, species=species)
        for tree in records.trees
        if tree.species.key == species.key
    )
    return replace(records, trees=kind)


@dataclass(frozen=True, slots=True)
class TreeAhead:
    """What is likely of one tree; ``None`` where unknown or not to come.

    ``enough`` is by chill hours, of a winter that has begun and is not over.
    """

    full_bloom: LikelyDay | None
    harvest_begins: LikelyDay | None
    enough: dict[float, LikelyDay]


def tree_ahead(
    records: Records, tree_id: int, needs_hours: Iterable[float]
) -> TreeAhead | None:
    """Return what the season may bring one tree.

    Parameters
    ----------
    records : Records
        Of its site.
    tree_id : int
    needs_hours : iterable of float
        Chill hours that cultivars of its kind ask for.

    Returns
    -------
    TreeAhead or None
        ``None`` for a tree that is not there yet, without weather, and for a pot that
        stands indoors, whose winter is not the one outdoors. A tree too young to bear
        has no harvest.
    """
    tree = next((one for one in records.trees if one.id == tree_id), None)
    weather = records.weather
    if tree is None or weather is None or not knows_the_year(weather):
        return None
    if tree.is_planned(records.today):
        return None
    if tree.place_on(records.today) in INDOORS:
        return None
    stages = stages_ahead(of_species(records, tree.species))
    stage = next(iter(stages), None)
    ripe = None if stage is None else stage.harvest_begins
    on = records.today if ripe is None or ripe.middle is None else ripe.middle
    needs = tuple(needs_hours)
    chill = None
    if needs:
        chill = chill_ahead(weather, records.site, records.today, needs)
    has_begun = chill is not None and chill.hours_fan.start <= records.today
    return TreeAhead(
        full_bloom=None if stage is None else stage.full_bloom,
        harvest_begins=ripe if is_bearing(tree, on) else None,
        enough=chill.enough if chill is not None and has_begun else {},
    )
