"""Whether the rains of a site have set in or ended, and when it last rained well.

Only rain that somebody measured counts; a day without a reading may have been either.
"""

from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from care.facts import Array, MonthDay, RainFacts, RainState, WeatherSeries
from care.science.rain_normals import MONTH_DAYS, YEAR_DAYS, WetSeason, wet_season
from care.science.rain_season import (
    SOAKING_RAIN_MM,
    EndRule,
    Onset,
    OnsetRule,
    RainsEnd,
    days_since_rain,
    dry_runs,
    onset,
    rains_end,
)

# Ours: how much more than its share of the year's days a season must bring of the
# year's rain; winter rains of a mild coast bring a quarter more, even climates a tenth.
MARKED_EXCESS = 0.2
SEARCH_BEFORE_START_DAYS = 45  # ours: early rains come some weeks ahead
SEARCH_BEFORE_END_DAYS = 30  # ours
TOLD_DRY_DAYS = 10  # ours: shorter breaks are not worth calling an end
LEAST_MONTH_DAYS = 28
ONSET_RULE, END_RULE = OnsetRule(), EndRule()
COMMON_YEAR = 2001  # has no 29 February


@dataclass(frozen=True, slots=True)
class Rains:
    """The rains of the season at hand.

    ``searched_from`` is the day from which they are looked for; of the ``days`` since
    then ``read_days`` have a reading. ``usual`` is the wet season of the place.
    """

    state: RainState
    searched_from: date | None = None
    days: int = 0
    read_days: int = 0
    onset: Onset | None = None
    end: RainsEnd | None = None
    onset_rule: OnsetRule = ONSET_RULE
    end_rule: EndRule = END_RULE
    usual: WetSeason | None = None

    @property
    def sure_on(self) -> date | None:
        """The morning on which what is provisional will be known, if all is read."""
        if self.end is not None:
            return self.end.day + timedelta(days=self.end_rule.dry_days + 1)
        if self.onset is not None:
            rule = self.onset_rule
            return self.onset.day + timedelta(days=rule.window_days + rule.look_days)
        return None

    @property
    def is_provisional(self) -> bool:
        """Whether the days that could still prove it wrong have not passed, or read."""
        latest = self.end or self.onset
        return latest is not None and not latest.is_confirmed


@dataclass(frozen=True, slots=True)
class SoakingRain:
    """Days since a rain that soaks; days that nobody read leave a range.

    ``is_on_record`` is false where the record, so long as ``at_most``, has none.
    """

    at_least: int
    at_most: int
    is_on_record: bool
    least_mm: float = SOAKING_RAIN_MM


def rains_of(series: WeatherSeries, today: date) -> Rains:
    """Return whether the rains have set in or ended as of a morning.

    Parameters
    ----------
    series : WeatherSeries
        Usual rain and rain that fell; forecasts are left out.
    today : datetime.date
        Counts only once its rain was read.

    Notes
    -----
    Amounts and dry runs are the defaults of :class:`OnsetRule` and :class:`EndRule`;
    the search dates follow the site's own wet season, as theirs hold only for the
    northern summer's rains. Where it rains twice a year, the greater season counts.
    """
    usual = usual_rain_mm(series)
    if usual is None:
        return Rains(RainState.UNKNOWN)
    season = wet_season(usual)
    if season is None or not _is_marked(season):
        return Rains(RainState.NO_SEASON)
    begin = _calendar_day(season.first_day - SEARCH_BEFORE_START_DAYS)
    start = max(_latest(begin, today), series.start)
    rain_mm = measured_rain_mm(series, today)[series.index(start) :]
    found = Rains(
        RainState.AWAITED,
        start,
        len(rain_mm),
        int(np.sum(~np.isnan(rain_mm))),
        usual=season,
    )
    if not found.read_days:
        return replace(found, state=RainState.UNREAD)
    return _judged(found, season, start, rain_mm)


def soaking_rain(series: WeatherSeries, today: date) -> SoakingRain | None:
    """Return the days since the last soaking rain; ``None`` if none was ever read.

    Parameters
    ----------
    series : WeatherSeries
        Forecasts and usual rain are left out.
    today : datetime.date
        From which the days are counted.
    """
    rain_mm = measured_rain_mm(series, today)
    read = np.flatnonzero(~np.isnan(rain_mm))
    if not read.size:
        return None
    since = rain_mm[int(read[0]) :]
    behind = series.index(today) - (len(rain_mm) - 1)
    at_most = int(days_since_rain(since, missing_is_dry=True)[-1])
    return SoakingRain(
        at_least=int(days_since_rain(since)[-1]) + behind,
        at_most=at_most + behind,
        is_on_record=at_most < len(since),
    )


