"""The daily balance of water where roots are, in one store or in two.

Order of a day, everywhere in here: water arrives early. Rain and watering come first
and what a store cannot hold drains; then the plant takes its share, held back by the
dryness that is left. The table of FAO-56 Example 38 is computed that way; its Eq. 88,
which subtracts the day's use before anything drains, is not used. Both close the
balance; they differ by the use of days on which the soil overflows.

One millimetre on one square metre is one litre. Arrays of two stores keep their
precision: given singles, a fold stays in singles and takes half the time.
"""

from dataclasses import dataclass

import numpy as np

from care.facts import Array, Flags
from care.science.soil import adjusted_depletion_p

OUTER_COUNTS_FROM = 0.25  # of the inner store: smaller outer soil saves no tree; ours
NEW_RING_DEPLETED = 0.30  # of the soil that roots grow into; no source
ROOT_BASE_C = (
    6.0  # below it roots hardly grow: Alvarez-Uria & Koerner (2007), second hand
)
SMALLEST = 1e-12  # stands for an empty store where one divides
DEAD_BAND = 0.15  # of the inner store: below this nothing is worth watering; ours


def stress_coefficient(
    depletion: Array | float, total: Array | float, readily: Array | float
) -> Array:
    """Return how far dryness holds a plant back, Ks, 0 (not at all left) to 1 [-].

    Parameters
    ----------
    depletion, total, readily : arrays of one shape and one unit (mm or L)
        Water missing, all that is available, and what is readily available.

    Returns
    -------
    array of that shape
        1 while the readily available water lasts.
        Source: Allen et al. (1998), FAO-56, Eq. 84.
    """
    left = np.maximum(np.asarray(total) - np.asarray(depletion), 0.0)
    return _held_back(left, np.asarray(total) - np.asarray(readily))


def _held_back(left: Array, left_when_stress_begins: Array) -> Array:
    share = left / np.maximum(left_when_stress_begins, SMALLEST)
    return np.minimum(share, 1.0)


@dataclass(frozen=True, slots=True)
class SingleStoreCourse:
    """What came out of one store, day by day; arrays of shape (days, ...)."""

    depletion_mm: Array  # at the end of each day
    stress_ks: Array
    crop_et_mm: Array
    drainage_mm: Array


def fold_single_store(
    *,
    rain_mm: Array,
    irrigation_mm: Array,
    crop_et_mm: Array,
    total_mm: Array,
    readily_mm: Array,
    start_depletion_mm: Array | float,
) -> SingleStoreCourse:
    """Return the depletion of one root zone over a run of days.

    Parameters
    ----------
    rain_mm, irrigation_mm, crop_et_mm : arrays (days, ...)
        Net rain and watering, and what the crop would use without stress.
    total_mm, readily_mm : arrays (days, ...)
        TAW and RAW of each day; they may grow with the roots.
    start_depletion_mm : array (...) or float
        Depletion on the evening before the first day.

    Returns
    -------
    SingleStoreCourse
        Source: Allen et al. (1998), FAO-56, Eq. 84-86, water arriving early.
    """
    depletion = np.zeros_like(crop_et_mm)
    stress = np.zeros_like(crop_et_mm)
    used = np.zeros_like(crop_et_mm)
    drained = np.zeros_like(crop_et_mm)
    missing = np.asarray(start_depletion_mm, dtype=np.float64)
    for day in range(len(crop_et_mm)):
        missing = missing - rain_mm[day] - irrigation_mm[day]
        drained[day] = np.maximum(-missing, 0.0)
        missing = np.maximum(missing, 0.0)
        stress[day] = stress_coefficient(missing, total_mm[day], readily_mm[day])
        left = np.maximum(total_mm[day] - missing, 0.0)
        used[day] = np.minimum(stress[day] * crop_et_mm[day], left)
        missing = missing + used[day]
        depletion[day] = missing
    return SingleStoreCourse(depletion, stress, used, drained)


