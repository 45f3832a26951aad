"""A site's winter chill: so far, and that of earlier winters.

A day that nobody observed may stand in the series as a forecast or as the usual
weather of its date; one of which nothing is known is in no sum. All three are counted
beside it, so that a low sum is never mistaken for a mild winter.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from care.facts import Array, SiteFacts, WeatherSeries
from care.science.chill import (
    dynamic_portions,
    hours_between,
    utah_units,
)
from care.science.hourly import NightCurve, hourly_temperatures_c
from care.science.season import Window, month_window, season_of
from care.science.usual_days import Places, worth_with_departures

# Common practice, no source: when chill is counted in the north.
FIRST_MONTH, LAST_MONTH = 11, 3
MOST_UNOBSERVED_DAYS = 5  # in a past winter that counts; ours
ENOUGH_SHARE = 0.5  # of the days, to name a sum at all; ours


@dataclass(frozen=True, slots=True)
class Chill:
    """Chill between the two night curves: hours of 0 to 7.2 degC, portions, Utah units.

    Units fall below zero where winters are mild, and then mean nothing.
    """

    hours_low: float
    hours_high: float
    portions_low: float
    portions_high: float
    units_low: float
    units_high: float


@dataclass(frozen=True, slots=True)
class Winter:
    """One winter's chill and how well it is known; ``days`` are those that are over.

    ``estimated_days`` stand in the series as a forecast or as the usual weather;
    ``missing_days`` are in no sum.
    """

    first: date
    last: date
    days: int
    observed_days: int
    estimated_days: int
    chill: Chill

    @property
    def missing_days(self) -> int:
        """Days of which nothing is known."""
        return self.days - self.observed_days - self.estimated_days

    @property
    def is_over(self) -> bool:
        """Whether its last day has passed."""
        return self.days == (self.last - self.first).days + 1

    @property
    def is_told(self) -> bool:
        """Whether enough of its days are known, or usual, to name a sum."""
        known = self.observed_days + self.estimated_days
        return known > 0 and known >= ENOUGH_SHARE * self.days

    @property
    def is_observed(self) -> bool:
        """Whether so few days went unobserved that other winters may lean on it."""
        return self.days - self.observed_days <= MOST_UNOBSERVED_DAYS


@dataclass(frozen=True, slots=True)
class WinterOutlook:
    """The winter that began last, and the observed ones before it, newest first.

    ``left_out`` counts earlier winters of which too many days went unobserved.
    ``hours_by_day`` is (night curves, winters, days), the latest winter first and then
    ``past``; 0 where unknown or still to come.
    """

    latest: Winter
    past: tuple[Winter, ...]
    left_out: int
    hours_by_day: Array = field(compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class DailyChill:
    """Worth of each day, arrays (night curves, spans, days); 0 where unknown."""

    hours: Array
    portions: Array
    units: Array
    is_known: Array  # (spans, days), 0 or 1


def winter_outlook(
    series: WeatherSeries, site: SiteFacts, today: date
) -> WinterOutlook:
    """Return a site's chill as of a morning.

    Parameters
    ----------
    series : WeatherSeries
        The site's, of any length; days from today on are not counted.
    site : SiteFacts
        For its latitude.
    today : datetime.date
        The day that is not over yet.

    Notes
    -----
    The season runs from 1 November to 31 March, in the south from 1 May to 30
    September.
    """
    spans = _spans(series, today, southern=site.is_southern)
    yesterday = today - timedelta(days=1)
    chill = chill_by_day(series, site.latitude_deg, spans, until=yesterday)
    winters = [
        _winter(series, span, yesterday, chill, place)
        for place, span in enumerate(spans)
    ]
    latest, earlier = winters[0], winters[1:]
    places = [place for place, one in enumerate(winters) if place and one.is_observed]
    return WinterOutlook(
        latest=latest,
        past=tuple(winters[place] for place in places),
        left_out=sum(one.observed_days > 0 for one in earlier) - len(places),
        hours_by_day=chill.hours[:, [0, *places]],
    )


def chill_by_day(
    series: WeatherSeries, latitude_deg: float, spans: Sequence[Window], *, until: date
) -> DailyChill:
    """Return the chill of each day of some spans, by both night curves.

    Parameters
    ----------
    series : WeatherSeries
        Days around a span shape the nights at its ends. A day whose low lies above
        its high, as two sources may have it, counts as unknown.
    latitude_deg : float
        South negative [deg].
    spans : sequence of Window
        Of any length; the Dynamic model starts anew in each.
    until : datetime.date
        The last day that counts.

    Returns
    -------
    DailyChill
        Shorter spans are filled up with days that are unknown. Hours and units of
        usual days are the mean over their departures; portions go by the smooth days, which
        overstates them by a twentieth.
    """
    places = _places(series, spans, until)
    is_sound = series.tmin_c <= series.tmax_c
    tmin_c = np.where(is_sound, series.tmin_c, np.nan)
    tmax_c = np.where(is_sound, series.tmax_c, np.nan)
    days = np.datetime64(series.start, "D") + np.arange(len(series))
    numbers = (days - days.astype("datetime64[Y]")).astype(np.float64) + 1

    def course(span: Places, departure_c: float) -> Array:
        """Return the hours of some days by both curves if all were warmer."""
        low, high = tmin_c[span] + departure_c, tmax_c[span] + departure_c
        return np.asarray(
            [
                hourly_temperatures_c(low, high, latitude_deg, numbers[span], night)
                for night in NightCurve
            ]
        )

    def worth(span: Places, departure_c: float) -> Array:
        hours = course(span, departure_c)
        worths = (hours_between(hours), utah_units(hours))
        return np.asarray([each.sum(axis=2) for each in worths])

    is_usual = np.array([letter == "n" for letter in series.origin])
    chill_hours, units = worth_with_departures(worth, is_usual)
    temperature_c = _at(
        places, course(np.arange(len(series)), 0.0)
    )  # (curves, spans, days, 24)
    in_order = np.moveaxis(temperature_c, (2, 3), (0, 1))
    running = in_order.reshape(-1, *in_order.shape[2:])
    portions, _ = dynamic_portions(running)
    by_day = np.nansum(portions.reshape(in_order.shape), axis=1)
    return DailyChill(
        hours=np.nan_to_num(_at(places, chill_hours)),
        units=np.nan_to_num(_at(places, units)),
        portions=np.asarray(np.moveaxis(by_day, 0, 2)),
        is_known=(~np.isnan(temperature_c[0, :, :, 0])).astype(np.float64),
    )


def _at(places: NDArray[np.int64], by_day: Array) -> Array:
    """Return each curve's values of the days at some places, NaN where it is -1."""
    unknown = np.full_like(by_day[:, :1], np.nan)
    return np.asarray(np.concatenate([by_day, unknown], axis=1)[:, places])


