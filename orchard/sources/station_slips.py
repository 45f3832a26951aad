"""Units that a whole file gives away: what is asked before days are kept.

Single impossible values are refused where they stand. These are possible one by one
and strange together; whoever sends the file knows whether they are right. All limits
are common practice, no source.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from statistics import fmean

from django.utils.translation import gettext

from orchard.languages import localised
from orchard.sources.station_columns import (
    ColumnMapping,
    ColumnUnit,
    StationQuantity,
)
from orchard.sources.station_day import StationDay

FEWEST_DAYS = 5
#: Rain is judged by the year, so it takes longer.
FEWEST_RAIN_DAYS = 60
DAYS_A_YEAR = 365.25
#: Inches taken for millimetres make a desert of any place, millimetres taken for
#: inches a place wetter than all.
DRIEST_YEAR_MM, LARGEST_DRY_DAY_MM = 120.0, 12.0
WETTEST_YEAR_MM, LARGEST_DAY_MM = 8000.0, 250.0
HOTTEST_MEAN_C, HOTTEST_C, WIDEST_SWING_C = 38.0, 48.0, 20.0
COLDEST_HIGH_C, NARROWEST_SWING_C = 8.0, 7.5
WINDIEST_MS, CALMEST_MS = 9.0, 0.5


def slips(days: Sequence[StationDay], mapping: ColumnMapping) -> list[str]:
    """Return what should be asked about the units of a file's columns.

    Parameters
    ----------
    days : sequence of StationDay
        In SI, as the mapping makes them.
    mapping : ColumnMapping
        The units that were chosen.
    """
    return [*_air(days, mapping), *_rain(days, mapping), *_wind(days, mapping)]


def _unit(mapping: ColumnMapping, *names: StationQuantity) -> ColumnUnit:
    choices = (mapping.columns.get(name) for name in names)
    return next((choice.unit for choice in choices if choice), ColumnUnit.NONE)


def _known(
    days: Iterable[StationDay], read: Callable[[StationDay], float | None]
) -> list[float]:
    return [value for day in days if (value := read(day)) is not None]


def _air(days: Sequence[StationDay], mapping: ColumnMapping) -> Iterator[str]:
    highs = _known(days, lambda day: day.tmax_c)
    swings = [
        day.tmax_c - day.tmin_c
        for day in days
        if day.tmax_c is not None and day.tmin_c is not None
    ]
    if not highs:
        return
    unit = _unit(mapping, StationQuantity.TMAX, StationQuantity.TEMPERATURE)
    is_long = len(highs) >= FEWEST_DAYS
    swing = fmean(swings) if swings else 0.0
    if unit is ColumnUnit.CELSIUS and (
        max(highs) > HOTTEST_C
        or (is_long and (fmean(highs) > HOTTEST_MEAN_C or swing > WIDEST_SWING_C))
    ):
        yield gettext(
            "In °C the highest is {highest} °C and a day's span {swing} °C on "
            "average. Are the temperatures in °F?"
        ).format(highest=f"{max(highs):.0f}", swing=f"{swing:.0f}")
    is_cold = max(highs) < COLDEST_HIGH_C and swing < NARROWEST_SWING_C
    if unit is ColumnUnit.FAHRENHEIT and is_long and is_cold:
        yield gettext(
            "In °F the warmest day has {highest} °F. Are the temperatures in °C?"
        ).format(highest=f"{max(highs) * 1.8 + 32:.0f}")


def _rain(days: Sequence[StationDay], mapping: ColumnMapping) -> Iterator[str]:
    rains = _known(days, lambda day: day.rain_mm)
    if not rains:
        return
    unit = _unit(mapping, StationQuantity.RAIN)
    year_mm = fmean(rains) * DAYS_A_YEAR
    is_long = len(rains) >= FEWEST_RAIN_DAYS
    is_dry = 0 < year_mm < DRIEST_YEAR_MM and max(rains) < LARGEST_DRY_DAY_MM
    if unit is ColumnUnit.MILLIMETRES and is_long and is_dry:
        yield gettext(
            "In millimetres a year has {amount} mm, as little as a desert. Is "
            "the rain in inches?"
        ).format(amount=f"{year_mm:.0f}")
    is_wet = is_long and year_mm > WETTEST_YEAR_MM
    if unit is ColumnUnit.INCHES and (is_wet or max(rains) > LARGEST_DAY_MM):
        yield gettext(
            "In inches the wettest day has {amount} in. Is the rain in millimetres?"
        ).format(amount=localised(f"{max(rains) / 25.4:.1f}"))


def _wind(days: Sequence[StationDay], mapping: ColumnMapping) -> Iterator[str]:
    winds = _known(days, lambda day: day.wind_ms)
    if len(winds) < FEWEST_DAYS:
        return
    unit, mean = _unit(mapping, StationQuantity.WIND), fmean(winds)
    if unit is ColumnUnit.METRES_A_SECOND and mean > WINDIEST_MS:
        yield gettext(
            "In m/s the wind is {mean} m/s on average, a storm without end. Is "
            "it in km/h or mph?"
        ).format(mean=f"{mean:.0f}")
    if unit is not ColumnUnit.METRES_A_SECOND and 0 < mean < CALMEST_MS:
        yield gettext("In {unit} there is hardly any wind. Is it in m/s?").format(
            unit=unit
        )
