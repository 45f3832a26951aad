"""What must hold of the water balance in any weather, for any tree.

Variants that are compared stand side by side as columns of one batch.
"""

from dataclasses import fields, replace

import numpy as np
import pytest
from hypothesis import given, strategies as st
from hypothesis.extra.numpy import arrays

from care.science.water_balance import (
    RootZones,
    Stored,
    arrive,
    use,
    watered_ring_share,
)
from tests.care.science.balance_cases import forcing, new_tree, start, zones

DAYS = 30
RAIN = arrays(float, DAYS, elements=st.floats(0, 50))
ET0 = arrays(float, DAYS, elements=st.floats(0, 9))
WARMING = arrays(float, DAYS, elements=st.floats(0, 18))


def pot(litres):
    return zones(inner_capacity_l=0.3 * litres, inner_rain_area_m2=litres / 400)


def basin(litres):
    """An established tree: a watered basin and five times its soil around it."""
    return zones(
        inner_capacity_l=litres,
        inner_rain_area_m2=litres / 150,
        inner_evaporation_m2=litres / 3000,
        outer_capacity_l=5 * litres,
        outer_rain_area_m2=litres / 30,
        outer_cover_m2=litres / 100,
        spill_share=0.5,
    )


TREES = st.one_of(
    st.builds(pot, st.floats(3, 120)),
    st.builds(basin, st.floats(30, 800)),
    st.builds(new_tree, st.floats(3, 150)),
)


def fold(zone, state, days):
    """Yield each day's morning, evening and what reached the tree."""
    for day in days:
        morning = arrive(zone, state, day)
        evening = use(zone, morning, day)
        state = evening.stored
        yield day, morning, evening


def calendar(rain, et0, warming=None, **each_day):
    none = np.zeros(len(rain))
    columns = zip(rain, et0, none if warming is None else warming, strict=True)
    return [
        forcing(rain=wet, et0=dry, warming=warm, **each_day)
        for wet, dry, warm in columns
    ]


def last_evening(zone, state, days):
    for _day, _morning, evening in fold(zone, state, days):
        state = evening.stored
    return state


def missing(state):
    return state.inner_missing_l + state.outer_missing_l


@given(
    tree=TREES,
    rain=RAIN,
    et0=ET0,
    warming=WARMING,
    watered=arrays(float, DAYS, elements=st.floats(0, 30)),
    demand=st.floats(0.05, 8),
    runoff_share=st.floats(0, 1),
)
def test_no_water_is_lost_and_none_comes_from_nowhere(
    *, tree, rain, et0, warming, watered, demand, runoff_share
):
    days = [
        replace(
            day, given_l=np.atleast_1d(litres), runoff_mm=runoff_share * day.rain_mm
        )
        for day, litres in zip(
            calendar(rain, et0, warming, demand=demand), watered, strict=True
        )
    ]
    state = start(tree, missing=0.3 * tree.inner_capacity_l)
    first, came, gone, area = state, 0.0, 0.0, np.zeros(1)
    for day, morning, evening in fold(tree, state, days):
        state, area = evening.stored, morning.ring_m2
        open_ground = tree.outer_rain_area_m2 + tree.ring_rain_share * area
        came += day.rain_mm * tree.inner_rain_area_m2 + day.given_l
        came += (day.rain_mm - day.runoff_mm) * open_ground + morning.ring_water_l
        flows = (evening.uptake_l, evening.evaporation_l, morning.drained_l)
        gone += sum(flows)
        assert min(flows) >= 0
        assert 0 <= state.inner_missing_l <= tree.inner_capacity_l
        assert 0 <= state.outer_missing_l <= morning.outer_capacity_l
        assert 0 <= morning.stress_ks <= 1
    held = missing(first) - missing(state)
    held += tree.outer_store_l(area) - tree.outer_store_l(np.zeros(1))
    assert came - gone == pytest.approx(held, abs=1e-6)


def first_thirsty_days(zone, days, count):
    """Return each column's first day of thirst, the calendar's end if none."""
    nothing = np.zeros(count)
    found = np.full(count, len(days))
    for number, (_day, morning, _evening) in enumerate(
        fold(zone, Stored(nothing, nothing, nothing), days)
    ):
        thirsty = morning.is_thirsty(zone.inner_capacity_l)
        found = np.where(thirsty & (found == len(days)), number, found)
    return found


