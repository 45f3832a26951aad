"""When to water a tree and how much, from the water balance and nothing else.

The next watering is ``next``; those after it are projections, ``later/1`` and on. A
young tree that would go a week without a word is to be felt with a finger: ``next/check``.
"""

import math
from collections.abc import Mapping
from datetime import date, timedelta

import numpy as np

from care.facts import Place, Situation, WaterOutlook
from care.proposals import Proposal, Reason, Scalar
from care.science.rain_ahead import ComingRain, rain_worth_waiting_for
from care.science.soil import texture_where_planted
from care.science.watering_visit import Visit, watering_visit

KIND = "watering"
FIRM_DUE_DAYS = 14
FIRM_EARLIEST_DAYS = 7
FARTHEST_FIRM_DAYS = 30  # nobody ticks off what is due in two months
UNKNOWN_AFTER_DAYS = 7
CHECK_AFTER_DAYS = 7  # a young tree is never left longer unseen; no source
SOON_DAYS = 2  # a watering so near makes a check before it a wasted walk
SOAKING_RAIN_MM = 12.7  # UF/IFAS Citrus Research and Education Center, home citrus
HOT_DAY_C = 30.0  # no source
HEAVY_POT_L = 30.0  # of water and mix together some 40 kg; no source
STRESSED_KS = 0.9
# What else went into the numbers, as far as a stored reason tells it.
TOLD = (
    "winter_share",
    "bare_soil_m2",
    "spacing_m2",
    "crown_cover",
    "in_rows_litres_per_day",
    "missing_after_rain_l",
    "outer_missing_after_rain_l",
    "demand_factor",
    "demand_spread",
    "demand_answers",
    "season_stage",
    "season_day",
    "kc_table_ini",
    "kc_table_mid",
    "kc_table_end",
    "is_kc_climate_adjusted",
    "stock_factor",
    "store_kind",
    "ball_l",
    "pot_l",
    "available_mm_per_m",
    "root_depth_m",
    "depletion_p_table",
    "efficiency",
    "leaching_fraction",
    "rain_week_mm",
    "runoff_week_mm",
    "tmin_c",
    "tmax_c",
)


def propose(situation: Situation) -> tuple[Proposal, ...]:
    """Return the next watering of one tree, those expected after it, and a check.

    Nothing is proposed without an outlook, on frozen soil, for a grown tree that the
    water table feeds, or where the horizon ends before any need. On full soil nothing
    can be done: in the ground what comes next is a projection, and a full pot waits
    for another day.

    Parameters
    ----------
    situation : Situation
        One tree on one morning, with its water outlook.

    Returns
    -------
    tuple of Proposal
        Amounts in litres to pour. Firm only for the check, and for ``next`` when it
        is due within two weeks, or within a month and may begin within a week.
        Source: Allen et al. (1998), FAO-56, chapter 8.
    """
    water = situation.water
    if water is None or water.is_frozen or "water_table_within_reach" in water.notes:
        return ()
    if water.is_saturated and water.due_in_days == 0:
        return ()
    waterings: tuple[Proposal, ...] = ()
    if water.due_in_days is not None:
        rain = rain_worth_waiting_for(situation, water)
        first = _next(situation, water, water.due_in_days if rain is None else 1, rain)
        waterings = (first, *_later(situation, water))
    return waterings + _check(situation, water)


def poured_litres(litres: float) -> float:
    """Return an amount as a person would measure it, never less than needed [L]."""
    steps = ((2.0, 0.1), (10.0, 0.5), (50.0, 1.0), (math.inf, 5.0))
    step = next(step for limit, step in steps if litres < limit)
    return round(math.ceil(litres / step - 1e-9) * step, 1)


def _day(situation: Situation, days: int | None) -> date | None:
    return None if days is None else situation.today + timedelta(days=days)


def _next(
    situation: Situation,
    water: WaterOutlook,
    due_days: int,
    rain: ComingRain | None,
) -> Proposal:
    earliest_days = min(water.earliest_in_days or 0, due_days)
    if rain is not None:
        earliest_days = due_days
    last_likely = water.likely_in_days[2]
    latest_days = water.latest_in_days
    if latest_days is None:
        latest_days = due_days if last_likely is None else last_likely
    low, middle, high = (_day(situation, days) for days in water.likely_in_days)
    is_unknown = water.unknown_water_days > UNKNOWN_AFTER_DAYS
    litres = poured_litres(water.water_gross_l)
    visit = watering_visit(litres, water, situation.tree, situation.site)
    return Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key="next",
        action="water",
        earliest=situation.today + timedelta(days=earliest_days),
        due=situation.today + timedelta(days=due_days),
        latest=situation.today + timedelta(days=max(latest_days, due_days)),
        reason=_reason(situation, water, due_days, visit, rain),
        amount=litres,
        unit="L",
        sources=_sources(situation, due_days),
        cautions=_cautions(situation, water, due_days, visit),
        effort_minutes=visit.effort_minutes,
        is_firm=_is_firm(water, earliest_days, due_days),
        is_urgent=due_days == 0 and water.stress_ks < STRESSED_KS and not is_unknown,
        likely=(low, middle, high),
    )


