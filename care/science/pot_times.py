"""When the weather is mild enough to pot a tree and leave it outdoors."""

from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from care.facts import Flags, SiteFacts, SpeciesFacts
from care.science.season import Window, is_tender, last_frost_in, season_of
from care.science.weather_generator import Climate

SPAN_DAYS = 730  # either side of today, so that a time under way is whole
# A night in ten is colder than its usual by so many standard deviations (normal).
NIGHT_IN_TEN = 1.28
# Common practice, no source: up to this usual high new roots in a pot cope, and the
# medium of a hardy tree's pot is not to freeze.
MOST_MILD_C, HARDY_NIGHT_C = 32.0, 0.0
LEAST_DAYS = 21  # a shorter mild spell is no time of the year; ours
LEAP_YEAR = 2000


def mild_times(
    species: SpeciesFacts, site: SiteFacts, climate: Climate, today: date
) -> list[Window]:
    """Return the mild times of the years about today, oldest first.

    Nine nights in ten stay above the temperature at which a tender tree comes in, or
    above freezing, and no late frost, one year in ten, is to come; the days are not
    hot. Where the whole year is mild, one window holds two years about today.

    Parameters
    ----------
    species : SpeciesFacts
        Whether it is tender, and when its pot comes in.
    site : SiteFacts
        Hemisphere and frosts.
    climate : Climate
        Usual temperatures of each date, and how far nights depart from them.
    today : datetime.date
    """
    first = today - timedelta(days=SPAN_DAYS)
    days = np.datetime64(first, "D") + np.arange(2 * SPAN_DAYS + 1)
    is_mild = _is_mild(species, climate)[_slots(days)]
    times = _runs(is_mild, first)
    if not is_tender(species):
        return times
    return [_after_frost(time, site) for time in times]


def is_whole_year(window: Window) -> bool:
    """Return whether a mild time has no end."""
    return (window.end - window.start).days >= SPAN_DAYS


def _is_mild(species: SpeciesFacts, climate: Climate) -> Flags:
    """Return which dates of a leap year are mild; shape (366,)."""
    limit_c = HARDY_NIGHT_C
    if is_tender(species) and species.move_in_temp_c is not None:
        limit_c = max(species.move_in_temp_c, HARDY_NIGHT_C)
    night_c = climate.tmin_c - NIGHT_IN_TEN * climate.departure_sd_c
    return np.asarray((night_c >= limit_c) & (climate.tmax_c <= MOST_MILD_C))


def _after_frost(time: Window, site: SiteFacts) -> Window:
    season = season_of(time.start, southern=site.is_southern)
    over = last_frost_in(season, site.on_the_safe_side)
    if over is None or not time.start <= over < time.end:
        return time
    return Window(over + timedelta(days=1), time.end)


def _slots(days: NDArray[np.datetime64]) -> NDArray[np.int64]:
    """Return the place of each day in a leap year, 0 to 365."""
    months = days.astype("datetime64[M]")
    of_leap = np.datetime64(f"{LEAP_YEAR}-01", "M") + months.astype(np.int64) % 12
    begins = of_leap.astype("datetime64[D]") - np.datetime64(f"{LEAP_YEAR}-01-01", "D")
    return np.asarray(begins.astype(np.int64) + (days - months).astype(np.int64))


def _runs(flags: Flags, first: date) -> list[Window]:
    """Return unbroken runs long enough to be a time of the year."""
    padded = np.concatenate([[0], flags.astype(np.int8), [0]])
    edges = np.flatnonzero(np.diff(padded)).reshape(-1, 2)
    return [
        Window(first + timedelta(int(start)), first + timedelta(int(stop) - 1))
        for start, stop in edges
        if stop - start >= LEAST_DAYS
    ]
