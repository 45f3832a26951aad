"""What the season is likely to bring a site, or one species of it, in one place."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from care.planning.chill_ahead import chill_ahead
from care.planning.ensemble import (
    ChillAhead,
    FrostAhead,
    HeatAhead,
    Members,
    StageAhead,
)
from care.planning.frost_ahead import frosts_ahead
from care.planning.gather import Records
from care.planning.heat_ahead import heat_ahead
from care.planning.stages_ahead import stages_ahead


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


def season_ahead(records: Records, needs_hours: Iterable[float]) -> SeasonAhead:
    """Return what is likely as of a site's records.

    Parameters
    ----------
    records : Records
        With the site's weather, or nothing is known.
    needs_hours : iterable of float
        Chill hours of 0 to 7.2 degC that some tree asks for.
    """
    series, site, today = records.weather, records.site, records.today
    if series is None:
        return SeasonAhead(None, None, None, ())
    frosts = () if site.is_frost_free else frosts_ahead(series, site, today)
    return SeasonAhead(
        chill=chill_ahead(series, site, today, needs_hours),
        heat=heat_ahead(series, site, today),
        frost=frosts[0] if frosts else None,
        stages=stages_ahead(records),
    )


def of_species(records: Records, key: str) -> Records:
    """Return the records with the trees of one species, which teach each other."""
    kind = tuple(tree for tree in records.trees if tree.species.key == key)
    return replace(records, trees=kind)
