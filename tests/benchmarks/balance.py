"""How fast the daily water balance of two stores is, and how much memory it takes.

Run: ``.venvs/lts-test/bin/python -m tests.benchmarks.balance [--trees N]``. It folds
the steps of ``care.science.water_balance`` over 10,000 trees, 120 days and 30 years
of weather drawn from a fixed seed, as many trees at once as the plan takes.

A minimal numpy kernel folds the same days, and a plain Python loop those of a few
trees, from which its time for all is extrapolated. Both know only established trees,
whose stores do not grow. The three must agree on a few trees before any is timed.

Targets at full size: at most 3 times as long as the kernel, at least 100 times faster
than the loop, the memory of the whole process below 1 GiB.
"""

import argparse
import resource
import statistics
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from care.facts import Array
from care.planning.simulate import PLANTS_AT_ONCE
from care.science.water_balance import Forcing, RootZones, Stored, arrive, use

TREES, DAYS, YEARS = 10_000, 120, 30
ROUNDS, LOOP_TREES, WATERED_EVERY_DAYS = 3, 20, 14
ENTRIES = tuple(RootZones.__dataclass_fields__)
TINY = float(np.finfo(np.float64).tiny)


@dataclass(frozen=True, slots=True)
class Case:
    """Established trees and their weather; nothing grows from day to day."""

    zones: RootZones
    crown_m2: Array  # (trees,)
    watering_l: Array  # (trees,), once a fortnight
    kc: Array  # (days, trees)
    et0_mm: Array  # (years, days)
    rain_mm: Array  # (years, days)

    def part(self, columns: slice) -> "Case":
        """Return some of the trees under the same weather."""
        return replace(
            self,
            zones=RootZones(**{n: getattr(self.zones, n)[columns] for n in ENTRIES}),
            crown_m2=self.crown_m2[columns],
            watering_l=self.watering_l[columns],
            kc=self.kc[:, columns],
        )

    def given_l(self, day: int) -> Array:
        """Return the day's watering of each tree."""
        return self.watering_l * float(day % WATERED_EVERY_DAYS == 0)


@dataclass(frozen=True, slots=True)
class Result:
    """State on the last evening and uptake of all days, shape (years, trees) [L]."""

    inner_missing_l: Array
    outer_missing_l: Array
    uptake_l: Array


def make_case(trees: int) -> Case:
    """Draw trees and weather of a dry summer with storms."""
    rng = np.random.default_rng(7)
    crown = rng.uniform(1.0, 20.0, trees)
    inner = rng.uniform(60.0, 120.0, trees) * np.maximum(crown / 4, 0.5)
    zones = dict.fromkeys(ENTRIES, np.zeros(trees)) | {
        "depletion_p": rng.uniform(0.4, 0.6, trees),
        "inner_capacity_l": inner,
        "inner_rain_area_m2": 0.9 * np.maximum(crown / 4, 0.5),
        "inner_evaporation_m2": 0.05 * crown,
        "outer_capacity_l": inner * rng.uniform(1.0, 6.0, trees),
        "outer_rain_area_m2": 2.0 * crown,
        "outer_cover_m2": rng.uniform(0.0, 0.8, trees) * crown,
        "spill_share": rng.uniform(0.0, 1.0, trees),
    }
    shape = (YEARS, DAYS)
    return Case(
        zones=RootZones(**zones),
        crown_m2=crown,
        watering_l=0.3 * inner,
        kc=np.linspace(0.6, 1.1, DAYS)[:, None] * rng.uniform(0.8, 1.0, trees),
        et0_mm=rng.uniform(2.0, 8.0, shape),
        rain_mm=rng.exponential(15.0, shape) * (rng.random(shape) < 0.15),
    )


def fold_own(case: Case) -> Result:
    """Fold the days with the project's own steps."""
    shape = (YEARS, len(case.crown_m2))
    stored = Stored(*(np.zeros(shape) for _ in range(3)))
    uptake = np.zeros(shape)
    for day in range(DAYS):
        et0 = case.et0_mm[:, day, None]
        forcing = Forcing(
            et0_mm=et0,
            rain_mm=case.rain_mm[:, day, None],
            demand_m2=case.kc[day] * case.crown_m2,
            kc_et_mm=case.kc[day] * et0,
            given_l=case.given_l(day),
            warming=np.full((YEARS, 1), 10.0),
        )
        evening = use(case.zones, arrive(case.zones, stored, forcing), forcing)
        stored = evening.stored
        uptake += evening.uptake_l
    return Result(stored.inner_missing_l, stored.outer_missing_l, uptake)


