"""What the water balance says of every tree of a site this morning and from here on.

The state starts full at planting or a bounded time back and is folded over the
weather, the log and standing irrigation up to last evening; nothing is stored in
between. From today the balance runs through each imagined future. A dry forecast or a
wet one moves the dates only: tomorrow's plan folds what really fell.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta

import numpy as np

from care.facts import (
    Array,
    Flags,
    Observation,
    SiteFacts,
    TreeFacts,
    WaterCourse,
    WaterOutlook,
    WeatherSeries,
    WorkDone,
)
from care.planning.fold import (
    NEVER,
    Ahead,
    Past,
    Waterings,
    dawn,
    fold_past,
    look_ahead,
    obey_ahead,
)
from care.planning.futures import from_the_middle
from care.planning.outlook import (
    Dates,
    Today,
    compose_outlook,
    date_needs,
    days_without_word,
)
from care.planning.rest_then import rests
from care.planning.tree_days import Words, listen
from care.planning.water_scene import Run, group_trees, prepare, set_scene
from care.planning.water_working import working_of
from care.science.water_balance import arrive

HORIZON_DAYS = 120
PLANTS_AT_ONCE = 500  # keeps the arrays of a day in the processor's cache
UNKNOWN_AFTER_DAYS = 7  # without a word the person may have watered unseen
WEEK_DAYS = 7
DOUBTED_RAIN_DAYS = 2  # of the last week without a word on rain; ours


def _this_morning(run: Run, past: Past) -> Today:
    """Return the state of all plants today."""
    grove, scene = run.grove, run.scene
    row, index = scene.rows, scene.today_index
    stored, litres = dawn(grove, row, past.stored)
    day = grove.forcing(row, index, litres)
    week = slice(max(index - 7, 0), index)
    return Today(
        morning=arrive(grove.zones, stored, day),
        missing_l=np.maximum(stored.inner_missing_l - litres, 0.0),
        outer_missing_l=stored.outer_missing_l,
        given_l=litres,
        et0_mm=day.et0_mm,
        kc=grove.leaf.kc[row],
        root_radius_m=grove.zones.root_radius_m(stored.warmth),
        watered_radius_m=grove.radius_m(stored.warmth),
        is_frozen=grove.is_frozen(row, index),
        is_leafless=grove.leaf.is_leafless[row],
        et0_method=scene.weather.et0_method[index],
        is_rain_known=bool(scene.weather.is_rain_known[week].all()),
        is_water_table_up=scene.is_water_table_up,
    )


def _dates(
    run: Run, past: Past, ahead: Ahead, words: Sequence[Words]
) -> list[tuple[Dates, int]]:
    """Return each plant's days and for how long nobody has spoken of it."""
    scene, grove = run.scene, run.grove
    ordinary = from_the_middle(scene.weather, scene.futures)
    silent = [
        days_without_word(plant, words[column], past, column, scene.today)
        for column, plant in enumerate(run.plants)
    ]
    is_rain_doubted = _rain_is_doubted(run)
    unseen = None
    if max(silent) > UNKNOWN_AFTER_DAYS or is_rain_doubted.any():
        full = replace(
            past.stored, inner_missing_l=np.zeros_like(past.stored.inner_missing_l)
        )
        unseen = look_ahead(grove, full, scene.rows, scene.futures)
    return [
        (
            date_needs(
                ahead,
                column,
                ordinary=ordinary,
                plant=plant,
                words=words[column],
                today=scene.today,
                if_watered_unseen=unseen if days > UNKNOWN_AFTER_DAYS else None,
                if_rained_unseen=unseen if is_rain_doubted[column] else None,
            ),
            days,
        )
        for column, (plant, days) in enumerate(zip(run.plants, silent, strict=True))
    ]


def _rain_is_doubted(run: Run) -> Flags:
    """Return for which plants rain that nobody measured may have filled the soil."""
    scene, grove = run.scene, run.grove
    week = slice(max(scene.today_index - WEEK_DAYS, 0), scene.today_index)
    unknown = int((~scene.weather.is_rain_known[week]).sum())
    reaches = grove.days.rain_share[scene.rows] > 0
    return np.asarray(reaches & (unknown > DOUBTED_RAIN_DAYS))


def _obeyed(
    run: Run, past: Past, dates: Sequence[tuple[Dates, int]]
) -> tuple[Waterings, ...]:
    """Return each plant's waterings ahead, if every one is done on its day."""
    return obey_ahead(
        run.grove,
        past.stored,
        run.scene.rows,
        run.scene.futures,
        members=np.array([each.member for each, _silent in dates]),
        first=np.array([NEVER if d.due is None else d.due for d, _silent in dates]),
    )


