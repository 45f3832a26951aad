"""Who gives a plant pollen, and who only looks like it."""

from dataclasses import dataclass

from care.facts import Standing
from care.science.cross_pollination import Bloom, Ground, Match, Refusal
from care.science.pollen_sources import Crowd, Reach, Spot


@dataclass(frozen=True, slots=True)
class Partner:
    """A plant that gives another pollen; without a distance nobody measured it.

    ``is_to_nearest`` tells that the distance is that to the nearest of ours of its
    kind, as somebody said it of a neighbour's tree without a place.
    """

    ref: str
    name: str
    cultivar_name: str
    species_key: str
    standing: Standing
    is_graft: bool
    distance_m: float | None
    reach: Reach
    bloom: Bloom
    ground: Ground
    source: str
    is_to_nearest: bool = False


@dataclass(frozen=True, slots=True)
class NotPartner:
    """The nearest of some that look like partners and are none."""

    ref: str
    name: str
    cultivar_name: str
    standing: Standing
    distance_m: float | None
    why: Refusal


def partner_at(
    crowd: Crowd, spot: Spot, reach: Reach, distance_m: float | None, match: Match
) -> Partner:
    """Return a partner of a crowd at one of its spots."""
    return Partner(
        ref=spot.ref,
        name=spot.name,
        cultivar_name=crowd.flowers.name,
        species_key=crowd.flowers.species_key,
        standing=crowd.standing,
        is_graft=spot.is_graft,
        distance_m=distance_m,
        reach=reach,
        bloom=match.bloom,
        ground=match.ground,
        source=match.source,
        is_to_nearest=spot.distance_m is not None and spot.distance_m == distance_m,
    )


def not_partner_at(
    crowd: Crowd, spot: Spot, distance_m: float | None, why: Refusal
) -> NotPartner:
    """Return what looks like a partner at one of its spots, and why it is none."""
    return NotPartner(
        spot.ref, spot.name, crowd.flowers.name, crowd.standing, distance_m, why
    )


_STANDINGS = {Standing.OURS: 0, Standing.NEIGHBOUR: 1, Standing.WANTED: 2}


def goodness(partner: Partner) -> tuple[object, ...]:
    """Return what sorts the best partner first."""
    return (
        -partner.reach,
        partner.bloom is not Bloom.MEETS,
        partner.ground is Ground.KINDS,
        _STANDINGS[partner.standing],
        _length(partner.distance_m),
        partner.ref,
        partner.cultivar_name,
    )


def nearness(other: NotPartner) -> tuple[object, ...]:
    """Return what sorts the nearest first."""
    return (_length(other.distance_m), other.ref, other.cultivar_name)


def _length(distance_m: float | None) -> float:
    return float("inf") if distance_m is None else distance_m