def fold_kernel(case: Case) -> Result:
    """Fold the days with no more array operations than these trees need."""
    zones = case.zones
    inner_holds, outer_holds = zones.inner_capacity_l, zones.outer_capacity_l
    inner, outer, uptake = (np.zeros((YEARS, len(case.crown_m2))) for _ in range(3))
    for day in range(DAYS):
        et0, rain = case.et0_mm[:, day, None], case.rain_mm[:, day, None]
        inner = inner - rain * zones.inner_rain_area_m2 - case.given_l(day)
        outer = outer - rain * zones.outer_rain_area_m2
        outer = np.maximum(outer - zones.spill_share * np.maximum(-inner, 0.0), 0.0)
        inner = np.maximum(inner, 0.0)
        p = np.clip(zones.depletion_p + 0.04 * (5 - case.kc[day] * et0), 0.1, 0.8)
        inner_left, outer_left = inner_holds - inner, outer_holds - outer
        inner_ks = np.minimum(inner_left / ((1 - p) * inner_holds), 1.0)
        outer_ks = np.minimum(outer_left / ((1 - p) * outer_holds), 1.0)
        wanted = et0 * (case.kc[day] * case.crown_m2) * np.maximum(inner_ks, outer_ks)
        inner_pull = inner_holds * inner_ks
        pull = np.maximum(inner_pull + outer_holds * outer_ks, TINY)
        from_inner = wanted * (inner_pull / pull)
        inner_taken = np.minimum(from_inner, inner_left)
        outer_taken = np.minimum(wanted - from_inner, outer_left)
        uptake += inner_taken + outer_taken
        dried = np.minimum(et0 * zones.inner_evaporation_m2, inner_left - inner_taken)
        cover = et0 * zones.outer_cover_m2 * outer_ks
        inner = inner + inner_taken + dried
        outer = outer + outer_taken + np.minimum(cover, outer_left - outer_taken)
    return Result(inner, outer, uptake)


def fold_loop(case: Case) -> Result:
    """Fold the days tree by tree and year by year with plain numbers."""
    given = np.array([case.given_l(day) for day in range(DAYS)])
    folded = []
    for tree in range(len(case.crown_m2)):
        zone = {name: float(getattr(case.zones, name)[tree]) for name in ENTRIES}
        zone["crown_m2"] = float(case.crown_m2[tree])
        kc, watering = case.kc[:, tree].tolist(), given[:, tree].tolist()
        for et0, rain in zip(case.et0_mm.tolist(), case.rain_mm.tolist(), strict=True):
            inner = outer = uptake = 0.0
            for day in zip(et0, rain, kc, watering, strict=True):
                inner, outer, taken = _loop_day(zone, inner, outer, day)
                uptake += taken
            folded.append((inner, outer, uptake))
    return Result(*np.array(folded).reshape(-1, YEARS, 3).transpose(2, 1, 0))


def _loop_day(
    zone: dict[str, float], inner: float, outer: float, day: tuple[float, ...]
) -> tuple[float, float, float]:
    et0_mm, rain_mm, kc, given_l = day
    inner_holds, outer_holds = zone["inner_capacity_l"], zone["outer_capacity_l"]
    inner = inner - rain_mm * zone["inner_rain_area_m2"] - given_l
    spill = zone["spill_share"] * max(-inner, 0.0)
    inner = max(inner, 0.0)
    outer = max(outer - rain_mm * zone["outer_rain_area_m2"] - spill, 0.0)
    p = min(max(zone["depletion_p"] + 0.04 * (5 - kc * et0_mm), 0.1), 0.8)
    inner_left, outer_left = inner_holds - inner, outer_holds - outer
    inner_ks = min(inner_left / ((1 - p) * inner_holds), 1.0)
    outer_ks = min(outer_left / ((1 - p) * outer_holds), 1.0)
    wanted = et0_mm * kc * zone["crown_m2"] * max(inner_ks, outer_ks)
    inner_pull = inner_holds * inner_ks
    from_inner = wanted * inner_pull / max(inner_pull + outer_holds * outer_ks, TINY)
    inner_taken = min(from_inner, inner_left)
    outer_taken = min(wanted - from_inner, outer_left)
    dried = min(et0_mm * zone["inner_evaporation_m2"], inner_left - inner_taken)
    cover = et0_mm * zone["outer_cover_m2"] * outer_ks
    outer += outer_taken + min(cover, outer_left - outer_taken)
    return inner + inner_taken + dried, outer, inner_taken + outer_taken


def check(case: Case) -> None:
    """Raise unless all three agree on trees of which some thirst and some do not."""
    own, kernel, loop = fold_own(case), fold_kernel(case), fold_loop(case)
    for name in Result.__dataclass_fields__:
        mine = getattr(own, name)
        np.testing.assert_allclose(getattr(kernel, name), mine, 1e-9, 1e-6)
        np.testing.assert_allclose(getattr(loop, name), mine, 1e-9, 1e-6)
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
    """Return how long a run took."""
    began = time.perf_counter()
    run()
    return time.perf_counter() - began


def bench(trees: int) -> None:
    """Time the three in turn and print the medians, the ratios and the memory."""
    few, case = make_case(LOOP_TREES), make_case(trees)
    check(few)
    times: dict[str, list[float]] = {"kernel": [], "own": [], "loop": []}
    for _ in range(ROUNDS):
        times["kernel"].append(seconds(lambda: in_chunks(fold_kernel, case)))
        times["own"].append(seconds(lambda: in_chunks(fold_own, case)))
        times["loop"].append(seconds(lambda: fold_loop(few)) * trees / LOOP_TREES)
    kernel, own, loop = (statistics.median(each) for each in times.values())
    print(f"{trees} trees x {DAYS} days x {YEARS} years; medians of {ROUNDS} runs")
    for name, median in (("kernel", kernel), ("own", own), ("loop", loop)):
        ns = median / (trees * DAYS * YEARS) * 1e9
        print(f"  {name:12} {median:9.3f} s = {ns:6.1f} ns per tree and day")
    unit = 1024**2 if sys.platform == "darwin" else 1024  # counted in bytes, or in KiB
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / unit
    for name, value, target, is_met in (
        ("own / kernel", own / kernel, "at most 3", own <= 3 * kernel),
        ("loop / own", loop / own, "at least 100", loop >= 100 * own),
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
