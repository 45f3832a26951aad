"""Outlooks for the tests of the watering rule."""

from typing import Any

from care.facts import WaterOutlook


def outlook(**changes: Any) -> WaterOutlook:
    """Return a young tree's outlook: 3.3 L held, due the day after tomorrow."""
    facts: dict[str, Any] = {
        "is_container": False,
        "store_l": 3.3,
        "missing_l": 0.9,
        "outer_store_l": 2.0,
        "outer_missing_l": 0.4,
        "readily_available_l": 2.65,
        "spare_l": 1.5,
        "depletion_p": 0.5,
        "use_l": 0.6,
        "et0_mm": 4.1,
        "et0_method": "hargreaves",
        "kc": 0.9,
        "crown_area_m2": 0.5,
        "stress_ks": 1.0,
        "water_net_l": 1.9,
        "water_gross_l": 1.9 / 0.9,
        "earliest_in_days": 1,
        "due_in_days": 2,
        "latest_in_days": 4,
        "likely_in_days": (2, 2, 3),
        "later_in_days": (5, 9),
        "later_net_l": (2.0, 2.1),
        "is_established": False,
        "basin_area_m2": 0.3,
        "root_radius_m": 0.28,
        "notes": ("hargreaves_may_run_low",),
    }
    return WaterOutlook(**{**facts, **changes})
