"""How fast the daily water balance of two stores is, and how much memory it takes.

Run: ``.venvs/lts-test/bin/python -m tests.benchmarks.balance [--trees N]``. It folds
the steps of ``care.science.water_balance`` over 10,000 trees, 120 days and 30 years
of weather drawn from a fixed seed, as many trees at once as the plan takes. Every
third tree is new and its ring of roots grows.

A bare numpy kernel does the same arithmetic on the same days without any of the
project's types, and a plain Python loop does it for a few trees, from which its time
for all is extrapolated. All three sum up where the water went, and must agree on a few
trees before any is timed. The project's steps are timed in single precision as well.

Targets at full size: at most 3 times as long as the kernel, at least 100 times faster
than the loop, the memory of the whole process below 1 GiB.
"""

import argparse
import math
import resource
import statistics
import sys
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass, fields, replace
from types import SimpleNamespace

import numpy as np

from care.facts import Array
from care.planning.simulate import PLANTS_AT_ONCE
from care.science.water_balance import (
    SMALLEST,
    Forcing,
    RootZones,
    Stored,
    arrive,
    use,
)

LoopDay = tuple[tuple[float, ...], float, float, float]

TREES, DAYS, YEARS = 10_000, 120, 30
ROUNDS, LOOP_TREES, WATERED_EVERY_DAYS = 3, 21, 14
ENTRIES = tuple(RootZones.__dataclass_fields__)


@dataclass(frozen=True, slots=True)
class Case:
    """Trees and their weather."""

    zones: RootZones
    crown_m2: Array  # (trees,)
    watering_l: Array  # (trees,), once a fortnight
    kc: Array  # (days, trees)
    et0_mm: Array  # (years, days)
    rain_mm: Array  # (years, days)
    runoff_mm: Array  # (years, days)
    warming: Array  # (years, days)

    def part(self, columns: slice) -> "Case":
        """Return some of the trees under the same weather."""
        return replace(
            self,
            zones=RootZones(**{n: getattr(self.zones, n)[columns] for n in ENTRIES}),
            crown_m2=self.crown_m2[columns],
            watering_l=self.watering_l[columns],
            kc=self.kc[:, columns],
        )

    def single(self) -> "Case":
        """Return the same case in single precision."""
        zones = {n: getattr(self.zones, n).astype(np.float32) for n in ENTRIES}
        others = {
            each.name: getattr(self, each.name).astype(np.float32)
            for each in fields(self)
            if each.name != "zones"
        }
        return Case(zones=RootZones(**zones), **others)

    def given_l(self, day: int) -> Array:
        """Return the day's watering of each tree."""
        return self.watering_l * float(day % WATERED_EVERY_DAYS == 0)


@dataclass(frozen=True, slots=True)
class Result:
    """State on the last evening and sums of all days, shape (years, trees) [L]."""

    inner_missing_l: Array
    outer_missing_l: Array
    uptake_l: Array
    evaporation_l: Array
    drained_l: Array


