"""What on a plan stands in the way of what."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Conflict:
    """One thing wrong with where a plant stands.

    ``who`` is the ``ref`` of a plant; ``whom`` another's, or ``feature-<id>`` or
    ``clump-<id>``, empty where it is the plan's own doing. Distances are between stems,
    or from a stem to the nearest point of an area or a line [m]. ``sun_hours`` are
    those of direct sun that a clear day leaves, where shade is the matter.
    """

    code: str
    who: str
    whom: str = ""
    distance_m: float | None = None
    least_m: float | None = None
    sun_hours: float | None = None
    sources: tuple[str, ...] = ()