def _is_firm(water: WaterOutlook, earliest_days: int, due_days: int) -> bool:
    if water.is_saturated and not water.is_container:
        return False
    may_begin_soon = earliest_days <= FIRM_EARLIEST_DAYS
    is_in_sight = due_days <= FARTHEST_FIRM_DAYS
    return due_days <= FIRM_DUE_DAYS or (may_begin_soon and is_in_sight)


def _later(situation: Situation, water: WaterOutlook) -> tuple[Proposal, ...]:
    """Return the waterings after the next one, if every one is done in time."""
    share = water.water_gross_l / water.water_net_l if water.water_net_l > 0 else 1.0
    reason = Reason("water_later", (("litres_per_day", round(water.use_l, 3)),))
    projected = []
    pairs = zip(water.later_in_days, water.later_net_l, strict=True)
    for number, (days, net_l) in enumerate(pairs, start=1):
        due = situation.today + timedelta(days=days)
        litres = poured_litres(share * net_l)
        visit = watering_visit(litres, water, situation.tree, situation.site)
        projected.append(
            Proposal(
                tree_id=situation.tree.id,
                kind=KIND,
                key=f"later/{number}",
                action="water",
                earliest=due,
                due=due,
                latest=due,
                reason=reason,
                amount=litres,
                unit="L",
                sources=_sources(situation, days),
                effort_minutes=visit.effort_minutes,
                is_firm=False,
            )
        )
    return tuple(projected)


def _code(water: WaterOutlook) -> str:
    if water.is_container:
        return "water_pot"
    return "water_established" if water.is_established else "water_new"


def _source_kind(situation: Situation, due_days: int) -> str:
    weather = situation.weather
    due = situation.today + timedelta(days=due_days)
    if weather is None or not weather.covers(due):
        return "unknown"
    return str(weather.origin_on(due))


def _reason(
    situation: Situation,
    water: WaterOutlook,
    due_days: int,
    visit: Visit,
    rain: ComingRain | None,
) -> Reason:
    basin = water.basin_area_m2
    facts: dict[str, Scalar] = {
        "litres_per_day": water.use_l,
        "et0_mm": water.et0_mm,
        "kc": water.kc,
        "crown_area_m2": water.crown_area_m2,
        "store_l": water.store_l,
        "missing_l": water.missing_l,
        "outer_store_l": water.outer_store_l,
        "outer_missing_l": water.outer_missing_l,
        "readily_available_l": water.readily_available_l,
        "spare_l": water.spare_l,
        "threshold": water.depletion_p,
        "threshold_l": water.depletion_p * water.store_l,
        "stress_ks": water.stress_ks,
        "net_l": water.water_net_l,
        "gross_l": water.water_gross_l,
        "rain_last_week_l": water.rain_last_week_l,
        "rain_known": water.rain_known,
        "basin_area_m2": basin,
        "depth_mm": water.water_net_l / basin if basin > 0 else None,
        "root_radius_m": water.root_radius_m,
        "soil_texture": None if water.is_container else situation.site.soil_texture,
        "method": water.et0_method,
        "source_kind": _source_kind(situation, due_days),
        "method_may_run_low": "hargreaves_may_run_low" in water.notes,
        "crown_is_guess": "crown_estimated" in water.notes,
        "unknown_water_days": water.unknown_water_days,
        "needs_twice_daily": water.needs_twice_daily,
        "clump_size": 1 + len(situation.clump_mates),
        "due_in_days": due_days,
        "minutes": visit.minutes,
        "flow": visit.flow,
        "cycles": visit.cycles,
        "cycle_minutes": visit.cycle_minutes,
        "soak_minutes": visit.soak_minutes,
        "spread_days": visit.days,
    }
    if rain is not None:
        facts |= {"rain_wait_on": rain.day, "rain_wait_mm": rain.rain_mm}
    told = dict(water.working)
    facts |= {name: told[name] for name in TOLD if name in told}
    changes = _would_change(situation, water, visit)
    return Reason(_code(water), _rounded(facts), changes)


def _rounded(facts: Mapping[str, Scalar]) -> tuple[tuple[str, Scalar], ...]:
    return tuple(
        (name, round(value, 3) if isinstance(value, float) else value)
        for name, value in facts.items()
    )


def _would_change(
    situation: Situation, water: WaterOutlook, visit: Visit
) -> tuple[str, ...]:
    tree = situation.tree
    is_doubtful = "demand_out_of_range" in water.notes
    is_under_sky = tree.place_on(situation.today) is Place.OUTDOORS
    codes = {
        "rain": is_under_sky,
        "forecast": is_under_sky,
        "soil_feel": True,
        "watering_logged": True,
        "irrigation_entered": tree.standing_irrigation is None,
        "crown_measured": "crown_estimated" in water.notes or is_doubtful,
        "pot_measured": water.is_container and is_doubtful,
        "flow_timed": not visit.flow or is_doubtful,
        "pot_moved": water.is_container,
    }
    return tuple(code for code, applies in codes.items() if applies)


