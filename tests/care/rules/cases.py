"""Trees, sites and weather for the tests of the rules."""

from datetime import date
from typing import Any

import numpy as np

from care.facts import (
    MonthDay,
    SiteFacts,
    Situation,
    Span,
    SpeciesFacts,
    TreeFacts,
    WaterOutlook,
    WeatherSeries,
)


def species(key: str = "apple", **changes: Any) -> SpeciesFacts:
    facts: dict[str, Any] = {
        "key": key,
        "name": key.title(),
        "leaf": "deciduous",
        "habit": "tree",
        "kc_ini": 0.45,
        "kc_mid": 0.95,
        "kc_end": 0.7,
        "kc_source": "FAO-56",
        "depletion_p": 0.5,
        "root_depth_m": 1.0,
        "mature_height_m": 6.0,
        "mature_spread_m": 5.0,
        "bloom": Span(4, 5),
        "prune_months": (1, 2, 3),
        "prune_system": "central_leader",
        "feed_group": "pome",
        "nitrogen_first_year_g": 35.0,
        "nitrogen_mature_g": 200.0,
        "feed_times_per_year": 1,
        "damage_temp_mature_c": -30.0,
        "move_in_temp_c": -7.0,
        "bloom_damage_temp_c": -2.2,
        "years_to_first_crop": 4.0,
    }
    return SpeciesFacts(**{**facts, **changes})


def orange(**changes: Any) -> SpeciesFacts:
    facts: dict[str, Any] = {
        "leaf": "evergreen",
        "bloom": Span(3, 4),
        "prune_months": (2, 3),
        "prune_system": "none",
        "feed_group": "citrus",
        "nitrogen_first_year_g": 100.0,
        "nitrogen_mature_g": 570.0,
        "feed_times_per_year": 3,
        "damage_temp_young_c": -2.2,
        "damage_temp_mature_c": -3.3,
        "move_in_temp_c": 2.0,
        "bloom_damage_temp_c": -1.7,
    }
    return species("orange", **{**facts, **changes})


MILD = SiteFacts(
    latitude_deg=47.6,
    elevation_m=50.0,
    soil_texture="loam",
    last_frost=MonthDay(3, 20),
    first_frost=MonthDay(11, 10),
)
# State College, Pennsylvania, in round numbers: about 150 frost-free days.
SHORT = SiteFacts(
    latitude_deg=40.8,
    elevation_m=370.0,
    soil_texture="loam",
    last_frost=MonthDay(5, 5),
    first_frost=MonthDay(10, 5),
)
WARM = SiteFacts(
    latitude_deg=26.0, elevation_m=3.0, soil_texture="sand", is_frost_free=True
)
WARM_SOUTH = SiteFacts(
    latitude_deg=-26.0, elevation_m=3.0, soil_texture="sand", is_frost_free=True
)


def tree(kind: SpeciesFacts | None = None, **changes: Any) -> TreeFacts:
    facts: dict[str, Any] = {
        "id": 1,
        "name": "Old apple",
        "species": kind or species(),
        "block_id": None,
        "planted_on": date(2004, 3, 1),
        "entered_on": date(2012, 1, 10),
        "crown_width_m": 5.0,
    }
    return TreeFacts(**{**facts, **changes})


def minima(start, values, origin="f", rain_mm=0.0, tmax_c=15.0):
    values = np.array(values, dtype=np.float64)
    letters = origin if len(origin) == len(values) else origin * len(values)
    return WeatherSeries(
        start=start,
        tmin_c=values,
        tmax_c=np.full(len(values), tmax_c),
        rain_mm=np.full(len(values), rain_mm),
        origin=letters,
    )


def morning(today, its_tree=None, site=MILD, **more):
    more.setdefault("weather", None)
    return Situation(today=today, tree=its_tree or tree(), site=site, **more)


def outlook(**changes: Any) -> WaterOutlook:
    """Return a young tree's water: a store of 20 L, little of it used."""
    facts: dict[str, Any] = {
        "is_container": False,
        "store_l": 20.0,
        "missing_l": 3.0,
        "outer_store_l": 0.0,
        "outer_missing_l": 0.0,
        "readily_available_l": 10.0,
        "spare_l": 7.0,
        "depletion_p": 0.5,
        "use_l": 2.0,
        "et0_mm": 5.0,
        "et0_method": "hargreaves",
        "kc": 0.9,
        "crown_area_m2": 0.5,
        "stress_ks": 1.0,
        "water_net_l": 3.0,
        "water_gross_l": 3.3,
        "earliest_in_days": 1,
        "due_in_days": 3,
        "latest_in_days": 5,
    }
    return WaterOutlook(**{**facts, **changes})
