"""Bud break and bloom of one spring: rest ended by chill, then warmth.

The two follow each other: from the start of the care year hours of 0 to 7.2 degC are
counted until the need is met, then growing degree hours until the stage. Both needs
hold only with this reckoning, from two temperatures a day by the continuous night.
"""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from care.facts import Array, SpeciesFacts, WeatherSeries
from care.science.chill import hours_between
from care.science.heat import growing_degree_hours
from care.science.hourly import hourly_temperatures_c
from care.science.season import CARE_YEAR_FIRST_MONTH, season_date
from care.science.usual_days import Places, worth_with_departures

MOST_UNKNOWN_DAYS = 5  # between the care year's start and a stage; ours
# Ours: who plants chooses a cultivar whose chill the place brings even in a mild winter.
SUITED_SHARE = 0.7
NEED_STEP_HOURS = 50.0  # so that a need does not move with every day's weather; ours
# Flower buds of a nectarine open at 2557 of the 5518 degree hours that full bloom takes:
# Miranda, Santesteban and Royo (2013), Agric. For. Meteorol. 178-179:129-139, Big Top,
# stages D and F. Leaves of most fruit trees come about then; common practice, no source.
BUD_BREAK_SHARE = 2557 / 5518
PETAL_FALL_DAYS = 7  # after full bloom; common practice, no source
# Common practice, no source: what brings leaves down.
HARD_FREEZE_C, FALL_DAYS = -2.2, 10
COLD_WEEK_C, WEEK_DAYS = 5.0, 7

# Growing degree hours from the end of rest to full bloom, by species. Sweet cherry:
# fitted by us to ten years of bloom dates of Schneiders at Klein-Altendorf, 1999-2008
# (University of Bonn; Luedeling, Kunz and Blanke, 2013), 5 days out in years left out
# of the fit. Nectarine and peach: fitted to the dates 2001-2010 of Big Top in Tudela
# (Miranda and others, 2013), 3 days out.
BLOOM_DEGREE_HOURS = {"sweet_cherry": 5170.0, "nectarine": 5520.0, "peach": 5520.0}
# From memory: the order in which species bloom, about ten days a step.
REMEMBERED_DEGREE_HOURS = {
    "almond": 4000.0,
    "apricot": 4600.0,
    "japanese_plum": 4800.0,
    "european_plum": 5200.0,
    "pear": 5200.0,
    "asian_pear": 5000.0,
    "sour_cherry": 5600.0,
    "apple": 6600.0,
    "quince": 7400.0,
}


@dataclass(frozen=True, slots=True)
class DailyWarmth:
    """What each day of a series is worth; arrays (days,), NaN where unknown."""

    start: date
    chill_hours: Array
    degree_hours: Array

    def place(self, day: date) -> int:
        """Return the position of ``day``; may lie outside the arrays."""
        return (day - self.start).days


@dataclass(frozen=True, slots=True)
class SpringNeed:
    """Chill [h] that ends rest, and the warmth [degC h] from there to a stage."""

    chill_hours: float
    degree_hours: float


def daily_warmth(series: WeatherSeries, latitude_deg: float) -> DailyWarmth:
    """Return chill and growing degree hours of every day of a series.

    Parameters
    ----------
    series : WeatherSeries
        A day whose low lies above its high counts as unknown; usual days count by
        the mean over their departures.
    latitude_deg : float
        South negative [deg].
    """
    is_sound = series.tmin_c <= series.tmax_c
    tmin_c = np.where(is_sound, series.tmin_c, np.nan)
    tmax_c = np.where(is_sound, series.tmax_c, np.nan)
    days = np.datetime64(series.start, "D") + np.arange(len(series))
    numbers = (days - days.astype("datetime64[Y]")).astype(np.float64) + 1

    def worth(span: Places, departure_c: float) -> Array:
        hours = hourly_temperatures_c(
            tmin_c[span] + departure_c,
            tmax_c[span] + departure_c,
            latitude_deg,
            numbers[span],
        )
        worths = (hours_between(hours), growing_degree_hours(hours))
        return np.asarray([each.sum(axis=1) for each in worths])

    is_usual = np.array([letter == "n" for letter in series.origin])
    chill, degree = worth_with_departures(worth, is_usual)
    return DailyWarmth(series.start, chill, degree)


