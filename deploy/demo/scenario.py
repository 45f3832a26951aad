"""The invented orchards of the demonstration: people, places, trees.

Names, people and plants are made up. Only the weather is real.
"""

from dataclasses import dataclass, field
from datetime import date

OWNER = "marta"
PEOPLE = (  # user name, first name, role
    (OWNER, "Marta", "owner"),
    ("tomas", "Tomas", "coordinator"),
    ("ines", "Ines", "grower"),
    ("paul", "Paul", "viewer"),
)

ALDER_ROW = {
    "name": "Alder Row",
    "latitude_deg": 47.45,
    "longitude_deg": -122.31,
    "elevation_m": 122.0,
    "time_zone": "America/Los_Angeles",
    "soil_texture": "sandy_loam",
    "last_frost_month": 3,
    "last_frost_day": 20,
    "first_frost_month": 11,
    "first_frost_day": 12,
    "feed_product_name": "10-10-10",
    "feed_nitrogen_percent": 10.0,
    "feed_density_g_per_ml": 0.96,
    "soil_tested_on": date(2011, 10, 8),
    "soil_ph": 6.1,
    "soil_nitrogen": "usual",
    "hose_bucket_l": 10.0,
    "hose_bucket_s": 40.0,
}

QUAY_STEPS = {
    "name": "Quay Steps Garden",
    "latitude_deg": -27.5,
    "longitude_deg": 153.0,
    "elevation_m": 15.0,
    "time_zone": "Australia/Brisbane",
    "soil_texture": "loamy_sand",
    "is_frost_free": True,
    "feed_product_name": "8-3-9",
    "feed_nitrogen_percent": 8.0,
    "hose_bucket_l": 8.0,
    "hose_bucket_s": 30.0,
    "water_setback_m": 3.0,
    "local_rules": "No feeding within 3 m of the canal (an invented rule).",
}

# Invented, in the manner of a summer-rain subtropical coast: month, low °C, high °C,
# rain mm.
QUAY_STEPS_NORMALS = (
    (1, 21.3, 29.8, 150.0),
    (2, 21.2, 29.4, 170.0),
    (3, 19.9, 28.6, 135.0),
    (4, 17.2, 26.7, 85.0),
    (5, 14.1, 24.1, 75.0),
    (6, 11.6, 21.8, 60.0),
    (7, 10.4, 21.4, 35.0),
    (8, 11.0, 22.7, 35.0),
    (9, 13.7, 25.1, 35.0),
    (10, 16.3, 26.7, 80.0),
    (11, 18.6, 28.0, 100.0),
    (12, 20.3, 29.2, 130.0),
)


@dataclass(frozen=True)
class DemoTree:
    """One tree of the demonstration; ``facts`` are fields of the tree table."""

    tag: str
    name: str
    species_key: str
    block: str
    planted_on: date
    facts: dict[str, object] = field(default_factory=dict)
    stays: tuple[tuple[str, date], ...] = ()


def _pot(litres: float, diameter_m: float, crown_width_m: float) -> dict[str, object]:
    return {
        "in_container": True,
        "container_litres": litres,
        "container_diameter_m": diameter_m,
        "crown_width_m": crown_width_m,
        "fed_before": "no",
        "pruned_before": "no",
        "mulched_before": "no",
    }


def _bearing(
    crown_width_m: float, height_m: float, **more: object
) -> dict[str, object]:
    return {
        "crown_width_m": crown_width_m,
        "height_m": height_m,
        "floor": "mulch",
        "watered_radius_m": 1.0,
        "fed_before": "no",
        "pruned_before": "no",
        "mulched_before": "yes",
        "mulch_material": "wood_chips",
        "mulch_depth_mm": 70.0,
        "mulch_laid_on": date(2011, 11, 5),
        "mulch_ring_radius_m": 1.2,
        **more,
    }


def _young(
    crown_width_m: float, stock_litres: float, **more: object
) -> dict[str, object]:
    return {
        "crown_width_m": crown_width_m,
        "height_m": 1.4,
        "stock_litres": stock_litres,
        "floor": "mulch",
        "fed_before": "no",
        "pruned_before": "no",
        "mulched_before": "yes",
        "mulch_material": "wood_chips",
        "mulch_depth_mm": 75.0,
        "mulch_ring_radius_m": 0.6,
        **more,
    }


