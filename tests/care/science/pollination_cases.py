"""Plants that want partners, for the tests of pollination."""

from typing import Any

from care.facts import CultivarFacts, PlantFacts, Standing
from care.planning.species_facts import species_facts

GALA = CultivarFacts("apple_gala", "apple", "Gala", bloom=3.0)
FUJI = CultivarFacts("apple_fuji", "apple", "Fuji", bloom=3.5)
ANNA = CultivarFacts("apple_anna", "apple", "Anna", bloom=1.0)
#: Triploids and their bloom, from memory; the rule of two is what is tested.
BRAMLEY = CultivarFacts(
    "apple_bramley", "apple", "Bramley", bloom=3.0, is_pollen_sterile=True
)
JONAGOLD = CultivarFacts(
    "apple_jonagold", "apple", "Jonagold", bloom=3.5, is_pollen_sterile=True
)


def plant(
    ref: str,
    key: str = "apple",
    cultivar: CultivarFacts | None = None,
    at: tuple[float, float] | None = (0.0, 0.0),
    **more: Any,
) -> PlantFacts:
    """Return a plant; its standing is the word its ref begins with."""
    return PlantFacts(
        ref=ref,
        standing=Standing(ref.split("-", maxsplit=1)[0]),
        name=more.pop("name", ref),
        species=more.pop("species", None) or species_facts(key),
        cultivar_name=more.pop("cultivar_name", cultivar.name if cultivar else ""),
        cultivar=cultivar,
        place_m=at,
        **more,
    )