@given(TREES, RAIN, ET0, st.floats(0.05, 8), st.integers(0, DAYS - 1), st.floats(0, 40))
def test_more_rain_never_brings_the_day_forward(tree, rain, et0, demand, day, more):
    wetter = rain.copy()
    wetter[day] += more
    days = calendar(np.stack([rain, wetter], axis=1), et0, demand=demand)
    usual, wet = first_thirsty_days(tree, days, 2)
    assert wet >= usual


@given(TREES, RAIN, ET0, st.floats(0.05, 8), st.floats(1, 3))
def test_more_demand_never_puts_the_day_off(tree, rain, et0, demand, factor):
    days = calendar(rain, et0, demand=np.array([demand, factor * demand]))
    usual, thirstier = first_thirsty_days(tree, days, 2)
    assert thirstier <= usual


@given(
    st.floats(20, 400),
    RAIN,
    ET0,
    st.floats(0.01, 0.04),
    st.floats(1, 1.2),
    st.integers(0, DAYS - 1),
    st.floats(0, 40),
)
def test_a_thirstier_tree_is_left_drier_and_a_wetter_one_is_not(
    capacity, rain, et0, demand_per_l, factor, day, more
):
    # One store, whose use in a day stays below what separates stress from drought.
    tree = zones(inner_capacity_l=capacity, inner_rain_area_m2=capacity / 100)
    demand = demand_per_l * capacity * np.array([1, factor, 1])
    rains = np.stack([rain, rain, rain], axis=1)
    rains[day, 2] += more
    nothing = np.zeros(3)
    end = last_evening(
        tree, Stored(nothing, nothing, nothing), calendar(rains, et0, demand=demand)
    )
    usual, thirstier, wetter = end.inner_missing_l
    assert thirstier >= usual - 1e-9
    assert wetter <= usual + 1e-9


@given(
    TREES,
    RAIN,
    arrays(float, DAYS, elements=st.floats(0, 7)),
    WARMING,
    st.floats(0.001, 0.1),
)
def test_obeying_the_advice_keeps_a_tree_from_stress(tree, rain, et0, warming, share):
    # While a day's use is below a tenth of what the watered store holds.
    bare = tree.inner_evaporation_m2
    demand = np.maximum(share * tree.inner_capacity_l / 7 - bare, 0.0)
    state = start(tree)
    for day in calendar(rain, et0, warming, demand=demand):
        morning = arrive(tree, state, day)
        if morning.is_thirsty(tree.inner_capacity_l):
            radius = tree.root_radius_m(morning.stored.warmth)
            ring = watered_ring_share(tree, radius, morning.stored.warmth)
            litres = morning.stored.inner_missing_l
            litres = litres + ring * morning.stored.outer_missing_l
            again = replace(
                day, given_l=litres, rain_mm=0 * day.rain_mm, warming=0 * day.warming
            )
            morning = arrive(tree, morning.stored, again)
        assert morning.stress_ks == 1
        state = use(tree, morning, day).stored


def halved(days):
    """Return the same days in halves: water in the morning, use by the half."""
    for day in days:
        half = replace(day, et0_mm=day.et0_mm / 2)
        yield half
        yield replace(
            half,
            rain_mm=0 * day.rain_mm,
            given_l=0 * day.given_l,
            warming=0 * day.warming,
        )


@given(st.floats(20, 400), RAIN, ET0, st.floats(0.01, 0.05))
def test_halving_the_step_creates_no_water(capacity, rain, et0, demand_per_l):
    tree = pot(capacity / 0.3)
    days = calendar(rain, et0, demand=demand_per_l * capacity)
    ends, gone = [], []
    for steps in (days, list(halved(days))):
        lost = 0.0
        for _day, morning, evening in fold(tree, start(tree), steps):
            lost += morning.drained_l + evening.uptake_l + evening.evaporation_l
            state = evening.stored
        ends.append(state.inner_missing_l.item())
        gone.append(lost.item())
    came = rain.sum() * tree.inner_rain_area_m2.item()
    assert came - np.array(gone) == pytest.approx(-np.array(ends), abs=1e-6)
    # Stress that sets in at noon already saves something, never more than half a day.
    most_saved = et0.max() / 2 * demand_per_l * capacity
    assert -1e-9 <= ends[0] - ends[1] <= most_saved + 1e-9