def bloom_degree_hours(species: SpeciesFacts) -> float | None:
    """Return the warmth from the end of rest to full bloom, ``None`` if unknown."""
    return BLOOM_DEGREE_HOURS.get(species.key) or REMEMBERED_DEGREE_HOURS.get(
        species.key
    )


def usual_chill_hours(warmth: DailyWarmth, *, southern: bool) -> float | None:
    """Return the middle of the winters that a series holds, ``None`` without any.

    Hours from November to March, in the south from May to September.
    """
    totals = []
    for season in seasons_of(warmth):
        first = warmth.place(season_date(season, 11, 1, southern=southern))
        last = warmth.place(season_date(season, 3, 31, southern=southern))
        if first < 0 or last >= len(warmth.chill_hours):
            continue
        winter = warmth.chill_hours[first : last + 1]
        if np.isnan(winter).sum() <= MOST_UNKNOWN_DAYS:
            totals.append(float(np.nansum(winter)))
    return float(np.median(totals)) if totals else None


def seasons_of(warmth: DailyWarmth) -> range:
    """Return every season whose autumn or spring a series may hold."""
    end = warmth.start + timedelta(days=len(warmth.chill_hours))
    return range(warmth.start.year, end.year + 2)


def chill_need_hours(
    least: float | None, most: float | None, usual_hours: float | None
) -> float | None:
    """Return the chill that ends rest at one place, ``None`` if it brings too little.

    Parameters
    ----------
    least, most : float or None
        What cultivars of the species need [h]; ``None`` where the catalogue is silent.
    usual_hours : float or None
        What the place usually brings [h].

    Returns
    -------
    float or None
        The middle of the cultivars, but no more than the share of the usual winter
        that a cultivar chosen for the place would need.
    """
    if least is None or usual_hours is None or usual_hours < least:
        return None
    middle = (least + (least if most is None else most)) / 2
    suited = round(SUITED_SHARE * usual_hours / NEED_STEP_HOURS) * NEED_STEP_HOURS
    return max(least, min(middle, suited))


def end_of_rest(
    warmth: DailyWarmth, season: int, chill_hours: float, *, southern: bool
) -> int | None:
    """Return the position of the day that ends the rest before a season, or ``None``.

    ``None`` where the series does not hold the autumn before, misses too many of its
    days, or ends before the need is met.
    """
    first = warmth.place(
        season_date(season, CARE_YEAR_FIRST_MONTH, 1, southern=southern)
    )
    if first < 0:
        return None
    return _first_met(warmth.chill_hours[first : first + 365], chill_hours, first)


def stage_reached(
    warmth: DailyWarmth, season: int, need: SpringNeed, *, southern: bool
) -> date | None:
    """Return the day on which a need is met in one season, or ``None``.

    Parameters
    ----------
    warmth : DailyWarmth
        With the days from the autumn before the season on.
    season : int
        Year in which growth starts.
    need : SpringNeed
        By this module's reckoning.
    southern : bool
        Moves the care year by half a year.
    """
    rest = end_of_rest(warmth, season, need.chill_hours, southern=southern)
    if rest is None:
        return None
    after = rest + 1
    met = _first_met(warmth.degree_hours[after : after + 365], need.degree_hours, after)
    return None if met is None else warmth.start + timedelta(days=met)


def warmth_reached(warmth: DailyWarmth, day: date, degree_hours: float) -> date | None:
    """Return the day on which so much warmth has come since a day, or ``None``.

    Parameters
    ----------
    warmth : DailyWarmth
        With the days after ``day``.
    day : datetime.date
        Of a stage that was seen; its own warmth is not counted.
    degree_hours : float
        From that stage to the one asked for [degC h].
    """
    after = warmth.place(day) + 1
    if after < 0:
        return None
    met = _first_met(warmth.degree_hours[after : after + 365], degree_hours, after)
    return None if met is None else warmth.start + timedelta(days=met)


