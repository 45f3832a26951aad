"""Run the water balance over days: once over the past, many times over the future.

All plants of a site at once; the futures add a leading axis of members.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from care.facts import Array, Flags
from care.planning.futures import Futures, Whole
from care.planning.ground_runoff import GroundRunoff, lay_out_runoff
from care.planning.leaf_year import LeafDays
from care.planning.root_zones import Plant, stack_zones
from care.planning.site_weather import SiteWeather
from care.planning.tree_days import TreeDays
from care.science.water_balance import (
    Forcing,
    Morning,
    RootZones,
    Stored,
    arrive,
    use,
    watered_ring_share,
)

FROZEN_SHARE = 0.15  # of the usual demand, while the ground or the air is frozen
COLD_EVERGREEN_SHARE = 0.5  # while the week's mean is below 5 degrees; no source
FELT_WET = 0.20  # of the store missing at most, if the soil feels wet; no source
FELT_DRY = 0.57  # missing at least, if it feels dry: NRCS feel method's bands
LEAST_KS = 0.9  # below it a tree has waited too long
SMALLEST_NEW_RING_M = 0.15
NEVER = 1_000_000


@dataclass(frozen=True, slots=True)
class Grove:
    """All that a fold needs of a site's plants; rows of ``days`` are its calendar."""

    zones: RootZones
    leaf: LeafDays
    runoff: GroundRunoff
    drinking_m2: Array  # (plants,): crown area times what was learned of its demand
    fixed_radius_m: Array  # (plants,), nan: follows the roots
    is_evergreen: Flags  # (plants,)
    days: TreeDays
    weather: SiteWeather
    first_index: int  # of the fold's first day within the weather series

    def radius_m(self, warmth: Array) -> Array:
        """Return the radius of the watered circle after so much warmth."""
        reach = self.zones.root_radius_m(warmth)
        least = self.zones.ball_radius_m + SMALLEST_NEW_RING_M
        following = np.clip(reach, least, np.maximum(least, 0.6))
        return np.where(np.isnan(self.fixed_radius_m), following, self.fixed_radius_m)

    def refill_l(self, stored: Stored) -> Array:
        """Return the water that fills what is watered, ring inside included [L]."""
        share = watered_ring_share(
            self.zones, self.radius_m(stored.warmth), stored.warmth
        )
        return stored.inner_missing_l + share * stored.outer_missing_l

    def forcing(
        self,
        row: int,
        picks: Whole | int,
        given_l: Array | float,
    ) -> Forcing:
        """Return one calendar row under the weather of the picked days.

        ``picks`` broadcast against (plants,): one day for all, one for each plant, or a
        column of one for each member.
        """
        days, weather, kc = self.days, self.weather, self.leaf.kc[row]
        et0 = weather.et0_mm[picks] * days.et0_share[row] + days.et0_fixed_mm[row]
        winter = self.winter_share(row, picks)
        return Forcing(
            et0_mm=np.asarray(et0),
            rain_mm=np.asarray(weather.rain_mm[picks] * days.rain_share[row]),
            demand_m2=np.asarray(kc * self.drinking_m2 * winter),
            kc_et_mm=np.asarray(kc * et0),
            given_l=np.asarray(given_l, dtype=np.float64),
            warming=np.asarray(weather.warmth[picks] * days.can_root[row]),
            runoff_mm=self.runoff.on(picks) * days.rain_share[row],
        )

    def winter_share(self, row: int, picks: Whole | int) -> Array:
        """Return what frost, or cold for an evergreen, leaves of the usual demand."""
        is_cold = self.weather.is_cold[picks] & self.days.is_outdoors[row]
        return np.where(
            self.is_frozen(row, picks),
            FROZEN_SHARE,
            np.where(is_cold & self.is_evergreen, COLD_EVERGREEN_SHARE, 1.0),
        )

    def is_frozen(self, row: int, picks: Whole | int) -> Flags:
        """Return where frost forbids watering; ``picks`` as in :meth:`forcing`."""
        return np.asarray(self.weather.is_frozen[picks] & self.days.is_outdoors[row])