def make_case(trees: int) -> Case:
    """Draw trees and weather of a dry summer with storms."""
    rng = np.random.default_rng(7)
    crown = rng.uniform(1.0, 20.0, trees)
    inner = rng.uniform(60.0, 120.0, trees) * np.maximum(crown / 4, 0.5)
    is_new = np.arange(trees) % 3 == 0
    old = np.where(is_new, 0.0, 1.0)
    new = 1 - old
    zones = {
        "depletion_p": rng.uniform(0.4, 0.6, trees),
        "inner_capacity_l": inner,
        "inner_rain_area_m2": 0.9 * np.maximum(crown / 4, 0.5),
        "inner_evaporation_m2": 0.05 * crown,
        "outer_capacity_l": old * inner * rng.uniform(1.0, 6.0, trees),
        "outer_rain_area_m2": old * 2.0 * crown,
        "outer_cover_m2": old * rng.uniform(0.0, 0.8, trees) * crown,
        "spill_share": rng.uniform(0.0, 1.0, trees),
        "ball_radius_m": rng.uniform(0.1, 0.4, trees),
        "root_growth_m_per_degree_day": new * 0.00036,
        "ring_store_l_per_m2": new * 30.0,
        "ring_rain_share": new * 0.63,
        "ring_cover_share": new * rng.uniform(0.07, 0.5, trees),
    }
    shape = (YEARS, DAYS)
    rain = rng.exponential(15.0, shape) * (rng.random(shape) < 0.15)
    return Case(
        zones=RootZones(**zones),
        crown_m2=crown,
        watering_l=0.3 * inner,
        kc=np.linspace(0.6, 1.1, DAYS)[:, None] * rng.uniform(0.8, 1.0, trees),
        et0_mm=rng.uniform(2.0, 8.0, shape),
        rain_mm=rain,
        runoff_mm=0.1 * np.maximum(rain - 20.0, 0.0),
        warming=rng.uniform(5.0, 20.0, shape),
    )


def fold_own(case: Case) -> Result:
    """Fold the days with the project's own steps."""
    shape, kind = (YEARS, len(case.crown_m2)), case.et0_mm.dtype
    stored = Stored(*(np.zeros(shape, kind) for _ in range(3)))
    uptake, evaporation, drained = (np.zeros(shape, kind) for _ in range(3))
    for day in range(DAYS):
        et0 = case.et0_mm[:, day, None]
        forcing = Forcing(
            et0_mm=et0,
            rain_mm=case.rain_mm[:, day, None],
            demand_m2=case.kc[day] * case.crown_m2,
            kc_et_mm=case.kc[day] * et0,
            given_l=case.given_l(day),
            warming=case.warming[:, day, None],
            runoff_mm=case.runoff_mm[:, day, None],
        )
        morning = arrive(case.zones, stored, forcing)
        evening = use(case.zones, morning, forcing)
        stored = evening.stored
        uptake += evening.uptake_l
        evaporation += evening.evaporation_l
        drained += morning.drained_l
    return Result(
        stored.inner_missing_l, stored.outer_missing_l, uptake, evaporation, drained
    )


def fold_kernel(case: Case) -> Result:
    """Fold the days with bare arrays, the same arithmetic step by step."""
    z = case.zones
    shape = (YEARS, len(case.crown_m2))
    inner, outer, warmth, uptake, evaporation, drained = (
        np.zeros(shape) for _ in range(6)
    )
    holds, ring = z.inner_capacity_l, np.zeros(shape)
    for day in range(DAYS):
        et0, rain = case.et0_mm[:, day, None], case.rain_mm[:, day, None]
        soaking = rain - case.runoff_mm[:, day, None]
        warmth = warmth + case.warming[:, day, None]
        reach = z.ball_radius_m + z.root_growth_m_per_degree_day * warmth
        before, ring = ring, np.pi * (reach**2 - z.ball_radius_m**2)
        outer_holds = z.outer_capacity_l + z.ring_store_l_per_m2 * ring
        grown = z.ring_store_l_per_m2 * (ring - before)
        caught = z.outer_rain_area_m2 + z.ring_rain_share * ring
        inner = inner - rain * z.inner_rain_area_m2 - case.given_l(day)
        over = np.maximum(-inner, 0.0)
        inner = np.maximum(inner, 0.0)
        outer = outer + 0.3 * grown - soaking * caught - z.spill_share * over
        drained += np.maximum(-outer, 0.0) + (1 - z.spill_share) * over
        outer = np.maximum(outer, 0.0)
        p = np.clip(z.depletion_p + 0.04 * (5 - case.kc[day] * et0), 0.1, 0.8)
        inner_left, outer_left = holds - inner, outer_holds - outer
        inner_ks = np.minimum(inner_left / ((1 - p) * holds), 1.0)
        span = np.maximum((1 - p) * outer_holds, SMALLEST)
        outer_ks = np.minimum(outer_left / span, 1.0)
        is_reserve = outer_holds > 0.25 * holds
        ks = np.where(is_reserve, np.maximum(inner_ks, outer_ks), inner_ks)
        inner_pull, outer_pull = holds * inner_ks, outer_holds * outer_ks
        share = et0 * (case.kc[day] * case.crown_m2) * ks
        share = share / np.maximum(inner_pull + outer_pull, SMALLEST)
        inner_taken = np.minimum(share * inner_pull, inner_left)
        outer_taken = np.minimum(share * outer_pull, outer_left)
        cover = et0 * (z.outer_cover_m2 + z.ring_cover_share * ring) * outer_ks
        dried = np.minimum(et0 * z.inner_evaporation_m2, inner_left - inner_taken)
        drunk = np.minimum(cover, outer_left - outer_taken)
        inner = np.minimum(inner + inner_taken + dried, holds)
        outer = np.minimum(outer + outer_taken + drunk, outer_holds)
        uptake += inner_taken + outer_taken
        evaporation += dried + drunk
    return Result(inner, outer, uptake, evaporation, drained)