@given(TREES, RAIN, ET0, st.floats(0, 60), st.floats(0, 1), st.floats(0, 1))
def test_a_watering_in_two_goes_is_one_watering(tree, rain, et0, litres, share, dry):
    state = start(tree, missing=dry * tree.inner_capacity_l)
    once = forcing(rain=rain[0], et0=et0[0], given=litres, warming=5.0)
    first = replace(once, given_l=share * once.given_l)
    rest = replace(
        once,
        given_l=once.given_l - first.given_l,
        rain_mm=0 * once.rain_mm,
        warming=0 * once.warming,
    )
    together = arrive(tree, state, once)
    after_first = arrive(tree, state, first)
    apart = arrive(tree, after_first.stored, rest)
    for name in ("inner_missing_l", "outer_missing_l", "warmth"):
        expected = getattr(together.stored, name)
        assert getattr(apart.stored, name) == pytest.approx(expected, abs=1e-9)
    drained = after_first.drained_l + apart.drained_l
    assert drained == pytest.approx(together.drained_l, abs=1e-9)


@given(TREES, RAIN, ET0, WARMING, st.integers(0, DAYS))
def test_a_record_folded_again_or_taken_up_later_gives_the_same_state(
    tree, rain, et0, warming, pause
):
    days = calendar(rain, et0, warming)
    whole = last_evening(tree, start(tree), days)
    again = last_evening(tree, start(tree), days)
    resumed = last_evening(
        tree, last_evening(tree, start(tree), days[:pause]), days[pause:]
    )
    assert whole == again == resumed


@given(TREES, RAIN, ET0, WARMING, st.floats(0.1, 20))
def test_a_tree_twice_as_large_in_every_way_uses_twice_as_much(
    tree, rain, et0, warming, scale
):
    # As a change of unit would: litres and square metres grow alike.
    fixed = {"depletion_p", "spill_share", "ring_rain_share", "ring_cover_share"}
    fixed |= {"ring_store_l_per_m2"}
    lengths = {"ball_radius_m", "root_growth_m_per_degree_day"}
    larger = {
        each.name: getattr(tree, each.name)
        * (scale ** (0.5 if each.name in lengths else 1))
        for each in fields(RootZones)
        if each.name not in fixed
    }
    end = last_evening(tree, start(tree), calendar(rain, et0, warming))
    scaled = last_evening(
        replace(tree, **larger),
        start(tree),
        calendar(rain, et0, warming, demand=scale),
    )
    assert missing(scaled) == pytest.approx(scale * missing(end), rel=1e-6, abs=1e-6)


@given(TREES, RAIN, ET0, st.sampled_from(["rain", "et0"]), st.integers(0, DAYS - 1))
def test_an_unknown_day_stays_unknown_and_with_its_own_future(
    tree, rain, et0, what, day
):
    rains, et0s = (np.stack([each, each], axis=1) for each in (rain, et0))
    {"rain": rains, "et0": et0s}[what][day, 1] = np.nan
    days = [
        replace(
            forcing(),
            rain_mm=rains[n, :, None],
            et0_mm=et0s[n, :, None],
            kc_et_mm=0.9 * et0s[n, :, None],
        )
        for n in range(DAYS)
    ]
    end = missing(last_evening(tree, start(tree), days))
    known = missing(last_evening(tree, start(tree), calendar(rain, et0)))
    assert end[0] == pytest.approx(known)
    assert np.isnan(end[1])


def test_single_precision_asks_on_the_same_days():
    # Ties aside: a store that is spent to the last drop may fall either way.
    chance, count = np.random.default_rng(4), 900
    trees = [
        make(size)
        for make, least, most in ((pot, 3, 120), (basin, 30, 800), (new_tree, 3, 150))
        for size in chance.uniform(least, most, count // 3)
    ]
    grove = RootZones(
        **{
            each.name: np.concatenate([getattr(tree, each.name) for tree in trees])
            for each in fields(RootZones)
        }
    )
    demand = chance.uniform(0.05, 8, count)
    wet = chance.exponential(12, 90) * (chance.random(90) < 0.2)
    days = calendar(wet, chance.uniform(1, 8, 90), np.full(90, 9.0), demand=demand)
    firsts, ends = [], []
    for kind in (np.float64, np.float32):
        zone, steps = in_precision(grove, kind), [in_precision(d, kind) for d in days]
        nothing = np.zeros(count, kind)
        end = last_evening(zone, Stored(nothing, nothing, nothing), steps)
        assert end.inner_missing_l.dtype == end.outer_missing_l.dtype == kind
        ends.append(missing(end))
        firsts.append(first_thirsty_days(zone, steps, count))
    assert ends[1] == pytest.approx(ends[0], rel=1e-4, abs=0.01)
    assert (firsts[0] < 90).mean() > 0.5
    assert (firsts[0] == firsts[1]).mean() > 0.998


def in_precision(values, kind):
    return replace(
        values,
        **{
            each.name: np.asarray(getattr(values, each.name), kind)
            for each in fields(values)
        },
    )
