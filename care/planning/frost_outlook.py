"""A site's frosts: dates with their probabilities, its zone, and how well it is known.

Only observed days count. A probability needs ten years whose halves are known; with
fewer the latest and the earliest frost seen are all that can be said.
"""

from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from care.facts import Array, SiteFacts, WeatherSeries
from care.science.extreme_cold import ZoneEstimate, estimate_zone, extreme_minima_c
from care.science.frost import (
    FREEZE_F,
    FROST_F,
    HARD_FREEZE_F,
    Freeze,
    fahrenheit_to_c,
)
from care.science.frost_dates import MINIMUM_YEARS, FrostDates, frost_dates, frost_years

SAFE, USUAL, BOLD = 0.1, 0.5, 0.9  # of a frost past the date
BOUNDS_F = {
    Freeze.FROST: FROST_F,
    Freeze.FREEZE: FREEZE_F,
    Freeze.HARD_FREEZE: HARD_FREEZE_F,
}


@dataclass(frozen=True, slots=True)
class FreezeDates:
    """The dates of one bound: safe nine years in ten, usual, and safe one in ten."""

    word: Freeze
    threshold_c: float
    safe: FrostDates
    usual: FrostDates
    bold: FrostDates

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
    """Frost dates by bound, mildest first, and the hardiness zone of the record."""

    dates: tuple[FreezeDates, ...]
    zone: ZoneEstimate | None

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
    minima = _observed_minima_c(series, today)
    southern = site.is_southern
    return FrostOutlook(
        dates=tuple(
            _freeze_dates(series.start, minima, word, southern=southern)
            for word in BOUNDS_F
        ),
        zone=estimate_zone(
            extreme_minima_c(series.start, minima, first_month=1 if southern else 7)
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
    minima = _observed_minima_c(series, today)
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


def _observed_minima_c(series: WeatherSeries, today: date) -> Array:
    observed = np.array([letter == "o" for letter in series.origin], dtype=bool)
    observed[max(series.index(today), 0) :] = False
    return np.where(observed, series.tmin_c, np.nan)


def _freeze_dates(
    start: date, minima_c: Array, word: Freeze, *, southern: bool
) -> FreezeDates:
    threshold_c = fahrenheit_to_c(BOUNDS_F[word])
    years = frost_years(start, minima_c, threshold_c, southern=southern)
    safe, usual, bold = (
        frost_dates(years, probability, southern=southern)
        for probability in (SAFE, USUAL, BOLD)
    )
    return FreezeDates(word, threshold_c, safe, usual, bold)
