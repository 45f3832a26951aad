"""Hot days ahead: how hot, how dry, and which of them harm a plant."""

from dataclasses import dataclass
from datetime import date, timedelta
from math import isnan

from care.facts import Origin, WeatherSeries
from care.science.evapotranspiration import saturation_vapour_pressure_kpa

# Common practice, no source: no species' own limit is in the catalogue.
ALARM_C = 35.0
# Ours: from here the air dries leaves faster than roots can follow, heat or not.
DRY_ALARM_KPA = 4.0
DRY_LEAST_C = 32.0
# A hot day within a week of the last belongs to the same spell; no source.
SPELL_GAP_DAYS = 7


@dataclass(frozen=True, slots=True)
class HotDay:
    """A day's maximum [degC] and its afternoon's vapour pressure deficit [kPa]."""

    day: date
    maximum_c: float
    deficit_kpa: float | None

    @property
    def is_dry(self) -> bool:
        """Whether it is the dryness that alarms, short of the heat that would."""
        is_warm = DRY_LEAST_C <= self.maximum_c < ALARM_C
        deficit = self.deficit_kpa
        return is_warm and deficit is not None and deficit >= DRY_ALARM_KPA

    @property
    def alarms(self) -> bool:
        """Whether plants should be guarded; a gap is NaN, which never alarms."""
        return self.maximum_c >= ALARM_C or self.is_dry


def afternoon_deficit_kpa(
    minimum_c: float, maximum_c: float, humidity_percent: float | None
) -> float | None:
    """Return how much more vapour the air could hold at the day's maximum [kPa].

    Parameters
    ----------
    minimum_c, maximum_c : float
        Of the day.
    humidity_percent : float or None
        Its mean; where unknown the air is taken for saturated at the minimum.

    Returns
    -------
    float or None
        ``None`` where a temperature is NaN. Never below 0.
        Source: Allen et al. (1998), FAO-56, Eq. 11, 19 and 48: a day's mean humidity
        with its maximum alone would overstate it.
    """
    at_low, at_high = (
        float(saturation_vapour_pressure_kpa(each)) for each in (minimum_c, maximum_c)
    )
    if isnan(at_low) or isnan(at_high):
        return None
    actual = at_low
    if humidity_percent is not None and not isnan(humidity_percent):
        actual = humidity_percent / 100 * (at_low + at_high) / 2
    return max(at_high - actual, 0.0)


def hot_day(series: WeatherSeries | None, day: date) -> HotDay | None:
    """Return a day's heat as read or forecast; ``None`` for normals and unknown days."""
    if series is None or not series.covers(day):
        return None
    if series.origin_on(day) is Origin.NORMAL:
        return None
    place = series.index(day)
    humidity = series.humidity_percent
    minimum_c, maximum_c = float(series.tmin_c[place]), float(series.tmax_c[place])
    if not maximum_c >= DRY_LEAST_C:
        return HotDay(day, maximum_c, None)  # too cool for its dryness to matter
    deficit = afternoon_deficit_kpa(
        minimum_c, maximum_c, None if humidity is None else float(humidity[place])
    )
    return HotDay(day, maximum_c, deficit)


def hot_days(series: WeatherSeries | None, first: date, last: date) -> list[HotDay]:
    """Return the days of a span that alarm, oldest first."""
    span = (first + timedelta(days=n) for n in range((last - first).days + 1))
    days = (hot_day(series, day) for day in span)
    return [day for day in days if day is not None and day.alarms]


def is_one_spell(series: WeatherSeries | None, first: date, last: date) -> bool:
    """Return whether no gap of more than a week lies between the hot days of a span.

    The first day counts as hot: something was done for the heat on it.
    """
    hot = [each.day for each in hot_days(series, first, last)]
    steps = zip([first, *hot], hot, strict=False)
    return all((later - before).days <= SPELL_GAP_DAYS for before, later in steps)
