"""How far apart plants stand: what their kinds ask for, and which stand closer."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from care.facts import Array, ClumpFacts, Conflict, PlantFacts, SpeciesFacts, Standing
from care.science.canopy import caliper_from_pot_mm, crown_from_caliper_m
from care.science.container_water import pot_diameter_m
from care.science.planting import LEAST_APART_M

#: Two that measure as far apart as they should may come out a rounding closer.
TOLERANCE_M = 0.005
PRACTICE = ("common_practice",)
MEMORY = "memory"
#: Who is asked to move first: what does not stand yet, then ours.
MOVABLE = (Standing.WANTED, Standing.OURS, Standing.NEIGHBOUR)


@dataclass(frozen=True, slots=True)
class Apart:
    """How far apart two stems go at least, and better [m]; ``sources`` of both kinds."""

    least_m: float
    recommended_m: float
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Share:
    """What one plant asks for on its own side [m]."""

    least_m: float
    recommended_m: float
    sources: tuple[str, ...]


def apart_m(one: PlantFacts, other: PlantFacts) -> Apart:
    """Return how far apart two plants go.

    Each kind asks for half of its own spacing on its own side, so that two of one kind
    stand at its spacing and two different kinds half-way between theirs (common
    practice, no source). A plant that a rootstock or a limit keeps smaller than its
    kind is recommended that much less, never less than its kind's least, which holds
    for dwarf stocks too. A pot can be moved: beside one, pots must not overlap, and
    better do today's crowns not meet.

    Parameters
    ----------
    one, other : PlantFacts
        In either order, the answer is the same. Their places do not matter.

    Returns
    -------
    Apart
        Distances of the catalogue, whose sources are the kinds' own.
    """
    shares = _shares(one, other)
    return Apart(
        least_m=sum(share.least_m for share in shares),
        recommended_m=sum(share.recommended_m for share in shares),
        sources=tuple(sorted({key for share in shares for key in share.sources})),
    )


def _shares(one: PlantFacts, other: PlantFacts) -> tuple[_Share, _Share]:
    if one.in_container or other.in_container:
        return _share_beside_pot(one), _share_beside_pot(other)
    return _share_in_ground(one), _share_in_ground(other)


def _share_in_ground(plant: PlantFacts) -> _Share:
    species = plant.species
    least_m = species.spacing_min_m
    if least_m is None:
        least_m = LEAST_APART_M if species.habit == "tree" else 0.0
    usual_m = species.spacing_typical_m or grown_spread_m(plant)
    return _Share(
        least_m=least_m / 2,
        recommended_m=max(least_m, usual_m * _kept_share(plant)) / 2,
        sources=_sources(species),
    )


def _kept_share(plant: PlantFacts) -> float:
    """Return a plant's grown spread over its kind's [-], at most 1."""
    usual_m, own_m = plant.species.mature_spread_m, plant.grown_spread_m
    return min(own_m / usual_m, 1.0) if usual_m and own_m else 1.0


def _share_beside_pot(plant: PlantFacts) -> _Share:
    litres = plant.container_litres if plant.in_container else None
    pot_m = pot_diameter_m(litres) if litres else 0.0
    return _Share(pot_m / 2, max(pot_m, crown_today_m(plant)) / 2, PRACTICE)


def _sources(species: SpeciesFacts) -> tuple[str, ...]:
    """Return the sources of a kind's spacing; what has none is common practice."""
    keys = [
        MEMORY if name in species.unverified else species.source_of(name)
        for name in ("spacing_min_m", "spacing_typical_m")
        if getattr(species, name) is not None
    ]
    return tuple(dict.fromkeys(keys)) or PRACTICE


def crown_today_m(plant: PlantFacts) -> float:
    """Return how wide a crown is today [m]; one still to plant is guessed by its pot."""
    if plant.crown_width_m is not None:
        return plant.crown_width_m
    if plant.container_litres:
        return crown_from_caliper_m(caliper_from_pot_mm(plant.container_litres))
    return 0.0


def grown_spread_m(plant: PlantFacts) -> float:
    """Return how wide a plant grows where it stands [m], 0 where nothing tells.

    One in a pot counts as it is today: the pot keeps it small, and can be moved.
    """
    if plant.in_container:
        return crown_today_m(plant)
    known_m = plant.grown_spread_m or plant.species.mature_spread_m
    return max(known_m or 0.0, crown_today_m(plant))


