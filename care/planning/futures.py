"""How a site's weather may go on from a morning: forecast, past years, made-up years.

Every course shares the forecast. After it each fully observed earlier year of the
record carries on; fewer than ten years are also taken some days earlier and later, and
where there are fewer than five, made-up years of the place fill the number up. They
stand behind the series' end, so that a future is but a choice of days.
"""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from care.facts import SiteFacts, WeatherSeries
from care.planning.ensemble import Members
from care.planning.site_weather import SiteWeather, with_generated
from care.science.usual_climate import usual_climate
from care.science.weather_generator import (
    Climate,
    GeneratedDays,
    generate_days,
)

Whole = NDArray[np.int64]

DAY_SHIFTS = (-10, -5, 0, 5, 10)  # few years tell more when also moved by days
ENOUGH_YEARS = 10  # from here on, moving days adds nothing worth its time
# Below it made-up years join. Five years are acceptable for pots and new trees only;
# ours, by the error of quantiles from few years.
FEW_YEARS = 5
COURSES = 30  # to be filled up to, where years are few
# Resolution of a place's seed, in degrees and metres.
SEED_DEGREES, SEED_LOWEST_M = 1e-4, -1000.0


@dataclass(frozen=True, slots=True)
class Futures:
    """Which day of the weather stands for each day ahead; shape (members, days).

    ``past_years`` real years and ``generated`` made-up ones lie behind the members;
    without either there is one member, and nothing beyond what is known.
    """

    picks: Whole
    past_years: int = 0
    generated: int = 0

    @property
    def days(self) -> int:
        """How many days ahead there are."""
        return int(self.picks.shape[1])

    @property
    def is_ensemble(self) -> bool:
        """Whether the members tell what is likely."""
        return self.past_years + self.generated > 0

    @property
    def members(self) -> Members:
        """How the members came to be."""
        return Members(len(self.picks), self.past_years, self.generated)


def from_the_middle(weather: SiteWeather, futures: Futures) -> Whole:
    """Return the members, neither dry nor wet ones first; shape (members,).

    By how near their rain less evapotranspiration comes to the middle of all: where
    several bring a tree's day, the most ordinary one shall tell what follows.
    """
    gain_mm = (weather.rain_mm - weather.et0_mm)[futures.picks].sum(axis=1)
    return np.argsort(np.abs(gain_mm - np.median(gain_mm)), kind="stable")


@dataclass(frozen=True, slots=True)
class PastYears:
    """Days of the series that stand for days ahead; (courses, days)."""

    picks: Whole
    years: int

    @property
    def missing(self) -> int:
        """How many made-up courses must join."""
        return max(COURSES - len(self.picks), 0) if self.years < FEW_YEARS else 0


def past_years(series: WeatherSeries, beyond: Whole, today_index: int) -> PastYears:
    """Return the earlier years of a record that may stand for days ahead.

    Parameters
    ----------
    series : WeatherSeries
    beyond : array (days,)
        Places of the days ahead, in order; they may lie behind the series' end.
    today_index : int
        Only days before it are taken, and only where every one was observed.
    """
    if not len(beyond):
        return PastYears(np.zeros((0, 0), dtype=np.int64), 0)
    observed = np.array([letter == "o" for letter in series.origin], dtype=bool)
    usable = observed & ~np.isnan(series.rain_mm + series.tmin_c + series.tmax_c)
    end = min(today_index, len(series))  # a series may have ended long ago

    def found(shifts: tuple[int, ...]) -> list[tuple[int, Whole]]:
        moved = (
            (years, beyond - round(365.25 * years) + shift)
            for years in range(1, len(series) // 365 + 2)
            for shift in shifts
        )
        return [
            (years, picks)
            for years, picks in moved
            if picks[0] >= 0 and picks[-1] < end and usable[picks].all()
        ]

    in_step = found((0,))
    kept = in_step if len(in_step) >= ENOUGH_YEARS else found(DAY_SHIFTS)
    picks = [each for _years, each in kept]
    return PastYears(
        np.array(picks, dtype=np.int64).reshape(-1, len(beyond)),
        len({years for years, _each in kept}),
    )


def site_seed(site: SiteFacts) -> int:
    """Return the seed of a place: the same every day, whatever its record holds."""
    degrees = round((site.latitude_deg + 90) / SEED_DEGREES)
    metres = round(max(site.elevation_m - SEED_LOWEST_M, 0.0))
    return degrees * 10_000 + metres


def made_up(
    site: SiteFacts, climate: Climate, first: date, days: int, courses: int
) -> GeneratedDays:
    """Return made-up weather of a place, always the same for the same days."""
    return generate_days(climate, first, days, courses=courses, seed=site_seed(site))


def imagine_futures(
    site: SiteFacts,
    series: WeatherSeries,
    weather: SiteWeather,
    *,
    today_index: int,
    horizon_days: int,
) -> tuple[SiteWeather, Futures]:
    """Return how the weather may go on from today, today included.

    Parameters
    ----------
    site : SiteFacts
    series : WeatherSeries
        Its end is the horizon's.
    weather : SiteWeather
        Of the series.
    today_index : int
        Its place in the series.
    horizon_days : int

    Returns
    -------
    SiteWeather
        As given, with made-up days behind the series' end where any joined.
    Futures
        The forecast is the same for every member. After it come past years, and where
        they are few made-up ones; where the climate is unknown too, the series itself
        goes on as the one member.
    """
    stop = min(today_index + horizon_days + 1, len(series))
    days = np.arange(today_index, stop)
    known = [i for i, letter in enumerate(series.origin[:stop]) if letter in "of"]
    last_known = max(known, default=-1)
    beyond = days[days > last_known]
    if not len(beyond):
        return weather, Futures(days[None, :])
    past = past_years(series, beyond, today_index)
    climate = usual_climate(series) if past.missing else None
    picks = past.picks
    if climate is not None:
        first = series.start + timedelta(days=int(beyond[0]))
        made = made_up(site, climate, first, len(beyond), past.missing)
        weather = with_generated(site, weather, made, weather.day_number[beyond])
        block = np.arange(past.missing * len(beyond)).reshape(past.missing, -1)
        picks = np.concatenate([picks, len(series) + block])
    if not len(picks):
        return weather, Futures(days[None, :])
    near = np.broadcast_to(
        days[days <= last_known], (len(picks), len(days) - len(beyond))
    )
    return weather, Futures(
        np.concatenate([near, picks], axis=1),
        past_years=past.years,
        generated=0 if climate is None else past.missing,
    )
