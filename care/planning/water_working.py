"""What else went into one plant's numbers, for whoever asks how they came about."""

from datetime import date

import numpy as np

from care.facts import Known, WeatherSeries
from care.planning.ground_runoff import plant_curve_number
from care.planning.leaf_year import LeafYear
from care.planning.learned_demand import Learned
from care.planning.outlook import Today
from care.planning.root_zones import Plant
from care.planning.water_scene import Run, Scene
from care.science.canopy import Stages
from care.science.crop_cover import crown_share, litres_by_floor

Pair = tuple[str, float | str | bool]
WEEK_DAYS, MONTH_DAYS = 7, 30
#: How a temperature that nobody measured came to be there.
FILLED_WORDS = {
    Known.BETWEEN: "between the days around it",
    Known.USUAL: "the usual of the time of year",
}


def stage_name(day: int, stages: Stages) -> str:
    """Return the stage of a crop's year on one of its days, as FAO-56 names them."""
    ends = np.cumsum([stages.initial, stages.development, stages.middle, stages.late])
    names = ("initial", "development", "middle", "late", "leafless")
    return names[int(np.searchsorted(ends, day))]


def _leaf(plant: Plant, year: LeafYear, day: int) -> list[Pair]:
    species = plant.chief.species
    return [
        ("kc_table_ini", species.kc_ini),
        ("kc_table_mid", species.kc_mid),
        ("kc_table_end", species.kc_end),
        ("kc_mid", year.kc_mid),
        ("kc_end", year.kc_end),
        ("is_kc_climate_adjusted", year.is_adjusted),
        ("height_m", plant.height_m),
        ("season_day", day),
        ("season_stage", stage_name(day, year.stages)),
        ("stock_factor", plant.stock_factor),
    ]


def _stores(plant: Plant, now: Today, column: int) -> list[Pair]:
    radius = float(now.watered_radius_m[column])
    pairs: list[Pair] = [
        ("store_kind", plant.store_kind),
        ("crown_source", "guessed" if "crown_estimated" in plant.notes else "measured"),
        ("depletion_p_table", plant.zone["depletion_p"]),
        ("depletion_p_today", float(now.morning.depletion_p[column])),
        ("efficiency", plant.efficiency),
    ]
    if plant.is_container:
        return [
            *pairs,
            ("pot_l", plant.ball_l),
            ("leaching_fraction", 1 - plant.efficiency),
            ("rain_catch_m2", plant.zone["inner_rain_area_m2"]),
        ]
    pairs += [
        ("soil_texture", plant.texture_key),
        ("available_mm_per_m", plant.available_mm_per_m),
        ("watered_radius_m", radius),
        ("watered_area_m2", float(np.pi * radius**2)),
        ("curve_number", plant_curve_number(plant)),
    ]
    if plant.is_established:
        return [*pairs, ("root_depth_m", plant.depth_m)]
    return [*pairs, ("ball_l", plant.ball_l), ("goal", plant.chief.goal.value)]


def _learned(learned: Learned) -> list[Pair]:
    if not learned.answers:
        return [("demand_factor", 1.0), ("demand_answers", 0)]
    return [
        ("demand_factor", learned.demand.applied),
        ("demand_found", learned.demand.factor),
        ("demand_spread", learned.demand.spread),
        ("demand_answers", learned.answers),
        ("is_demand_trusted", learned.demand.is_trusted),
    ]


def _use(run: Run, column: int) -> list[Pair]:
    """Return what today leaves of the usual use, and what bare soil adds to it."""
    scene, grove = run.scene, run.grove
    winter = grove.winter_share(scene.rows, scene.today_index)
    return [
        ("winter_share", float(winter[column])),
        ("bare_soil_m2", float(grove.zones.inner_evaporation_m2[column])),
    ]


def _missing(plant: Plant, now: Today, column: int) -> list[Pair]:
    """Return what one member lacks once today's rain is counted as well."""
    stored, share = now.morning.stored, 1 / len(plant.trees)
    return [
        ("missing_after_rain_l", share * float(stored.inner_missing_l[column])),
        ("outer_missing_after_rain_l", share * float(stored.outer_missing_l[column])),
    ]


def _in_rows(plant: Plant, now: Today, column: int) -> list[Pair]:
    """Return what the same tree would drink by a grown orchard's whole floor.

    Beside the crown's, for trees planted at a known spacing; never added to it.
    """
    spacing_m = plant.chief.spacing_m
    if plant.is_container or not spacing_m or len(plant.trees) > 1:
        return []
    ground_m2 = spacing_m**2
    cover = float(crown_share(plant.crown_area_m2, ground_m2))
    et0, kc = float(now.et0_mm[column]), float(now.kc[column])
    litres = float(litres_by_floor(et0, kc, ground_m2, cover))
    return [
        ("spacing_m2", ground_m2),
        ("crown_cover", cover),
        ("in_rows_litres_per_day", litres),
    ]


def _rain(run: Run, column: int) -> list[Pair]:
    """Return the week's rain that reached the plant, and what of it ran off."""
    scene, grove = run.scene, run.grove
    days = min(WEEK_DAYS, scene.rows)
    week = slice(scene.today_index - days, scene.today_index)
    share = grove.days.rain_share[scene.rows - days : scene.rows, column]
    counted = float((scene.weather.rain_mm[week] * share).sum())
    pairs: list[Pair] = [("rain_week_mm", counted)]
    if run.plants[column].is_container:
        return pairs
    lost = grove.runoff.by_ground_mm[week, grove.runoff.ground[column]]
    return [*pairs, ("runoff_week_mm", float((lost * share).sum()))]


def _day(scene: Scene) -> list[Pair]:
    series = scene.series
    index = scene.today_index
    low, high = float(series.tmin_c[index]), float(series.tmax_c[index])
    pairs: list[Pair] = [("weather_origin", str(series.origin_on(scene.today)))]
    pairs += _filled(series, scene.today, index)
    if not np.isnan(low + high):
        pairs += [("tmin_c", low), ("tmax_c", high)]
    return pairs


def _filled(series: WeatherSeries, today: date, index: int) -> list[Pair]:
    """Return how today's low was filled, and how many days of the month were."""
    how = FILLED_WORDS.get(series.told("tmin_c", today).known)
    pairs: list[Pair] = [("weather_filled", how)] if how else []
    if series.provenance is None:
        return pairs
    month = series.provenance.known[0, max(index - MONTH_DAYS, 0) : index]
    days = int(np.isin(month, list(FILLED_WORDS)).sum())
    return [*pairs, ("filled_month_days", float(days))] if days else pairs


def working_of(run: Run, column: int, now: Today) -> tuple[Pair, ...]:
    """Return what went into one plant's numbers, by name, in SI units.

    Parameters
    ----------
    run : Run
    column : int
        The plant's place.
    now : Today
    """
    plant, leaf = run.plants[column], run.grove.leaf
    day = leaf.season_day(run.scene.rows, column)
    return (
        *_leaf(plant, leaf.years[column], day),
        *_stores(plant, now, column),
        *_learned(run.learned[column]),
        *_use(run, column),
        *_missing(plant, now, column),
        *_in_rows(plant, now, column),
        *_rain(run, column),
        *_day(run.scene),
    )
