"""Which kinds fit a site, and how well: everything gathered once, best first."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from care.facts import CultivarFacts, LayoutFacts, SiteFacts, SpeciesFacts
from care.facts.fit import KindFit
from care.planning.fit_years import fit_years
from care.planning.frost_outlook import with_record_dates
from care.planning.gather import site_facts
from care.planning.gather_layout import layout_facts
from care.planning.kinds import Kinds, kinds_of
from care.planning.rains import usual_rain_mm
from care.planning.weather_days import (
    CLIMATE_YEARS_BACK,
    read_weather,
    weather_series,
)
from care.science.extreme_cold import ZoneEstimate, estimate_zone
from care.science.fit_ground import largest_room_m
from care.science.fit_kinds import FitPlace, fit_kinds, in_order
from care.science.fit_years import FitYears
from orchard.models import Site


@dataclass(frozen=True, slots=True)
class SiteFit:
    """Every kind tried at a site, best first in the ground.

    ``years`` is ``None`` without weather, when nothing that needs it is told.
    """

    site: SiteFacts
    fits: tuple[KindFit, ...]
    years: FitYears | None
    room_m: float | None
    kinds: Kinds = field(repr=False)
    layout: LayoutFacts = field(repr=False)
    rain_mm: tuple[float, ...] | None = None

    @property
    def zone(self) -> ZoneEstimate | None:
        """The hardiness zone the annual minima make."""
        return None if self.years is None else estimate_zone(self.years.minima_c)

    def ordered(self, *, in_pot: bool) -> list[KindFit]:
        """Return the kinds best first in a pot, or in the ground."""
        return in_order(self.fits, in_pot=in_pot)

    def of_species(self, key: str) -> list[KindFit]:
        """Return a species and its cultivars, the species first."""
        mine = [fit for fit in self.fits if fit.species.key == key]
        return sorted(mine, key=lambda fit: fit.cultivar is not None)


def fit_site(
    site: Site, today: date, *, kind_key: str = "", has_place: bool = False
) -> SiteFit:
    """Return how well kinds fit a site, in a constant number of queries.

    Parameters
    ----------
    site : Site
        With its record, or its typed months, or no weather at all.
    today : datetime.date
        Strictly as of it.
    kind_key : str
        Of a species, or of one of its cultivars: it and all its cultivars; empty for
        all kinds.
    has_place : bool
        It stands on the plan already: what room is left beside it says nothing.

    Raises
    ------
    KeyError
        There is no such kind.
    """
    kinds = kinds_of(site.orchard)
    chosen = _chosen(kinds, kind_key)
    readings = read_weather(site, today, CLIMATE_YEARS_BACK)
    series = weather_series(readings, today)
    facts = with_record_dates(site_facts(site), series, today)
    layout = layout_facts(site, today)
    years = rain_mm = None
    if series is not None:
        has_months = readings.normals is not None
        years = fit_years(series, facts, today, has_typed_months=has_months)
        rain_mm = usual_rain_mm(series)
    room_m = None if has_place else largest_room_m(layout)
    place = FitPlace(facts, years, rain_mm, room_m)
    cultivars = _cultivars(kinds, chosen)
    pairs = [
        (species, cultivar)
        for species in chosen
        for cultivar in (None, *cultivars[species.key])
    ]
    return SiteFit(
        site=facts,
        fits=fit_kinds(pairs, cultivars, place),
        years=years,
        room_m=place.room_m,
        kinds=kinds,
        layout=layout,
        rain_mm=None if rain_mm is None else tuple(map(float, rain_mm)),
    )


def _chosen(kinds: Kinds, kind_key: str) -> Sequence[SpeciesFacts]:
    if not kind_key:
        return kinds.all_species
    if kind_key in kinds.catalogue.species:
        return [kinds.species(kind_key)]
    every = (each for of_kind in kinds.catalogue.cultivars.values() for each in of_kind)
    named = {each.key: each.species_key for each in every}
    return [kinds.species(named[kind_key])]


def _cultivars(
    kinds: Kinds, chosen: Sequence[SpeciesFacts]
) -> Mapping[str, tuple[CultivarFacts, ...]]:
    return {species.key: kinds.cultivars_of(species.key) for species in chosen}