@dataclass(frozen=True, slots=True)
class RootZones:
    """What does not change from day to day; one entry a tree, shape (trees,).

    The inner store is where one waters: a root ball, the soil under the basin, a pot.
    The outer store is the other soil the roots can use: for a tree not yet
    established a ring that grows with warmth (``ring_store_l_per_m2`` > 0), for an
    established one the rest of its root zone, for a pot nothing.
    """

    depletion_p: Array
    inner_capacity_l: Array
    inner_rain_area_m2: Array  # that catches rain
    inner_evaporation_m2: Array  # bare area times its coefficient
    outer_capacity_l: Array  # the part that does not grow
    outer_rain_area_m2: Array
    outer_cover_m2: Array  # open ground times the coefficient of what grows there
    spill_share: Array  # of an inner overflow that reaches the outer store
    ball_radius_m: Array
    root_growth_m_per_degree_day: Array
    ring_store_l_per_m2: Array
    ring_rain_share: Array
    ring_cover_share: Array

    def root_radius_m(self, warmth: Array) -> Array:
        """Return how far roots reach after so much warmth; shape as ``warmth`` [m]."""
        return np.asarray(
            self.ball_radius_m + self.root_growth_m_per_degree_day * warmth
        )

    def ring_area_m2(self, warmth: Array) -> Array:
        """Return the ground between the root ball and the reach of the roots [m2].

        Shape as ``warmth``; (trees,) where nobody's roots are still spreading.
        """
        if not self.root_growth_m_per_degree_day.any():
            return np.zeros_like(self.ball_radius_m)
        reach = self.root_radius_m(warmth)
        return np.asarray(np.pi * (reach**2 - self.ball_radius_m**2))

    def outer_store_l(self, ring_m2: Array) -> Array:
        """Return the capacity of the outer store with a ring of that area [L]."""
        return np.asarray(self.outer_capacity_l + self.ring_store_l_per_m2 * ring_m2)


@dataclass(frozen=True, slots=True)
class Stored:
    """What changes from day to day, shape (trees,) or (members, trees)."""

    inner_missing_l: Array
    outer_missing_l: Array
    warmth: Array  # degree days since planting, which made the ring grow


@dataclass(frozen=True, slots=True)
class Forcing:
    """One day as it reaches each tree; shapes broadcast to the state's."""

    et0_mm: Array
    rain_mm: Array  # what counts of it, after eaves and roofs
    demand_m2: Array  # crown area times crop coefficient and any winter factor
    kc_et_mm: Array  # crop evapotranspiration, for the day's depletion fraction
    given_l: Array  # net watering into the inner store
    warming: Array  # degree days of the day
    runoff_mm: Array | float = 0.0  # of that rain, from open ground; a basin keeps it


@dataclass(frozen=True, slots=True)
class Morning:
    """A day after its water has arrived and before the tree has used any."""

    zones: RootZones
    day: Forcing
    stored: Stored
    ring_m2: Array
    grown_l: Array  # capacity of the soil that roots have grown into since yesterday
    outer_capacity_l: Array
    depletion_p: Array
    inner_left_l: Array
    outer_left_l: Array
    inner_ks: Array  # of either store by itself
    outer_ks: Array
    stress_ks: Array  # what the tree feels
    drained_l: Array

    @property
    def ring_water_l(self) -> Array:
        """Water that the soil brought into which roots have grown [L]."""
        return (1 - NEW_RING_DEPLETED) * self.grown_l

    @property
    def wanted_l(self) -> Array:
        """Use without stress, evaporation where one waters included [L]."""
        bare_m2 = self.zones.inner_evaporation_m2
        return self.day.et0_mm * (self.day.demand_m2 + bare_m2)

    @property
    def readily_available_l(self) -> Array:
        """What may be used before stress, both stores full [L]."""
        both = self.zones.inner_capacity_l + self.outer_capacity_l
        return self.depletion_p * both

    @property
    def spare_l(self) -> Array:
        """What is left of that in both stores, each not below zero [L]."""
        share = self.depletion_p
        inner = share * self.zones.inner_capacity_l - self.stored.inner_missing_l
        outer = share * self.outer_capacity_l - self.stored.outer_missing_l
        return np.maximum(inner, 0.0) + np.maximum(outer, 0.0)

    def is_half_used(self, inner_capacity_l: Array) -> Flags:
        """Return whether half of the readily available water is gone.

        Of both stores together and of the watered one by itself: with dry soil all
        around, a tree watered this morning would otherwise already count as half dry.
        """
        inner_half = 0.5 * self.depletion_p * inner_capacity_l
        return np.asarray(
            (self.spare_l <= 0.5 * self.readily_available_l)
            & (self.stored.inner_missing_l >= inner_half)
            & (self.stored.inner_missing_l > DEAD_BAND * inner_capacity_l)
        )

    def is_thirsty(self, inner_capacity_l: Array) -> Flags:
        """Return whether what is spare no longer covers the day, half of it gone.

        Dry soil beyond the watered place never counts against a tree: what is spare
        is summed over both stores, each not below zero.
        """
        return np.asarray(
            (self.spare_l < self.wanted_l) & self.is_half_used(inner_capacity_l)
        )


@dataclass(frozen=True, slots=True)
class Evening:
    """The same day after use, and where its water went [L]."""

    stored: Stored
    uptake_l: Array
    evaporation_l: Array