def _outlooks(run: Run) -> Iterator[tuple[int, WaterOutlook]]:
    scene, grove = run.scene, run.grove
    past = fold_past(grove, run.start, scene.rows)
    now = _this_morning(run, past)
    words = listen(run.plants, scene.work, scene.observations)
    ahead = look_ahead(grove, past.stored, scene.rows, scene.futures)
    dates = _dates(run, past, ahead, words)
    is_half_used = now.morning.is_half_used(grove.zones.inner_capacity_l)
    notices = rests(run, ahead, is_half_used)
    waterings = _obeyed(run, past, dates)
    for column, plant in enumerate(run.plants):
        outlook = compose_outlook(
            plant,
            column,
            now=now,
            past=past,
            dates=dates[column][0],
            waterings=waterings[column],
            unknown_days=dates[column][1],
            today=scene.today,
            learned=run.learned[column],
            rest=notices[column],
            members=scene.futures.members,
            working=working_of(run, column, now),
        )
        yield from ((tree.id, outlook) for tree in plant.trees)


def simulate_water(  # noqa: PLR0917 - the six facts of a plan, in the order they come
    site: SiteFacts,
    trees: Sequence[TreeFacts],
    weather: WeatherSeries,
    work: Sequence[WorkDone],
    observations: Sequence[Observation],
    today: date,
    horizon_days: int = HORIZON_DAYS,
) -> dict[int, WaterOutlook]:
    """Return the water outlook of every tree whose water can be balanced.

    Parameters
    ----------
    site : SiteFacts
        Latitude, elevation and soil.
    trees : sequence of TreeFacts
        Of this site, in any order. Left out of the answer: trees planted after
        today, and pots of unknown size.
    weather : WeatherSeries
        Contiguous days up to today and as far ahead as there are normals; if it ends
        before the horizon, so do the dates. Without today in it, or without any
        temperature, nothing can be said and the answer is empty.
    work : sequence of WorkDone
        Waterings in litres (``None``: as much as was missing); other kinds and
        later days are ignored, skipped ones add nothing and put the next off.
    observations : sequence of Observation
        Soil feels; later days are ignored.
    today : date
    horizon_days : int
        How far to look ahead [days].

    Returns
    -------
    dict of int to WaterOutlook
        By tree; members of a clump share one balance and carry equal litres.

    Raises
    ------
    ValueError
        If the site's soil texture is unknown.
    """
    groups = group_trees(trees, today)
    scene = set_scene(
        site, weather, today, horizon_days, work=work, observations=observations
    )
    if not groups or scene is None:
        return {}
    outlooks: dict[int, WaterOutlook] = {}
    for begin in range(0, len(groups), PLANTS_AT_ONCE):
        run = prepare(scene, groups[begin : begin + PLANTS_AT_ONCE])
        outlooks.update(_outlooks(run))
    return outlooks


def water_course(
    site: SiteFacts,
    trees: Sequence[TreeFacts],
    weather: WeatherSeries,
    work: Sequence[WorkDone],
    *,
    observations: Sequence[Observation],
    today: date,
    tree_id: int,
    back_days: int = 30,
    ahead_days: int = 14,
) -> WaterCourse | None:
    """Return one tree's water from some days back to some days ahead.

    Parameters
    ----------
    site, trees, weather, work, observations, today
        As for :func:`simulate_water`; of ``trees`` only the tree and those of its
        clump matter.
    tree_id : int
        The tree; a member of a clump gets its share.
    back_days, ahead_days : int
        Span around today, cut where the weather ends.

    Returns
    -------
    WaterCourse or None
        ``None`` where :func:`simulate_water` would leave the tree out.
    """
    groups = [
        members
        for members in group_trees(trees, today)
        if tree_id in {tree.id for tree in members}
    ]
    scene = set_scene(
        site, weather, today, HORIZON_DAYS, work=work, observations=observations
    )
    if not groups or scene is None:
        return None
    run = prepare(scene, groups)
    past = _as_planned(run, min(ahead_days + 1, scene.futures.days))
    begin = max(scene.rows - back_days, 0)
    share = 1 / len(groups[0])
    first = scene.series.start + timedelta(days=scene.first_index)

    def span(values: Array) -> Array:
        return np.asarray(share * values[begin:, 0])

    return WaterCourse(
        days=tuple(
            first + timedelta(days=row) for row in range(begin, len(past.missing_l))
        ),
        dry_l=span(past.dry_l),
        missing_l=span(past.missing_l),
        threshold_l=span(past.threshold_l),
        rain_l=span(past.rain_l),
        given_l=span(past.given_l),
        use_l=span(past.wanted_l),
    )


def _as_planned(run: Run, days: int) -> Past:
    """Fold one plant on through its planned waterings for some days."""
    scene, grove = run.scene, run.grove
    past = fold_past(grove, run.start, scene.rows)
    ahead = look_ahead(grove, past.stored, scene.rows, scene.futures)
    words = listen(run.plants, scene.work, scene.observations)
    dates = _dates(run, past, ahead, words)
    waterings = _obeyed(run, past, dates)[0]
    for day, net_l in zip(waterings.days, waterings.net_l, strict=True):
        grove.days.given_l[scene.rows + day, 0] += net_l
    future = scene.futures.picks[dates[0][0].member, :days]
    return fold_past(grove, run.start, scene.rows + days, future)