def _spans(series: WeatherSeries, today: date, *, southern: bool) -> list[Window]:
    """Return the winter that began last and those of the record, newest first."""
    latest = season_of(today, southern=southern)
    spans = [
        month_window(season, FIRST_MONTH, LAST_MONTH, southern=southern)
        for season in range(latest, series.start.year - 1, -1)
    ]
    return [span for span in spans if span.end >= series.start or span is spans[0]]


def _places(
    series: WeatherSeries, spans: Sequence[Window], until: date
) -> NDArray[np.int64]:
    """Return the place of each day in the series, -1 for none; (spans, days)."""
    longest = max((span.end - span.start).days + 1 for span in spans)
    firsts = np.array([series.index(span.start) for span in spans])[:, None]
    lasts = np.array([series.index(min(span.end, until)) for span in spans])[:, None]
    places = firsts + np.arange(longest)
    is_inside = (places >= 0) & (places < len(series)) & (places <= lasts)
    return np.where(is_inside, places, -1)


def _winter(
    series: WeatherSeries, span: Window, until: date, chill: DailyChill, place: int
) -> Winter:
    days = max((min(span.end, until) - span.start).days + 1, 0)
    known = [
        series.origin_on(span.start + timedelta(days=int(day))).value
        for day in np.flatnonzero(chill.is_known[place, :days])
    ]
    observed = known.count("observed")
    return Winter(
        first=span.start,
        last=span.end,
        days=days,
        observed_days=observed,
        estimated_days=len(known) - observed,
        chill=_sum(chill, place),
    )


def _sum(chill: DailyChill, place: int) -> Chill:
    hours = chill.hours[:, place].sum(axis=1)
    portions = chill.portions[:, place].sum(axis=1)
    units = chill.units[:, place].sum(axis=1)
    return Chill(
        hours_low=float(hours.min()),
        hours_high=float(hours.max()),
        portions_low=float(portions.min()),
        portions_high=float(portions.max()),
        units_low=float(units.min()),
        units_high=float(units.max()),
    )