def fold_loop(case: Case) -> Result:
    """Fold the days tree by tree and year by year with plain numbers."""
    weather = [
        list(zip(*(each.tolist() for each in year), strict=True))
        for year in zip(
            case.et0_mm, case.rain_mm, case.runoff_mm, case.warming, strict=True
        )
    ]
    given = np.array([case.given_l(day) for day in range(DAYS)])
    folded = []
    for tree in range(len(case.crown_m2)):
        zone = SimpleNamespace(
            **{name: float(getattr(case.zones, name)[tree]) for name in ENTRIES}
        )
        demand = (case.kc[:, tree] * case.crown_m2[tree]).tolist()
        kc, watering = case.kc[:, tree].tolist(), given[:, tree].tolist()
        folded += [
            _loop_year(zone, zip(year, kc, demand, watering, strict=True))
            for year in weather
        ]
    return Result(*np.array(folded).reshape(-1, YEARS, 5).transpose(2, 1, 0))


def _loop_year(zone: SimpleNamespace, days: Iterable[LoopDay]) -> tuple[float, ...]:
    inner = outer = warmth = ring = uptake = evaporation = drained = 0.0
    holds, ball, spill = zone.inner_capacity_l, zone.ball_radius_m, zone.spill_share
    for (et0, rain, runoff, warming), kc, demand, given in days:
        warmth += warming
        reach = ball + zone.root_growth_m_per_degree_day * warmth
        before, ring = ring, math.pi * (reach**2 - ball**2)
        outer_holds = zone.outer_capacity_l + zone.ring_store_l_per_m2 * ring
        caught = zone.outer_rain_area_m2 + zone.ring_rain_share * ring
        inner -= rain * zone.inner_rain_area_m2 + given
        over, inner = max(-inner, 0.0), max(inner, 0.0)
        outer += 0.3 * zone.ring_store_l_per_m2 * (ring - before)
        outer -= (rain - runoff) * caught + spill * over
        drained += max(-outer, 0.0) + (1 - spill) * over
        outer = max(outer, 0.0)
        p = min(max(zone.depletion_p + 0.04 * (5 - kc * et0), 0.1), 0.8)
        inner_left, outer_left = holds - inner, outer_holds - outer
        inner_ks = min(inner_left / ((1 - p) * holds), 1.0)
        outer_ks = min(outer_left / max((1 - p) * outer_holds, SMALLEST), 1.0)
        is_reserve = outer_holds > 0.25 * holds
        ks = max(inner_ks, outer_ks) if is_reserve else inner_ks
        inner_pull, outer_pull = holds * inner_ks, outer_holds * outer_ks
        share = et0 * demand * ks / max(inner_pull + outer_pull, SMALLEST)
        inner_taken = min(share * inner_pull, inner_left)
        outer_taken = min(share * outer_pull, outer_left)
        cover = et0 * (zone.outer_cover_m2 + zone.ring_cover_share * ring) * outer_ks
        dried = min(et0 * zone.inner_evaporation_m2, inner_left - inner_taken)
        drunk = min(cover, outer_left - outer_taken)
        inner = min(inner + inner_taken + dried, holds)
        outer = min(outer + outer_taken + drunk, outer_holds)
        uptake += inner_taken + outer_taken
        evaporation += dried + drunk
    return inner, outer, uptake, evaporation, drained


