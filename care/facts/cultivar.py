"""What the catalogue, or an orchard, knows of a cultivar."""

from dataclasses import dataclass

from care.facts.species import Span


@dataclass(frozen=True, slots=True)
class CultivarFacts:
    """One cultivar; a ``None`` or an empty text means that nothing is known.

    ``bloom`` counts from 1, very early, to 5, late, in halves, and orders cultivars of
    one species only. ``flower_type`` is ``A`` or ``B`` of avocados, ``I`` or ``II`` of
    pecans and walnuts. ``unverified`` names the fields that rest on memory.
    """

    key: str
    species_key: str
    name: str
    chill_hours_min: float | None = None
    chill_hours_max: float | None = None
    chill_portions: float | None = None
    bloom: float | None = None
    self_fruitful: str = ""  # yes | partial | no; empty: as its species
    is_pollen_sterile: bool = False  # triploid, or male-sterile
    sex: str = ""  # female | male | both
    flower_type: str = ""
    partners: tuple[str, ...] = ()  # names of cultivars of its species
    not_partners: tuple[str, ...] = ()
    harvest: Span | None = None  # northern months
    days_bloom_to_harvest: int | None = None
    unverified: frozenset[str] = frozenset()
    sources: tuple[tuple[str, str], ...] = ()