def pair_distances_m(plants: Sequence[PlantFacts]) -> Array:
    """Return the distances between plants that all have a place, shape (n, n) [m]."""
    places = np.array([plant.place_m for plant in plants], dtype=np.float64)
    between = places.reshape(-1, 1, 2) - places.reshape(1, -1, 2)
    return np.asarray(np.hypot(between[..., 0], between[..., 1]))


def declared_together(one: PlantFacts, other: PlantFacts) -> ClumpFacts | None:
    """Return the hedge or clump that two plants share, if they do."""
    if one.clump is None or other.clump is None or one.clump.id != other.clump.id:
        return None
    return one.clump


def in_order(plants: Sequence[PlantFacts]) -> list[PlantFacts]:
    """Return the plants that have a place, those first that are easiest to move."""
    placed = [plant for plant in plants if plant.place_m is not None]
    return sorted(placed, key=lambda plant: (MOVABLE.index(plant.standing), plant.ref))


def spacing_conflicts(plants: Sequence[PlantFacts]) -> tuple[Conflict, ...]:
    """Return which plants stand too close, one conflict a pair.

    ``below_minimum``, ``below_recommended`` and ``crowns_meet`` (the grown crowns, or
    beside a pot today's), the gravest that holds. Within a declared hedge or clump
    standing close is meant: with a height limit that is fine and makes no conflict,
    without one the group gets one ``hedge_without_limit``. Neighbours' trees are not
    held against each other.

    Parameters
    ----------
    plants : sequence of PlantFacts
        Those without a place are passed over; in any order.
    """
    placed = in_order(plants)
    found: list[Conflict] = []
    loose: dict[int, Conflict] = {}
    for one, other, distance_m in _near_pairs(placed):
        conflict = _conflict(one, other, distance_m)
        if conflict is None:
            continue
        clump = declared_together(one, other)
        if clump is None:
            found.append(conflict)
        elif clump.height_limit_m is None:
            loose.setdefault(clump.id, _without_limit(one, clump))
    return (*found, *loose.values())


def accepted_groups(plants: Sequence[PlantFacts]) -> tuple[ClumpFacts, ...]:
    """Return the hedges and clumps in which plants stand close, as they are meant to."""
    placed = in_order(plants)
    groups: dict[int, ClumpFacts] = {}
    for one, other, distance_m in _near_pairs(placed):
        clump = declared_together(one, other)
        is_close = _conflict(one, other, distance_m) is not None
        if clump is not None and clump.height_limit_m is not None and is_close:
            groups[clump.id] = clump
    return tuple(groups[key] for key in sorted(groups))


def _near_pairs(
    placed: Sequence[PlantFacts],
) -> Iterator[tuple[PlantFacts, PlantFacts, float]]:
    """Yield each pair once that may be too close; a rough reach tells far ones off."""
    if not placed:
        return
    reach = np.array([_reach_m(plant) for plant in placed])
    distances_m = pair_distances_m(placed)
    near = np.triu(distances_m < reach[:, None] + reach[None, :], k=1)
    for row, column in np.argwhere(near):
        one, other = placed[row], placed[column]
        if {one.standing, other.standing} != {Standing.NEIGHBOUR}:
            yield one, other, float(distances_m[row, column])


def _reach_m(plant: PlantFacts) -> float:
    """Return the farthest that a plant's own side of any spacing goes [m]."""
    beside_pot, in_ground = _share_beside_pot(plant), _share_in_ground(plant)
    return max(
        beside_pot.recommended_m, in_ground.recommended_m, grown_spread_m(plant) / 2
    )


def _conflict(one: PlantFacts, other: PlantFacts, distance_m: float) -> Conflict | None:
    apart = apart_m(one, other)
    has_pot = one.in_container or other.in_container
    crowns_m = (
        apart.recommended_m
        if has_pot
        else (grown_spread_m(one) + grown_spread_m(other)) / 2
    )
    bounds = (
        ("below_minimum", apart.least_m, apart.sources),
        ("below_recommended", 0.0 if has_pot else apart.recommended_m, apart.sources),
        ("crowns_meet", crowns_m, PRACTICE),
    )
    for code, least_m, sources in bounds:
        if distance_m < least_m - TOLERANCE_M:
            return Conflict(
                code, one.ref, other.ref, distance_m, least_m, sources=sources
            )
    return None


def _without_limit(one: PlantFacts, clump: ClumpFacts) -> Conflict:
    return Conflict(
        "hedge_without_limit", one.ref, f"clump-{clump.id}", sources=PRACTICE
    )