def check(case: Case) -> None:
    """Raise unless all agree on trees of which some thirst and some do not."""
    own, kernel, loop = fold_own(case), fold_kernel(case), fold_loop(case)
    single = fold_own(case.single())
    for name in Result.__dataclass_fields__:
        mine = getattr(own, name)
        np.testing.assert_allclose(getattr(kernel, name), mine, 1e-9, 1e-6)
        np.testing.assert_allclose(getattr(loop, name), mine, 1e-9, 1e-6)
        np.testing.assert_allclose(getattr(single, name), mine, 1e-3, 0.05)
    thirsty = own.uptake_l < 0.95 * (case.et0_mm @ (case.kc * case.crown_m2))
    if not thirsty.any() or thirsty.all():
        msg = "the case must hold both thirsty and unstressed trees"
        raise RuntimeError(msg)


def in_chunks(fold: Callable[[Case], Result], case: Case) -> float:
    """Fold all trees, as many at once as the plan takes; return the uptake [L]."""
    total = 0.0
    for at in range(0, len(case.crown_m2), PLANTS_AT_ONCE):
        total += fold(case.part(slice(at, at + PLANTS_AT_ONCE))).uptake_l.sum()
    return total


def seconds(run: Callable[[], object]) -> float:
    """Return the processor's time of a run, whatever else the machine is doing."""
    began = time.process_time()
    run()
    return time.process_time() - began


def bench(trees: int) -> None:
    """Time all in turn and print the medians, the ratios and the memory."""
    few, case = make_case(LOOP_TREES), make_case(trees)
    check(few)
    single = case.single()
    runs = {
        "kernel": lambda: in_chunks(fold_kernel, case),
        "own": lambda: in_chunks(fold_own, case),
        "own_single": lambda: in_chunks(fold_own, single),
        "loop": lambda: fold_loop(few),
    }
    times: dict[str, list[float]] = {name: [] for name in runs}
    for _ in range(ROUNDS):
        for name, run in runs.items():
            times[name].append(seconds(run))
    took = {name: statistics.median(each) for name, each in times.items()}
    took["loop"] *= trees / LOOP_TREES
    print(f"{trees} trees x {DAYS} days x {YEARS} years; medians of {ROUNDS} runs")
    for name, median in took.items():
        ns = median / (trees * DAYS * YEARS) * 1e9
        print(f"  {name:12} {median:9.3f} s = {ns:6.1f} ns per tree and day")
    judge(**took)


def judge(*, kernel: float, own: float, own_single: float, loop: float) -> None:
    """Print whether the targets are met."""
    unit = 1024**2 if sys.platform == "darwin" else 1024  # counted in bytes, or in KiB
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / unit
    for name, value, target, is_met in (
        ("own / kernel", own / kernel, "at most 3", own <= 3 * kernel),
        ("loop / own", loop / own, "at least 100", loop >= 100 * own),
        ("... single", loop / own_single, "at least 100", loop >= 100 * own_single),
        ("peak MiB", peak, "below 1024", peak < 1024),
    ):
        print(f"  {name:12} {value:9.1f}   {target:12} {'ok' if is_met else 'MISSED'}")


def main() -> None:
    """Bench as many trees as the command line asks for."""
    parser = argparse.ArgumentParser(description="Time the daily water balance.")
    parser.add_argument("--trees", type=int, default=TREES)
    if (trees := parser.parse_args().trees) < 1:
        parser.error("--trees must be at least 1")
    bench(trees)


if __name__ == "__main__":
    main()
