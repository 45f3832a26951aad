"""The notice of each tree's month of rest, and whether it had begun on another day."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

import numpy as np

from care.facts import Array, Flags, TreeFacts, WeatherSeries
from care.planning.fold import Ahead, fold_past, look_ahead
from care.planning.rest_notice import (
    REST_DAYS,
    Rest,
    in_doubt,
    judge_rest,
    month_without,
    soaked_on,
)
from care.planning.root_zones import can_be_balanced
from care.planning.water_scene import Run, Scene, prepare, set_scene


def known_before(series: WeatherSeries, day: date) -> WeatherSeries:
    """Return a series without what was read or forecast of a day and later ones."""
    index = series.index(day)
    is_read = np.array([letter != "n" for letter in series.origin], dtype=bool)
    is_read[:index] = False

    def without(values: Array) -> Array:
        return np.where(is_read, np.nan, values)

    return replace(
        series,
        origin=series.origin[:index].ljust(len(series), "n"),
        tmin_c=without(series.tmin_c),
        tmax_c=without(series.tmax_c),
        rain_mm=without(series.rain_mm),
        provenance=None,
        filled_tmin_c=None,
        filled_tmax_c=None,
    )


def _chances_on(
    scene: Scene, groups: Sequence[tuple[TreeFacts, ...]], day: date
) -> list[float] | None:
    """Return each balance's chance of a month without watering, as of another day.

    What fell after that day is not looked at: past years carry on from there, and
    made-up ones where those are few.
    """
    before = set_scene(
        scene.site,
        known_before(scene.series, day),
        day,
        REST_DAYS + 1,
        work=scene.work,
        observations=scene.observations,
    )
    if before is None:
        return None
    run = prepare(before, groups)
    past = fold_past(run.grove, run.start, before.rows)
    ahead = look_ahead(run.grove, past.stored, before.rows, before.futures)
    shares = month_without(ahead.due, before.futures)
    return None if shares is None else [float(share) for share in shares]


def _begun(run: Run, columns: Sequence[int], day: date) -> dict[int, float]:
    """Return the chances as they were, by place, of the plants that stood then."""
    stood = [c for c in columns if can_be_balanced(run.plants[c].chief, day)]
    if not stood:
        return {}
    chances = _chances_on(run.scene, [run.plants[c].trees for c in stood], day)
    return {} if chances is None else dict(zip(stood, chances, strict=True))


def rests(run: Run, ahead: Ahead, is_half_used: Flags) -> list[Rest]:
    """Return the notice of each plant of a run.

    Parameters
    ----------
    run : Run
    ahead : Ahead
        Of this morning, shape (members, plants).
    is_half_used : array (plants,)
        Whether half of the readily available water is gone.
    """
    today = run.scene.today
    shares = month_without(ahead.due, run.scene.futures)
    soaked = soaked_on(run.scene.series, today)
    doubtful = in_doubt(shares, soaked, today, is_half_used)
    begun = {} if soaked is None else _begun(run, [int(c) for c in doubtful], soaked)
    return [
        judge_rest(
            None if shares is None else float(shares[column]),
            soaked,
            today,
            is_half_used=bool(half),
            probability_then=begun.get(column),
        )
        for column, half in enumerate(is_half_used)
    ]