def gather_grove(
    plants: Sequence[Plant],
    days: TreeDays,
    leaf: LeafDays,
    weather: SiteWeather,
    first_index: int,
) -> Grove:
    """Return the plants of a site ready to be folded."""
    return Grove(
        zones=stack_zones(plants),
        leaf=leaf,
        runoff=lay_out_runoff(plants, weather.storm_mm),
        drinking_m2=np.array([plant.crown_area_m2 for plant in plants]),
        fixed_radius_m=np.array([plant.watered_radius_m for plant in plants]),
        is_evergreen=np.array([plant.chief.species.is_evergreen for plant in plants]),
        days=days,
        weather=weather,
        first_index=first_index,
    )


@dataclass(frozen=True, slots=True)
class Past:
    """The fold up to last evening, with one row a day."""

    stored: Stored
    dry_l: Array  # (rows, plants), missing in the morning, nothing counted yet
    missing_l: Array  # the same with the watering counted, rain not yet
    threshold_l: Array
    rain_l: Array  # that fell where one waters
    given_l: Array
    wanted_l: Array
    is_filled: Flags  # (rows, plants): the watered store was full that day


def _as_felt(grove: Grove, row: int, stored: Stored) -> Stored:
    """Return the state corrected by what a hand felt that morning."""
    capacity = grove.zones.inner_capacity_l
    dry = np.maximum(FELT_DRY, grove.zones.depletion_p) * capacity
    inner = stored.inner_missing_l
    inner = np.where(
        grove.days.is_wet[row], np.minimum(inner, FELT_WET * capacity), inner
    )
    inner = np.where(grove.days.is_dry[row], np.maximum(inner, dry), inner)
    return replace(stored, inner_missing_l=inner)


def given_on(grove: Grove, row: int, stored: Stored) -> Array:
    """Return the net litres of a day, a refill without an amount included [L]."""
    refill = np.where(grove.days.is_refilled[row], grove.refill_l(stored), 0.0)
    return np.asarray(grove.days.given_l[row] + refill)


def dawn(grove: Grove, row: int, stored: Stored) -> tuple[Stored, Array]:
    """Return the state a day begins with, as felt and planted, and its watering."""
    is_planted = grove.days.is_planted[row]
    stored = _as_felt(grove, row, stored)
    stored = replace(
        stored,
        inner_missing_l=np.where(is_planted, stored.inner_missing_l, 0.0),
        outer_missing_l=np.where(is_planted, stored.outer_missing_l, 0.0),
    )
    return stored, given_on(grove, row, stored)


def fold_past(
    grove: Grove, start: Stored, rows: int, future: Whole | None = None
) -> Past:
    """Fold the first ``rows`` days of the grove's calendar.

    Parameters
    ----------
    grove : Grove
    start : Stored
        Evening before the first day, shape (plants,).
    rows : int
        Days before today; more, if ``future`` says what weather they have.
    future : array, optional
        Days of the weather series that stand for the last rows.

    Returns
    -------
    Past
        Row by row; the state is last evening's.
    """
    shape = (rows, len(grove.drinking_m2))
    dry, missing, threshold, rain, given, wanted = (np.zeros(shape) for _ in range(6))
    filled = np.zeros(shape, dtype=bool)
    stored = start
    picks = grove.first_index + np.arange(rows)
    if future is not None:
        picks[rows - len(future) :] = future
    for row in range(rows):
        stored, litres = dawn(grove, row, stored)
        day = grove.forcing(row, int(picks[row]), litres)
        morning = arrive(grove.zones, stored, day)
        dry[row] = stored.inner_missing_l
        missing[row] = np.maximum(stored.inner_missing_l - litres, 0.0)
        threshold[row] = morning.depletion_p * grove.zones.inner_capacity_l
        rain[row] = day.rain_mm * grove.zones.inner_rain_area_m2
        given[row] = litres
        wanted[row] = morning.wanted_l
        filled[row] = morning.stored.inner_missing_l <= 0
        stored = use(grove.zones, morning, day).stored
    return Past(stored, dry, missing, threshold, rain, given, wanted, filled)