def arrive(zones: RootZones, stored: Stored, day: Forcing) -> Morning:
    """Return a day after rain and watering have arrived and the surplus has drained.

    Parameters
    ----------
    zones : RootZones
        Shape (trees,).
    stored : Stored
        Last evening, shape (trees,) or (members, trees).
    day : Forcing
        Broadcast to the same shape.

    Returns
    -------
    Morning
        0 <= missing <= capacity in both stores.
        Source: FAO-56 Eq. 84-86 extended to two stores by this program.
    """
    warmth = stored.warmth + day.warming
    ring = zones.ring_area_m2(warmth)
    grown = zones.ring_store_l_per_m2 * (ring - zones.ring_area_m2(stored.warmth))
    inner, outer, drained = _fill(zones, stored, day, ring, grown)

    inner_capacity = zones.inner_capacity_l
    outer_capacity = zones.outer_store_l(ring)
    share = adjusted_depletion_p(zones.depletion_p, day.kc_et_mm)
    held = 1 - share
    inner_left = np.maximum(inner_capacity - inner, 0.0)
    outer_left = np.maximum(outer_capacity - outer, 0.0)
    inner_ks = _held_back(inner_left, held * inner_capacity)
    outer_ks = _held_back(outer_left, held * outer_capacity)
    is_reserve = outer_capacity > OUTER_COUNTS_FROM * inner_capacity
    return Morning(
        zones=zones,
        day=day,
        stored=Stored(inner, outer, warmth),
        ring_m2=ring,
        grown_l=grown,
        outer_capacity_l=outer_capacity,
        depletion_p=share,
        inner_left_l=inner_left,
        outer_left_l=outer_left,
        inner_ks=inner_ks,
        outer_ks=outer_ks,
        stress_ks=np.where(is_reserve, np.maximum(inner_ks, outer_ks), inner_ks),
        drained_l=drained,
    )


def _fill(
    zones: RootZones, stored: Stored, day: Forcing, ring_m2: Array, grown_l: Array
) -> tuple[Array, Array, Array]:
    """Return what either store misses after the water has come, and what drained."""
    inner = (
        stored.inner_missing_l - day.rain_mm * zones.inner_rain_area_m2 - day.given_l
    )
    inner_missing = np.maximum(inner, 0.0)
    overflow = inner_missing - inner
    caught = zones.outer_rain_area_m2 + zones.ring_rain_share * ring_m2
    outer = stored.outer_missing_l + NEW_RING_DEPLETED * grown_l
    outer = outer - (day.rain_mm - day.runoff_mm) * caught
    outer = outer - zones.spill_share * overflow
    outer_missing = np.maximum(outer, 0.0)
    drained = outer_missing - outer + (1 - zones.spill_share) * overflow
    return inner_missing, outer_missing, drained


def use(zones: RootZones, morning: Morning, day: Forcing) -> Evening:
    """Return the same day after the tree and the ground have taken their water.

    The tree takes what it wants times Ks from both stores, in proportion to their
    capacity times their own Ks and never more than is there; then the watered ground
    dries from the inner store, and cover beyond it drinks from the outer one as far
    as that is not dry.

    Shapes as in :func:`arrive`; 0 <= missing <= capacity afterwards.
    """
    inner, outer = morning.stored.inner_missing_l, morning.stored.outer_missing_l
    inner_pull = zones.inner_capacity_l * morning.inner_ks
    outer_pull = morning.outer_capacity_l * morning.outer_ks
    wanted = day.et0_mm * day.demand_m2 * morning.stress_ks
    per_pull = wanted / np.maximum(inner_pull + outer_pull, SMALLEST)

    inner_left, outer_left = morning.inner_left_l, morning.outer_left_l
    inner_taken = np.minimum(per_pull * inner_pull, inner_left)
    outer_taken = np.minimum(per_pull * outer_pull, outer_left)

    open_ground = zones.outer_cover_m2 + zones.ring_cover_share * morning.ring_m2
    cover = day.et0_mm * open_ground * morning.outer_ks
    inner_dried = np.minimum(
        day.et0_mm * zones.inner_evaporation_m2, inner_left - inner_taken
    )
    outer_dried = np.minimum(cover, outer_left - outer_taken)
    return Evening(
        stored=Stored(
            np.minimum(inner + inner_taken + inner_dried, zones.inner_capacity_l),
            np.minimum(outer + outer_taken + outer_dried, morning.outer_capacity_l),
            morning.stored.warmth,
        ),
        uptake_l=inner_taken + outer_taken,
        evaporation_l=inner_dried + outer_dried,
    )


def watered_ring_share(
    zones: RootZones, watered_radius_m: Array, warmth: Array
) -> Array:
    """Return the share of the growing ring that lies inside the watered circle [-].

    0 for a tree whose outer store does not grow: what lies beyond its basin is never
    watered. Shapes (trees,) or (members, trees).
    """
    ring = zones.ring_area_m2(warmth)
    inside = np.pi * (watered_radius_m**2 - zones.ball_radius_m**2)
    share = np.clip(inside / np.maximum(ring, SMALLEST), 0.0, 1.0)
    is_ring = (zones.ring_store_l_per_m2 > 0) & (ring > 0)
    return np.where(is_ring, share, 0.0)