def usual_stage(
    warmth: DailyWarmth, season: int, need: SpringNeed, *, southern: bool
) -> date | None:
    """Return the day of a stage in a season beyond the series, by those within it.

    The middle of the days on which the other seasons met the need, ``None`` if none
    did. Parameters as of :func:`stage_reached`.
    """
    since = []
    for other in seasons_of(warmth):
        day = stage_reached(warmth, other, need, southern=southern)
        if day is not None:
            start = season_date(other, CARE_YEAR_FIRST_MONTH, 1, southern=southern)
            since.append((day - start).days)
    if not since:
        return None
    start = season_date(season, CARE_YEAR_FIRST_MONTH, 1, southern=southern)
    return start + timedelta(days=round(float(np.median(since))))


def leaves_fallen(series: WeatherSeries, season: int, *, southern: bool) -> date | None:
    """Return the day by which cold has bared a deciduous tree, ``None`` if none has.

    Ten days after the first night of -2.2 degC or colder, or once a week's mean has
    fallen to 5 degC, whichever comes first, from mid-September to January (in the
    south from mid-March to July). Common practice, no source; where winters are mild
    leaves hang on for weeks more. Usual days count for nothing: their smooth nights
    never freeze first.
    """
    first = series.index(season_date(season, 9, 15, southern=southern))
    last = series.index(season_date(season + 1, 1, 31, southern=southern))
    if first < WEEK_DAYS or first >= len(series):
        return None
    span = slice(first, min(last + 1, len(series)))
    is_usual = np.array([letter == "n" for letter in series.origin])
    tmin_c = np.where(is_usual, np.nan, series.tmin_c)
    bare = []
    frozen = np.flatnonzero(tmin_c[span] <= HARD_FREEZE_C)
    if frozen.size:
        bare.append(first + int(frozen[0]) + FALL_DAYS)
    mean_c = (tmin_c + series.tmax_c) / 2
    week_c = np.lib.stride_tricks.sliding_window_view(mean_c, WEEK_DAYS).mean(axis=1)
    cold = np.flatnonzero(
        week_c[first - WEEK_DAYS + 1 : span.stop - WEEK_DAYS + 1] <= COLD_WEEK_C
    )
    if cold.size:
        bare.append(first + int(cold[0]))
    return series.start + timedelta(days=min(bare)) if bare else None


def usual_leaf_drop(
    series: WeatherSeries, season: int, *, southern: bool
) -> date | None:
    """Return the middle of the days on which other autumns bared the trees, if any."""
    since = []
    for other in range(series.start.year - 1, series.end.year + 1):
        day = leaves_fallen(series, other, southern=southern)
        if day is not None:
            start = season_date(other + 1, 11, 1, southern=southern)
            since.append((day - start).days)
    if not since:
        return None
    start = season_date(season + 1, 11, 1, southern=southern)
    return start + timedelta(days=round(float(np.median(since))))


def degree_hours_until(
    warmth: DailyWarmth,
    season: int,
    chill_hours: float,
    day: date,
    *,
    southern: bool,
) -> float | None:
    """Return the warmth from the end of rest through a day that a stage was seen.

    ``None`` where the rest ended after it, or too many days are unknown: such a year
    teaches nothing. Otherwise what :func:`stage_reached` needs to meet that day.
    """
    rest = end_of_rest(warmth, season, chill_hours, southern=southern)
    last = warmth.place(day)
    if rest is None or not rest < last < len(warmth.degree_hours):
        return None
    span = warmth.degree_hours[rest + 1 : last + 1]
    if np.isnan(span).sum() > MOST_UNKNOWN_DAYS:
        return None
    return float(np.nansum(span))


def _first_met(worth: Array, need: float, offset: int) -> int | None:
    """Return the position of the day by whose end a sum is met."""
    is_met = np.nancumsum(worth) >= need - 1e-6
    if not np.any(is_met):
        return None
    place = int(np.argmax(is_met))
    if np.isnan(worth[: place + 1]).sum() > MOST_UNKNOWN_DAYS:
        return None
    return offset + place
