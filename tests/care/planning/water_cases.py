"""Four real years of Seattle weather, and the plants that the tests put into it."""

import csv
from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from pathlib import Path

import numpy as np

from care.facts import SiteFacts, SpeciesFacts, TreeFacts, WeatherSeries, WorkDone

RECORD = Path(__file__).parents[3] / "deploy" / "demo" / "seattle_daily_2012_2015.csv"
FIRST = date(2012, 1, 1)
FORECAST_DAYS = 5
SITE = SiteFacts(latitude_deg=47.45, elevation_m=130, soil_texture="loam")
CLAY = replace(SITE, soil_texture="clay")

# Coefficients of FAO-56 Tables 12 and 22.
APPLE = SpeciesFacts(
    key="apple",
    name="Apple",
    leaf="deciduous",
    habit="tree",
    kc_ini=0.45,
    kc_mid=0.95,
    kc_end=0.70,
    kc_source="FAO-56",
    depletion_p=0.5,
    root_depth_m=1.0,
    mature_spread_m=4.0,
)
LEMON = replace(
    APPLE, key="lemon", name="Lemon", leaf="evergreen", kc_ini=0.70, kc_mid=0.65
)


@cache
def record():
    """Return tmin, tmax and rain of the record."""
    with RECORD.open(encoding="utf-8") as lines:
        kept = (line for line in lines if not line.startswith("#"))
        rows = list(csv.DictReader(kept))
    columns = ("tmin_c", "tmax_c", "rain_mm")
    return tuple(np.array([float(row[name]) for row in rows]) for name in columns)


@cache
def usual():
    """Return each day's mean of the four years within ten days of it."""
    days = np.arange(365)[:, None] + 365 * np.arange(4)
    return tuple(
        np.mean([values[(days + shift) % 1460] for shift in range(-10, 11)], (0, 2))
        for values in record()
    )


def weather(today, *, start=FIRST, days_ahead=150, forecast=FORECAST_DAYS):
    """Return the record before today, its next days as forecast, then the usual."""
    offset, known = (start - FIRST).days, (today - start).days
    place = np.arange(known + days_ahead)
    is_known = place < known + forecast
    columns = [
        np.where(
            is_known,
            values[np.minimum(place + offset, len(values) - 1)],
            normal[(place + offset) % 365],
        )
        for values, normal in zip(record(), usual(), strict=True)
    ]
    letters = "o" * known + "f" * forecast + "n" * (days_ahead - forecast)
    return WeatherSeries(start, *columns, letters)


def normals(today, *, days_ahead=150):
    """Return nothing but the usual, as a site without any record has it."""
    start = today - timedelta(days=400)
    place = (np.arange(400 + days_ahead) + (start - FIRST).days) % 365
    columns = [values[place] for values in usual()]
    return WeatherSeries(start, *columns, "n" * len(place))


def steady(today, *, start, tmin=12.0, tmax=28.0, rain=0.0, days_ahead=60):
    """Return the same weather day after day."""
    known = (today - start).days
    count = known + days_ahead
    return WeatherSeries(
        start,
        np.full(count, tmin),
        np.full(count, tmax),
        np.full(count, rain),
        "o" * known + "n" * days_ahead,
    )


def old_apple(**changes):
    facts = {
        "id": 1,
        "name": "Old apple",
        "species": APPLE,
        "block_id": 1,
        "planted_on": None,
        "entered_on": FIRST,
        "crown_width_m": 4.0,
        "spacing_m": 5.0,
    }
    return TreeFacts(**{**facts, **changes})


def new_apple(**changes):
    facts = {
        "id": 2,
        "name": "New apple",
        "planted_on": date(2014, 4, 1),
        "stock_litres": 24.6,
        "crown_width_m": 0.8,
        "spacing_m": None,
    }
    return old_apple(**{**facts, **changes})


def pot(**changes):
    facts = {
        "id": 3,
        "name": "Lemon in a pot",
        "species": LEMON,
        "planted_on": date(2013, 4, 1),
        "in_container": True,
        "container_litres": 55.0,
        "crown_width_m": 1.1,
        "spacing_m": None,
    }
    return old_apple(**{**facts, **changes})


def watered(tree, on, litres=None, **changes):
    facts = {"kind": "watering", "key": "next", "amount": litres}
    return WorkDone(tree.id, on=on, **{**facts, **changes})
