"""Whole seasons of fresh trees whose people do what the plan says, day by day."""

from collections import defaultdict
from dataclasses import replace
from datetime import date, timedelta

import numpy as np

from care.facts import SiteFacts, Stock, WeatherSeries, WorkDone
from care.planning.simulate import simulate_water
from tests.care.planning.water_cases import APPLE, new_apple

# Crop coefficient of a whole crown, 0.93: live oak on a lysimeter, Beeson, Duong and
# Kjelgren (2018). Evergreen, so that no stage of leaf blurs the schedule.
SHADE_TREE = replace(APPLE, leaf="evergreen", kc_ini=0.93, kc_mid=0.93, kc_end=0.93)
# The same while leafing out: four tenths of the leaf (this program's own assumption).
LEAFING_OUT = replace(SHADE_TREE, kc_ini=0.37, kc_mid=0.37, kc_end=0.37)
BEFORE_DAYS = 125  # back to the last winter, for a place planted in spring

# Miami: Penman-Monteith of a typical year (NREL TMY2, by the library pyet), mean
# temperature and rain from memory. Minneapolis: all from memory.
MIAMI_ET0_MM = (3.01, 3.72, 4.58, 5.79, 5.15, 5.25, 5.29, 5.18, 4.24, 3.69, 3.63, 3.13)
MIAMI_MEAN_C = (19.5, 20.5, 22.0, 24.0, 26.5, 28.0, 28.7, 28.7, 28.0, 26.0, 23.0, 20.5)
MIAMI_RAIN_MM = (45, 55, 65, 80, 140, 240, 170, 220, 240, 150, 80, 50)
TWIN_CITIES_ET0_MM = (0.3, 0.5, 1.4, 2.9, 4.2, 4.9, 5.0, 4.2, 3.0, 1.7, 0.7, 0.3)
TWIN_CITIES_MEAN_C = (-9, -6.5, 0.5, 8.5, 15.0, 20.3, 23.2, 21.8, 16.7, 9.5, 1.5, -6.5)

FLORIDA = SiteFacts(latitude_deg=25.8, elevation_m=2.0, soil_texture="sand")
MINNESOTA = SiteFacts(latitude_deg=44.9, elevation_m=250.0, soil_texture="loam")


def climate(planted_on, et0_mm, mean_c, *, rain_mm=None, half_span_c=4.0, ahead=260):
    """Return day by day what a year of monthly means brings; rain every third day."""
    start = planted_on - timedelta(days=BEFORE_DAYS)
    days = [start + timedelta(days=n) for n in range(BEFORE_DAYS + ahead)]
    month = np.array([day.month - 1 for day in days])
    mean = np.array(mean_c, dtype=np.float64)[month]
    rain = np.zeros(len(days))
    if rain_mm is not None:
        falls = np.arange(len(days)) % 3 == 0
        after = np.array([day >= planted_on for day in days])
        rain = np.where(falls & after, np.array(rain_mm)[month] / 10.0, 0.0)
    low = mean - half_span_c
    if min(mean_c) < 0:
        low = np.where(month == 0, mean - 16.0, low)  # cold snaps of a hard winter
    return WeatherSeries(
        start,
        low,
        mean + half_span_c,
        rain,
        "o" * len(days),
        et0_mm=np.array(et0_mm, dtype=np.float64)[month],
    )


def fresh(number, planted_on, *, litres, crown_m, **changes):
    """Return a tree of a nursery's size, planted on a day."""
    facts = {
        "id": number,
        "species": SHADE_TREE,
        "planted_on": planted_on,
        "entered_on": planted_on,
        "stock_litres": litres,
        "stock": Stock.CONTAINER_GROWN,
        "crown_width_m": crown_m,
        "floor": "bare",
    }
    return new_apple(**{**facts, **changes})


def obeyed(site, trees, series, planted_on, days):
    """Return each tree's waterings as (days since planting, litres) by its id."""
    work, found = [], defaultdict(list)
    for number in range(days):
        today = planted_on + timedelta(days=number)
        water = simulate_water(site, trees, series, work, [], today, 0)
        for tree_id, outlook in water.items():
            if outlook.due_in_days == 0:
                litres = outlook.water_gross_l
                found[tree_id].append((number, litres))
                work.append(WorkDone(tree_id, "watering", "next", today, amount=litres))
    return found


def interval(waterings, first, last):
    """Return the mean days between waterings from one day to another."""
    count = sum(first <= day < last for day, _litres in waterings)
    return (last - first) / max(count, 1)


def litres_each(waterings, first, last):
    """Return the mean litres of the waterings from one day to another."""
    return np.mean([litres for day, litres in waterings if first <= day < last])


def month_counts(waterings, planted_on):
    """Return how many waterings fell into each month."""
    counts = defaultdict(int)
    for day, _litres in waterings:
        counts[(planted_on + timedelta(days=day)).month] += 1
    return counts


MARCH = date(2014, 3, 1)
MAY = date(2014, 5, 1)
