"""Each plant's leaf and crop coefficient, day by day, as its place's climate bids."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from care.facts import Array, Flags, SiteFacts
from care.planning.root_zones import Plant
from care.planning.site_weather import SiteWeather
from care.science.canopy import (
    Stages,
    crop_coefficient,
    is_leafless,
    season_day,
    stages_of,
)
from care.science.kc_climate import climate_adjusted_kc, climate_term

LEAST_DAYS = 30  # with wind and humidity in a stage, for a mean of it; no source


@dataclass(frozen=True, slots=True)
class LeafYear:
    """One plant's year: its stages, and the coefficients that hold for it here."""

    stages: Stages
    kc_ini: float
    kc_mid: float
    kc_end: float
    is_adjusted: bool  # for wind and humidity


@dataclass(frozen=True, slots=True)
class LeafDays:
    """Shape (days, plants), and the years they come from."""

    kc: Array
    is_leafless: Flags
    years: tuple[LeafYear, ...]
    seasons: Mapping[Stages, Array]  # day within the crop's year, of each row

    def season_day(self, row: int, column: int) -> int:
        """Return the day within one plant's year on a day of the calendar, from 1."""
        return int(self.seasons[self.years[column].stages][row])


def _stage_terms(
    stages: Stages, season: Array, weather: SiteWeather
) -> tuple[float, float] | None:
    """Return the climate terms of the middle and the late stage, if both are known."""
    is_known = ~np.isnan(weather.wind_ms + weather.minimum_humidity_percent)
    if not is_known.any():
        return None
    begin = stages.initial + stages.development
    end = begin + stages.middle
    terms = []
    for first, last in ((begin, end), (end, stages.length)):
        inside = is_known & (season > first) & (season <= last)
        if inside.sum() < LEAST_DAYS:
            return None
        wind = float(weather.wind_ms[inside].mean())
        driest = float(weather.minimum_humidity_percent[inside].mean())
        terms.append(float(climate_term(wind, driest)))
    return terms[0], terms[1]


def _year_of(
    plant: Plant, stages: Stages, terms: tuple[float, float] | None
) -> LeafYear:
    species = plant.chief.species
    kc_mid, kc_end = species.kc_mid, species.kc_end
    if terms is not None:
        kc_mid = float(climate_adjusted_kc(kc_mid, terms[0], plant.height_m))
        kc_end = float(climate_adjusted_kc(kc_end, terms[1], plant.height_m))
    return LeafYear(stages, species.kc_ini, kc_mid, kc_end, terms is not None)


def _curve(year: LeafYear, season: Array) -> Array:
    return crop_coefficient(
        season,
        year.stages,
        kc_ini=year.kc_ini,
        kc_mid=year.kc_mid,
        kc_end=year.kc_end,
    )


def lay_out_leaf(
    plants: Sequence[Plant], site: SiteFacts, weather: SiteWeather, calendar: slice
) -> LeafDays:
    """Return the leaf of each plant on the days of ``calendar``.

    Parameters
    ----------
    plants : sequence of Plant
    site : SiteFacts
        For its latitude.
    weather : SiteWeather
        Of the whole record: wind and humidity of every year make a stage's mean.
        Without thirty days of them in the middle and in the late stage the table's
        coefficients stand as they are.
    calendar : slice
        The days that are folded.

    Returns
    -------
    LeafDays
        ``kc`` counts the first year's smaller demand of a fresh tree.
        Source: Allen et al. (1998), FAO-56, Eq. 62, 65 and 66.
    """
    terms: dict[Stages, tuple[float, float] | None] = {}
    seasons: dict[Stages, Array] = {}
    bare: dict[Stages, Flags] = {}
    curves: dict[tuple[LeafYear, float], Array] = {}
    years = []
    for plant in plants:
        species = plant.chief.species
        crop = species.kc_source.partition(": ")[2]
        stages = stages_of(species.leaf, site.latitude_deg, crop)
        if stages not in seasons:
            season = season_day(
                weather.day_number, stages, is_southern=site.is_southern
            )
            terms[stages] = _stage_terms(stages, season, weather)
            seasons[stages] = season[calendar]
            bare[stages] = is_leafless(seasons[stages], stages)
        year = _year_of(plant, stages, terms[stages])
        years.append(year)
        key = (year, plant.stock_factor)
        if key not in curves:
            curves[key] = plant.stock_factor * _curve(year, seasons[stages])
    pairs = zip(years, plants, strict=True)
    columns = [curves[year, plant.stock_factor] for year, plant in pairs]
    return LeafDays(
        kc=np.stack(columns, axis=1),
        is_leafless=np.stack([bare[year.stages] for year in years], axis=1),
        years=tuple(years),
        seasons=seasons,
    )