def _sources(situation: Situation, due_days: int) -> tuple[str, ...]:
    kc_source = situation.tree.species.source_of("kc_mid")
    hot = ("rutgers_fs812",) if _is_hot_pot(situation, due_days) else ()
    return tuple(dict.fromkeys(("fao56", kc_source, *hot)))


def _cautions(
    situation: Situation, water: WaterOutlook, due_days: int, visit: Visit
) -> tuple[str, ...]:
    is_slow = visit.cycles > 1 or _is_slow_to_soak(situation, water)
    codes = {
        "not_when_soil_wet": True,
        "feel_soil_first": water.unknown_water_days > UNKNOWN_AFTER_DAYS,
        "rain_unknown_check_soil": not water.rain_known,
        "check_twice_daily": water.needs_twice_daily,
        "pot_too_small": water.pot_too_small,
        "lifting_after_watering": (situation.tree.container_litres or 0) >= HEAVY_POT_L
        and water.is_container,
        "pour_in_portions": is_slow,
        "drowns_easily": "drains_too_slowly" in water.notes,
        "salty_water": situation.site.is_water_salty,
        "hot_pot": _is_hot_pot(situation, due_days),
        "heat_work_early": _is_hot(situation, due_days),
    }
    return tuple(code for code, applies in codes.items() if applies)


def _is_slow_to_soak(situation: Situation, water: WaterOutlook) -> bool:
    """Whether the water needs more than an hour to go in, at the soil's slow end."""
    if water.is_container or water.basin_area_m2 <= 0:
        return False
    depth_mm = water.water_gross_l / water.basin_area_m2
    soil = texture_where_planted(
        situation.site.soil_texture, situation.tree.drainage_hours
    )
    return depth_mm > soil.infiltration_mm_h[0]


def _is_hot(situation: Situation, due_days: int) -> bool:
    weather = situation.weather
    due = situation.today + timedelta(days=due_days)
    if weather is None or not weather.covers(due):
        return False
    return bool(weather.tmax_c[weather.index(due)] >= HOT_DAY_C)


def _is_hot_pot(situation: Situation, due_days: int) -> bool:
    due = situation.today + timedelta(days=due_days)
    is_out = situation.tree.place_on(due) is Place.OUTDOORS
    return situation.tree.in_container and is_out and _is_hot(situation, due_days)


def _rain_last_week_mm(situation: Situation) -> float:
    weather = situation.weather
    if weather is None:
        return 0.0
    today = weather.index(situation.today)
    return float(np.nansum(weather.rain_mm[max(today - 7, 0) : max(today, 0)]))


def _last_word(situation: Situation) -> date:
    """Return the last day on which anybody looked after this tree's water."""
    tree = situation.tree
    ids = {tree.id, *situation.clump_mates}
    days = [tree.planted_on or tree.entered_on]
    days += [w.on for w in situation.work if w.tree_id in ids and w.kind == KIND]
    days += [
        seen.on
        for seen in situation.observations
        if seen.tree_id in ids and seen.what == "soil_feel"
    ]
    return max(day for day in days if day <= situation.today)


def _check(situation: Situation, water: WaterOutlook) -> tuple[Proposal, ...]:
    """Return a finger test where the model would leave a young tree for a week."""
    if water.is_container or water.is_established or water.is_dormant:
        return ()
    if water.is_saturated:
        return ()
    if _rain_last_week_mm(situation) >= SOAKING_RAIN_MM:
        return ()
    last = _last_word(situation)
    due = max(last + timedelta(days=CHECK_AFTER_DAYS), situation.today)
    watering = _day(situation, water.due_in_days)
    if watering is not None and watering <= due + timedelta(days=SOON_DAYS):
        return ()
    reason = Reason(
        "check_new",
        _rounded(
            {
                "days_since_word": (situation.today - last).days,
                "litres_per_day": water.use_l,
                "missing_l": water.missing_l,
                "store_l": water.store_l,
                "threshold": water.depletion_p,
                "root_radius_m": water.root_radius_m,
                "rain_last_week_mm": _rain_last_week_mm(situation),
                "finger_depth_mm": 100,
            }
        ),
        ("soil_feel", "rain", "watering_logged"),
    )
    return (
        Proposal(
            tree_id=situation.tree.id,
            kind=KIND,
            key="next/check",
            action="check",
            earliest=max(due - timedelta(days=2), situation.today),
            due=due,
            latest=due + timedelta(days=3),
            reason=reason,
            sources=("uf_citrus_home",),
            cautions=("not_when_soil_wet",),
            effort_minutes=3,
        ),
    )