@dataclass(frozen=True, slots=True)
class Ahead:
    """First days of three kinds, NEVER beyond the horizon; shape (members, plants)."""

    earliest: Whole
    due: Whole
    latest: Whole


def _note_first(found: Whole, offset: int, flags: Flags) -> None:
    found[(found == NEVER) & flags] = offset


def look_ahead(grove: Grove, evening: Stored, row: int, futures: Futures) -> Ahead:
    """Return when each plant would need water in each future if nobody watered.

    Parameters
    ----------
    grove : Grove
    evening : Stored
        Last evening, shape (plants,).
    row : int
        Today's row of the calendar.
    futures : Futures
        Weather from today on.
    """
    shape = (len(futures.picks), len(grove.drinking_m2))
    stored = Stored(
        np.broadcast_to(evening.inner_missing_l, shape),
        np.broadcast_to(evening.outer_missing_l, shape),
        np.broadcast_to(evening.warmth, shape),
    )
    found = Ahead(*(np.full(shape, NEVER) for _ in range(3)))
    for offset in range(futures.days):
        picks = futures.picks[:, offset, None]
        stored, litres = dawn(grove, row + offset, stored)
        day = grove.forcing(row + offset, picks, litres)
        morning = arrive(grove.zones, stored, day)
        _judge(grove, found, offset, morning, grove.is_frozen(row + offset, picks))
        if (found.latest != NEVER).all() and (found.due != NEVER).all():
            break
        stored = use(grove.zones, morning, day).stored
    return found


def _judge(
    grove: Grove, found: Ahead, offset: int, morning: Morning, is_frozen: Flags
) -> None:
    capacity = grove.zones.inner_capacity_l
    _note_first(found.earliest, offset, morning.is_half_used(capacity))
    _note_first(found.due, offset, morning.is_thirsty(capacity) & ~is_frozen)
    _note_first(found.latest, offset, (morning.stress_ks < LEAST_KS) & ~is_frozen)


@dataclass(frozen=True, slots=True)
class Waterings:
    """One plant's waterings ahead if every one is done: days from today and litres."""

    days: tuple[int, ...]
    net_l: tuple[float, ...]


def obey_ahead(
    grove: Grove,
    evening: Stored,
    row: int,
    futures: Futures,
    *,
    members: Whole,
    first: Whole,
) -> tuple[Waterings, ...]:
    """Return each plant's waterings along its own member, the first on a given day.

    Parameters
    ----------
    grove, evening, row, futures
        As for :func:`look_ahead`.
    members : array (plants,)
        The future each plant follows.
    first : array (plants,)
        Day of its first watering, NEVER for none.
    """
    plants = np.arange(len(members))
    asked: list[list[tuple[int, float]]] = [[] for _ in plants]
    stored = evening
    for offset in range(futures.days):
        picks = futures.picks[members, offset]
        stored, litres = dawn(grove, row + offset, stored)
        day = grove.forcing(row + offset, picks, litres)
        morning = arrive(grove.zones, stored, day)
        thirsty = morning.is_thirsty(grove.zones.inner_capacity_l)
        thirsty &= ~grove.is_frozen(row + offset, picks)
        now = (offset == first) | (thirsty & (offset > first))
        poured = np.where(now, grove.refill_l(morning.stored), 0.0)
        for plant in np.flatnonzero(now):
            asked[plant].append((offset, float(poured[plant])))
        if now.any():
            water = replace(
                day, given_l=poured, rain_mm=np.zeros(len(plants)), warming=np.zeros(1)
            )
            morning = arrive(grove.zones, morning.stored, water)
        stored = use(grove.zones, morning, day).stored
    return tuple(
        Waterings(tuple(d for d, _l in each), tuple(litres for _d, litres in each))
        for each in asked
    )
