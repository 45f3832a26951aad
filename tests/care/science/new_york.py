"""A second and a third real record: New York day by day, Kennedy airport by the hour."""

import csv
from datetime import date
from functools import cache
from pathlib import Path

import numpy as np

from care.facts import WeatherSeries

DATA = Path(__file__).parents[2] / "data"
DAILY = DATA / "new_york_daily_2012_2015.csv"
HOURLY = DATA / "kennedy_hours_2013.csv"
LATITUDE_DEG = 40.64
SPIKE_C = 12.0  # from the median of the hours around: what no air does; ours


def rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


@cache
def new_york() -> WeatherSeries:
    """Return 1461 days, 2012-2015, all observed."""
    found = rows(DAILY)
    tmin_c, tmax_c, rain_mm = (
        np.array([float(row[name]) for row in found])
        for name in ("tmin_c", "tmax_c", "rain_mm")
    )
    first = date.fromisoformat(found[0]["date"])
    return WeatherSeries(first, tmin_c, tmax_c, rain_mm, "o" * len(found))


@cache
def kennedy() -> tuple[np.ndarray, np.ndarray]:
    """Return 364 days of 2013: hours as carried [degF], (days, 24), and rain [mm]."""
    found = rows(HOURLY)
    hours = np.array(
        [[float(row[f"h{hour}"] or "nan") for hour in range(24)] for row in found]
    )
    return hours, 25.4 * np.array([float(row["rain_in"]) for row in found])


def celsius(fahrenheit):
    return (np.asarray(fahrenheit) - 32) / 1.8


def without_spikes(hours_c: np.ndarray) -> np.ndarray:
    """Return the hours, NaN where one lies far from the median of its neighbours."""
    flat = hours_c.ravel()
    padded = np.pad(flat, 3, constant_values=np.nan)
    around = np.lib.stride_tricks.sliding_window_view(padded, 7)
    kept = flat.copy()
    for place in np.flatnonzero(~np.isnan(flat)):
        if abs(flat[place] - np.nanmedian(around[place])) > SPIKE_C:
            kept[place] = np.nan
    return kept.reshape(hours_c.shape)
