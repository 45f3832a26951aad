"""What to add, or graft, where a plant lacks a partner."""

from collections.abc import Iterable, Sequence

from care.facts import CultivarFacts, PlantFacts
from care.science.cross_pollination import (
    Flowers,
    Ground,
    Match,
    flowers_of,
    judge,
    own_flowers,
)

#: How many are told; a longer list helps nobody choose.
AS_MANY = 4


def suggested(
    plant: PlantFacts,
    cultivars: Iterable[CultivarFacts],
    partners: Sequence[Flowers] = (),
) -> tuple[CultivarFacts, ...]:
    """Return cultivars of a plant's kind that would be partners, best first.

    Parameters
    ----------
    plant : PlantFacts
        It lacks a partner; of one whose cultivar nobody named, nothing can be told.
    cultivars : iterable of CultivarFacts
        Those known of its kind.
    partners : sequence of Flowers
        For a plant without good pollen, the partner it has: what is added must
        pollinate that one too, and the other way round.

    Notes
    -----
    Named partners first, then by how close bloom is and how alike the need of chill:
    what has the same need of winter likely does well in the same place.
    """
    receiver = own_flowers(plant)
    fitting = []
    for cultivar in cultivars:
        flowers = flowers_of(cultivar)
        match = judge(receiver, flowers)
        if isinstance(match, Match) and _go_together(flowers, partners):
            fitting.append((_rank(receiver, cultivar, match), cultivar))
    fitting.sort(key=lambda pair: pair[0])
    return tuple(cultivar for _, cultivar in fitting[:AS_MANY])


def _go_together(flowers: Flowers, partners: Sequence[Flowers]) -> bool:
    if not partners:
        return True
    return any(
        isinstance(judge(flowers, other), Match)
        and isinstance(judge(other, flowers), Match)
        for other in partners
    )


def _rank(
    receiver: Flowers, cultivar: CultivarFacts, match: Match
) -> tuple[bool, float, float, str]:
    own = receiver.cultivar
    bloom_apart = _apart(own.bloom if own else None, cultivar.bloom)
    chill_apart = _apart(_chill_h(own), _chill_h(cultivar))
    is_named = match.ground is Ground.NAMED
    return (not is_named, bloom_apart, chill_apart, cultivar.name)


def _apart(one: float | None, other: float | None) -> float:
    return float("inf") if one is None or other is None else abs(one - other)


def _chill_h(cultivar: CultivarFacts | None) -> float | None:
    """Return the middle of a cultivar's need of chill [h]."""
    if cultivar is None:
        return None
    bounds = (cultivar.chill_hours_min, cultivar.chill_hours_max)
    known = [bound for bound in bounds if bound is not None]
    return sum(known) / len(known) if known else None