def dry_days_now(series: WeatherSeries, today: date) -> int:
    """Return how many days in a row were read as dry, up to now.

    None where neither today nor yesterday was read: then nobody knows.
    """
    rain_mm = measured_rain_mm(series, today)
    behind = series.index(today) - len(rain_mm)
    if not len(rain_mm) or behind > 0 or np.isnan(rain_mm[-1]):
        return 0
    # A day that nobody read compares as false: it ends the run.
    return int(dry_runs(rain_mm < ONSET_RULE.rain_day_mm)[-1])


def rain_facts(series: WeatherSeries | None, today: date) -> RainFacts | None:
    """Return the rains as rules may know them, ``None`` without any weather.

    Parameters
    ----------
    series : WeatherSeries or None
        The site's.
    today : datetime.date
        Counts only once its rain was read.
    """
    if series is None:
        return None
    rains, soaking = rains_of(series, today), soaking_rain(series, today)
    return RainFacts(
        state=rains.state,
        began_on=None if rains.onset is None else rains.onset.day,
        ended_on=None if rains.end is None else rains.end.day,
        is_provisional=rains.is_provisional,
        usual_start=None if rains.usual is None else rains.usual.first_day,
        usual_end=None if rains.usual is None else rains.usual.last_day,
        days_since_soaking=None if soaking is None else soaking.at_least,
    )


def _judged(found: Rains, season: WetSeason, start: date, rain_mm: Array) -> Rains:
    length = (season.last_day - season.first_day) % YEAR_DAYS
    usual_last = start + timedelta(days=SEARCH_BEFORE_START_DAYS + length)
    began = onset(
        start, rain_mm, replace(found.onset_rule, search_from=_month_day(start))
    )
    if began is None or began.day > usual_last:
        return found
    found = replace(found, state=RainState.SET_IN, onset=began)
    ends_from = max(
        usual_last - timedelta(days=SEARCH_BEFORE_END_DAYS), began.day + timedelta(1)
    )
    after = (ends_from - start).days
    if after >= len(rain_mm):
        return found
    rule = replace(found.end_rule, search_from=_month_day(ends_from))
    end = rains_end(ends_from, rain_mm[after:], rule)
    if end is None or end.dry_days < TOLD_DRY_DAYS:
        return found
    return replace(found, state=RainState.ENDED, end=end)


def measured_rain_mm(series: WeatherSeries, today: date) -> Array:
    """Return the rain that was read, NaN else; today only once it was read."""
    rain_mm = np.full(max(series.index(today) + 1, 0), np.nan)
    stop = min(len(rain_mm), len(series))
    is_observed = np.array([letter == "o" for letter in series.origin[:stop]])
    rain_mm[:stop] = np.where(is_observed, series.rain_mm[:stop], np.nan)
    return rain_mm[:-1] if np.isnan(rain_mm[-1:]).any() else rain_mm


def usual_rain_mm(series: WeatherSeries) -> Array | None:
    """Return monthly rain of what is usual or fell; ``None`` if a month lacks days."""
    days = np.datetime64(series.start, "D") + np.arange(len(series))
    month = days.astype("datetime64[M]").astype(np.int64) % len(MONTH_DAYS)
    is_forecast = np.array([letter == "f" for letter in series.origin])
    known = ~np.isnan(series.rain_mm) & ~is_forecast
    count = np.bincount(month[known], minlength=len(MONTH_DAYS))
    if np.any(count < LEAST_MONTH_DAYS):
        return None
    total = np.bincount(month[known], series.rain_mm[known], len(MONTH_DAYS))
    return np.asarray(total / count * np.asarray(MONTH_DAYS))


def _is_marked(season: WetSeason) -> bool:
    days = (season.last_day - season.first_day) % YEAR_DAYS + 1
    return season.rain_share - days / YEAR_DAYS >= MARKED_EXCESS


def _calendar_day(day_number: int) -> MonthDay:
    day = date(COMMON_YEAR, 1, 1) + timedelta(days=(day_number - 1) % YEAR_DAYS)
    return _month_day(day)


def _month_day(day: date) -> MonthDay:
    return MonthDay(day.month, day.day)


def _latest(month_day: MonthDay, today: date) -> date:
    """Return the last such day that is not after today."""
    this_year = date(today.year, month_day.month, month_day.day)
    if this_year <= today:
        return this_year
    return date(today.year - 1, month_day.month, month_day.day)
