"""Kinds and years made by hand, for tests of how well a kind fits."""

from datetime import date, timedelta

import numpy as np

from care.facts import CultivarFacts, SiteFacts, Span, SpeciesFacts
from care.facts.fit import FitBasis
from care.science.fit_years import YEAR_DAYS, FitYears

SITE = SiteFacts(47.0, 100.0, "loam")
SOUTH = SiteFacts(-47.0, 100.0, "loam")
START = date(2012, 11, 1)


def kind(key="apple", **values):
    facts = {
        "name": key.capitalize(),
        "leaf": "deciduous",
        "habit": "tree",
        "kc_ini": 0.5,
        "kc_mid": 1.0,
        "kc_end": 0.7,
        "kc_source": "",
        "depletion_p": 0.5,
        "root_depth_m": 1.0,
        "bloom": Span(4, 5),
        "harvest": Span(8, 10),
        "damage_temp_mature_c": -20.0,
        "move_in_temp_c": -7.0,
        "bloom_damage_temp_c": -2.2,
        "chill_hours_min": 400.0,
        "chill_hours_max": 800.0,
        "mature_spread_m": 5.0,
        "spacing_min_m": 3.0,
        "ph_min": 6.0,
        "ph_max": 7.0,
        "container_ok": "fair",
        "container_min_l": 60.0,
        "usda_zone_min": "5",
        "usda_zone_max": "9",
        **values,
    }
    return SpeciesFacts(key=key, **facts)


def cultivar(name="Early", species_key="apple", **values):
    key = f"{species_key}_{name.lower()}"
    return CultivarFacts(key=key, species_key=species_key, name=name, **values)


def years(hours=(1000.0, 1000.0, 1000.0), minima=(-5.0, -6.0, -7.0), **values):
    """Years of so many chill hours by both curves; mild nights all year."""
    chill = np.asarray(hours, dtype=float)
    count = len(minima)
    rows = np.full((count, YEAR_DAYS), 5.0)
    starts = tuple(START.replace(year=START.year + n) for n in range(count))
    made = {
        "basis": FitBasis(seasons=tuple(start.year + 1 for start in starts)),
        "chill_hours": np.vstack([chill, chill]) if chill.ndim == 1 else chill,
        "portions": np.full((2, count), 60.0),
        "minima_c": np.asarray(minima, dtype=float),
        "tmin_c": rows,
        "chill_by_day": np.full_like(rows, 10.0),
        "warmth_by_day": np.full_like(rows, 50.0),
        "starts": starts,
        **values,
    }
    return FitYears(**made)


def place_of(day, start=START):
    return (day - start).days


def day_at(place, start=START):
    return start + timedelta(days=int(place))
