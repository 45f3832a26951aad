"""A site's frosts: dates with their probabilities, its zone, and how well it is known.

Only observed days count. A probability needs ten years whose halves are known; with
fewer the latest and the earliest frost seen are all that can be said.
"""

from dataclasses import dataclass, replace
from datetime import date
from math import isnan

import numpy as np

from care.facts import Array, SiteFacts, WeatherSeries
from care.science.cold_nights import Night, forecast_nights
from care.science.extreme_cold import (
    NORMAL_YEARS,
    ZoneEstimate,
    estimate_zone,
    extreme_minima_c,
)
from care.science.frost import (
    FREEZE_F,
    FROST_F,
    HARD_FREEZE_F,
    Freeze,
    fahrenheit_to_c,
    freeze_of,
    weather_service_notice,
)
from care.science.frost_dates import (
    MINIMUM_YEARS,
    FrostDates,
    frost_dates,
    frost_years,
)
from care.science.hot_days import HotYears, hot_years

NIGHTS_AHEAD = 7
ENOUGH_YEARS = MINIMUM_YEARS  # for a chance
MAP_YEARS = NORMAL_YEARS  # of the hardiness map
SAFE, USUAL, SURE = 0.1, 0.5, 0.9  # chance of a frost past the date
BOUNDS_F = {
    Freeze.FROST: FROST_F,
    Freeze.FREEZE: FREEZE_F,
    Freeze.HARD_FREEZE: HARD_FREEZE_F,
}


@dataclass(frozen=True, slots=True)
class FreezeDates:
    """The dates of one bound: safe nine years in ten, usual, and passed in nine."""

    word: Freeze
    threshold_c: float
    safe: FrostDates
    usual: FrostDates
    sure: FrostDates

    @property
    def years(self) -> int:
        """Years of which both halves are known, as far as their number tells."""
        return min(self.usual.spring_years, self.usual.autumn_years)

    @property
    def is_told(self) -> bool:
        """Whether enough years are known for a probability."""
        return self.years >= MINIMUM_YEARS

    @property
    def was_seen(self) -> bool:
        """Whether the record holds any such night."""
        seen = (self.usual.latest_spring_seen, self.usual.earliest_autumn_seen)
        return seen != (None, None)


@dataclass(frozen=True, slots=True)
class FrostOutlook:
    """Frost dates by bound, mildest first, and the zones of the record's extremes."""

    dates: tuple[FreezeDates, ...]
    zone: ZoneEstimate | None
    hot: HotYears | None

    @property
    def freeze(self) -> FreezeDates:
        """The dates at 0 degC, which plans go by."""
        return next(each for each in self.dates if each.word is Freeze.FREEZE)


def frost_outlook(series: WeatherSeries, site: SiteFacts, today: date) -> FrostOutlook:
    """Return what the record of a site says of its frosts.

    Parameters
    ----------
    series : WeatherSeries
        The site's; forecasts, normals and days from today on are not counted.
    site : SiteFacts
        For its hemisphere.
    today : datetime.date
        The day that is not over yet.
    """
    minima = observed_before(series, series.tmin_c, today)
    southern = site.is_southern
    return FrostOutlook(
        dates=tuple(
            _freeze_dates(series.start, minima, word, southern=southern)
            for word in BOUNDS_F
        ),
        zone=estimate_zone(
            extreme_minima_c(series.start, minima, first_month=1 if southern else 7)
        ),
        hot=hot_years(
            series.start,
            observed_before(series, series.tmax_c, today),
            first_month=7 if southern else 1,
        ),
    )


def with_record_dates(
    site: SiteFacts, series: WeatherSeries | None, today: date
) -> SiteFacts:
    """Return the site with frost dates of its record where nobody typed any.

    The usual dates where ten years are known, and beside them those past which a frost
    comes one year in ten. What a person typed stands. A record of ten years without a
    frost makes the site frost-free.
    """
    is_typed = site.last_frost is not None and site.first_frost is not None
    if series is None or site.is_frost_free or is_typed:
        return site
    minima = observed_before(series, series.tmin_c, today)
    found = _freeze_dates(
        series.start, minima, Freeze.FREEZE, southern=site.is_southern
    )
    if not found.is_told:
        return site
    has_spring, has_autumn = site.last_frost is not None, site.first_frost is not None
    is_untouched = not (has_spring or has_autumn)
    return replace(
        site,
        last_frost=site.last_frost if has_spring else found.usual.last_spring,
        first_frost=site.first_frost if has_autumn else found.usual.first_autumn,
        safe_last_frost=None if has_spring else found.safe.last_spring,
        safe_first_frost=None if has_autumn else found.safe.first_autumn,
        is_frost_free=is_untouched and not found.was_seen,
        frost_record_years=found.years,
    )


@dataclass(frozen=True, slots=True)
class FreezeNotice:
    """A night of frost ahead, in the words of a weather service."""

    night: Night
    word: Freeze
    notice: str  # as of :func:`weather_service_notice`


def freeze_notices(
    series: WeatherSeries, site: SiteFacts, today: date
) -> tuple[FreezeNotice, ...]:
    """Return the nights from tomorrow on of frost or worse that a forecast tells."""
    found = []
    for night in forecast_nights(series, site, today, NIGHTS_AHEAD):
        word = freeze_of(night.minimum_c)
        if word is Freeze.NONE or night.day == today:
            continue
        hours = 24.0 * (night.day - today).days  # from one morning to another
        wind_ms = _wind_ms(series, night.day)
        notice = weather_service_notice(night.minimum_c, hours, wind_ms)
        found.append(FreezeNotice(night, word, notice))
    return tuple(found)


def _wind_ms(series: WeatherSeries, day: date) -> float | None:
    if series.wind_ms is None:
        return None
    wind_ms = float(series.wind_ms[series.index(day)])
    return None if isnan(wind_ms) else wind_ms


def observed_before(series: WeatherSeries, values: Array, today: date) -> Array:
    """Return the values of days that are over and were observed, NaN for others."""
    observed = np.array([letter == "o" for letter in series.origin], dtype=bool)
    observed[max(series.index(today), 0) :] = False
    return np.where(observed, values, np.nan)


def _freeze_dates(
    start: date, minima_c: Array, word: Freeze, *, southern: bool
) -> FreezeDates:
    threshold_c = fahrenheit_to_c(BOUNDS_F[word])
    years = frost_years(start, minima_c, threshold_c, southern=southern)
    safe, usual, sure = (
        frost_dates(years, probability, southern=southern)
        for probability in (SAFE, USUAL, SURE)
    )
    return FreezeDates(word, threshold_c, safe, usual, sure)
