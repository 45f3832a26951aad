"""Trees and days of the water balance's tests."""

import numpy as np

from care.science.water_balance import Forcing, RootZones, Stored


def zones(**changes):
    """One tree's zones; a pot of 10 L unless told otherwise."""
    values = dict.fromkeys(RootZones.__dataclass_fields__, 0.0) | {
        "depletion_p": 0.5,
        "inner_capacity_l": 10.0,
        "inner_rain_area_m2": 0.1,
    }
    values |= changes
    return RootZones(**{name: np.atleast_1d(value) for name, value in values.items()})


def new_tree(volume_l, *, share=0.135, soil=80.0, growth=0.00036, cover=0.15):
    """A newly planted tree: parameters as documented beside the schedules below."""
    radius = (volume_l / 1000 / (np.pi / 4 * 0.85)) ** (1 / 3) / 2
    ball = np.pi * radius**2
    return zones(
        inner_capacity_l=volume_l * share,
        inner_rain_area_m2=0.9 * ball,
        inner_evaporation_m2=0.25 * ball,
        spill_share=1.0,
        ball_radius_m=radius,
        root_growth_m_per_degree_day=growth,
        ring_store_l_per_m2=0.7 * soil * 0.45,
        ring_rain_share=0.9 * 0.7,
        ring_cover_share=cover * 0.7,
    )


def start(zone, missing=0.0):
    nothing = np.zeros_like(zone.inner_capacity_l)
    return Stored(nothing + missing, nothing.copy(), nothing.copy())


def forcing(*, et0=5.0, rain=0.0, demand=1.0, given=0.0, warming=0.0):
    return Forcing(
        et0_mm=np.atleast_1d(et0),
        rain_mm=np.atleast_1d(rain),
        demand_m2=np.atleast_1d(demand),
        kc_et_mm=np.atleast_1d(0.9 * et0),
        given_l=np.atleast_1d(given),
        warming=np.atleast_1d(warming),
    )