ALDER_ROW_BLOCKS = ("South wall", "Long row", "Patio")
ALDER_ROW_TREES = (
    DemoTree(
        "S1",
        "Fig in the corner",
        "fig",
        "South wall",
        date(2007, 4, 2),
        _bearing(3.0, 3.2),
    ),
    DemoTree(
        "S2",
        "Peach by the bench",
        "peach",
        "South wall",
        date(2009, 3, 14),
        _bearing(3.2, 2.9),
    ),
    DemoTree(
        "S3",
        "Apricot, tall one",
        "apricot",
        "South wall",
        date(2008, 3, 8),
        _bearing(3.4, 3.4),
    ),
    DemoTree(
        "S4",
        "New peach",
        "peach",
        "South wall",
        date(2014, 3, 1),
        _young(
            0.8,
            9.0,
            mulch_laid_on=date(2014, 3, 1),
            stock="bare_root",
            support="stake",
            has_trunk_guard=True,
            goal="vigour",
        ),
    ),
    DemoTree(
        "L1", "Apple one", "apple", "Long row", date(2004, 3, 6), _bearing(4.0, 3.8)
    ),
    DemoTree(
        "L2", "Apple two", "apple", "Long row", date(2004, 3, 6), _bearing(3.8, 3.6)
    ),
    DemoTree(
        "L3",
        "Apple by the shed",
        "apple",
        "Long row",
        date(2006, 3, 11),
        _bearing(3.6, 3.5, near_wires=True),
    ),
    DemoTree(
        "L4",
        "Pear at the gate",
        "pear",
        "Long row",
        date(2005, 3, 12),
        _bearing(3.4, 4.2),
    ),
    DemoTree(
        "L5",
        "Asian pear",
        "asian_pear",
        "Long row",
        date(2010, 3, 20),
        _bearing(2.6, 3.0),
    ),
    DemoTree(
        "L6", "Plum", "european_plum", "Long row", date(2008, 3, 15), _bearing(3.6, 3.6)
    ),
    DemoTree(
        "L7",
        "Sour cherry",
        "sour_cherry",
        "Long row",
        date(2010, 3, 27),
        _bearing(2.6, 2.8),
    ),
    DemoTree(
        "L8",
        "New plum",
        "japanese_plum",
        "Long row",
        date(2013, 11, 9),
        _young(0.9, 24.6, mulch_laid_on=date(2013, 11, 9)),
    ),
    DemoTree(
        "L9",
        "New quince",
        "quince",
        "Long row",
        date(2014, 4, 12),
        _young(
            0.8,
            24.6,
            mulch_laid_on=date(2014, 4, 12),
            has_trunk_guard=True,
            drainage_hours=5.0,
        ),
    ),
    DemoTree(
        "L10",
        "Persimmon",
        "asian_persimmon",
        "Long row",
        date(2014, 5, 3),
        _young(0.7, 14.9, mulch_laid_on=date(2014, 5, 3)),
    ),
    DemoTree("P1", "Lemon", "lemon", "Patio", date(2010, 5, 8), _pot(54.9, 0.42, 1.0)),
    DemoTree(
        "P2",
        "Satsuma",
        "mandarin_satsuma",
        "Patio",
        date(2011, 4, 30),
        _pot(54.9, 0.42, 0.9),
    ),
    DemoTree(
        "P3", "Kumquat", "kumquat", "Patio", date(2010, 6, 5), _pot(34.1, 0.36, 0.8)
    ),
    DemoTree("P4", "Lime", "lime", "Patio", date(2011, 5, 14), _pot(34.1, 0.36, 0.7)),
    DemoTree("P5", "Olive", "olive", "Patio", date(2008, 5, 3), _pot(74.2, 0.48, 1.1)),
    DemoTree(
        "P6",
        "Pomegranate",
        "pomegranate",
        "Patio",
        date(2009, 4, 18),
        _pot(54.9, 0.42, 1.0),
    ),
    DemoTree(
        "P7",
        "Blueberry in the blue pot",
        "blueberry_southern_highbush",
        "Patio",
        date(2011, 3, 19),
        _pot(54.9, 0.42, 0.8),
    ),
)

#: Still to be planted when the demonstration opens; its day is reckoned from there.
ALDER_ROW_PLANNED = ("L11", "Mulberry to come", "mulberry", "Long row")
PLANTING_MONTH, PLANTING_DAY = 3, 7
LEAST_AHEAD_DAYS = 21

#: A spray with its label's waiting days; product and label are invented, no advice.
SPRAYED_TREE = "Sour cherry"
SPRAY_PRODUCT = "Sample spray"
SPRAY_WAITING_DAYS = 10
SPRAYED_DAYS_AGO = 3

QUAY_STEPS_BLOCKS = ("Terrace", "Lower beds")
QUAY_STEPS_TREES = (
    DemoTree(
        "T1",
        "Mango",
        "mango",
        "Lower beds",
        date(2016, 9, 10),
        _bearing(4.0, 4.0, mulch_laid_on=date(2026, 5, 2)),
    ),
    DemoTree(
        "T2",
        "Avocado",
        "avocado",
        "Lower beds",
        date(2018, 9, 22),
        _bearing(3.6, 4.4, mulch_laid_on=date(2026, 5, 2)),
    ),
    DemoTree(
        "T3",
        "Lychee",
        "lychee",
        "Lower beds",
        date(2017, 10, 7),
        _bearing(3.2, 3.0, mulch_laid_on=date(2026, 5, 2)),
    ),
    DemoTree(
        "T4",
        "Orange",
        "orange",
        "Lower beds",
        date(2019, 8, 31),
        _bearing(2.6, 2.6, mulch_laid_on=date(2026, 5, 2), water_distance_m=12.0),
    ),
    DemoTree(
        "T5",
        "Young guava",
        "guava",
        "Lower beds",
        date(2026, 3, 14),
        _young(0.9, 14.9, mulch_laid_on=date(2026, 3, 14)),
    ),
    DemoTree(
        "T6",
        "Lime in the tub",
        "lime",
        "Terrace",
        date(2020, 9, 5),
        _pot(54.9, 0.42, 1.0),
    ),
    DemoTree(
        "T7",
        "Acerola",
        "barbados_cherry",
        "Terrace",
        date(2021, 9, 11),
        _pot(34.1, 0.36, 0.8),
    ),
)
