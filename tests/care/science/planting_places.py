"""Usual years of places, and trees wanted there, for the tests of when to plant."""

from datetime import date
from typing import Any

import numpy as np

from care.facts import SiteFacts, Situation, SpeciesFacts, WeatherSeries
from care.science.planting_time import PlaceYear, PlantingTime, planting_time
from care.science.usual_climate import usual_climate
from care.science.weather_generator import Climate
from tests.care.rules.cases import MILD, morning, tree
from tests.care.science.reference import SeattleRecord


def climate(
    mean_c: float, swing_c: float, *, hottest_day: int = 200, range_c: float = 10.0
) -> Climate:
    """Return a year that swings about a mean, hottest on one day of it."""
    days = np.arange(366)
    middle = mean_c + swing_c * np.cos(2 * np.pi * (days - hottest_day) / 366)
    return Climate(
        tmin_c=middle - range_c / 2,
        tmax_c=middle + range_c / 2,
        rain_mm=np.full(366, 2.0),
        wet_share=np.full(366, 0.3),
        departure_sd_c=np.full(366, 3.0),
        persistence=0.65,
        wet_persistence=0.25,
    )


def place(year: Climate | None = None, coldest_c: float | None = None, zone: int = 8):
    return PlaceYear(year, coldest_c, zone)


def seattle() -> WeatherSeries:
    record = SeattleRecord()
    return WeatherSeries(
        record.start,
        record.tmin_c,
        record.tmax_c,
        record.rain_mm,
        "o" * len(record.days),
    )


SEATTLE_YEAR = usual_climate(seattle())


def wanted(kind: SpeciesFacts, today: date, **facts: Any) -> Any:
    return tree(kind, planted_on=None, entered_on=today, **facts)


def time_of(
    kind: SpeciesFacts,
    today: date,
    site: SiteFacts = MILD,
    year: PlaceYear | None = None,
    *,
    rains: Any = None,
    stages: Any = (),
    **facts: Any,
) -> PlantingTime:
    situation: Situation = morning(
        today, wanted(kind, today, **facts), site, rains=rains, stages=stages
    )
    return planting_time(situation, year or place())
