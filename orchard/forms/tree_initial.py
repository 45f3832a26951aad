"""A stored tree as the first content of its form."""

from orchard.catalogue.of_orchard import OrchardCatalogue
from orchard.forms.plant_fields import GROUND, POT
from orchard.forms.tree_fields import (
    CHOICES,
    KNOWN,
    NO,
    NUMBERS,
    QUANTITIES,
    YES,
)
from orchard.models import Stay, Tree

SAME = (
    *("name", "cultivar", "tag", "near_wires", "container_medium", "rootstock", "sex"),
    *("irrigation_since", "irrigation_until", "mulch_laid_on", "has_trunk_guard"),
)


def tree_initial(
    tree: Tree, stay: Stay | None, catalogue: OrchardCatalogue
) -> dict[str, object]:
    """Return what the boxes show of ``tree``, quantities in SI units."""
    species = catalogue.species.get(tree.species_key)
    values = {name: getattr(tree, name) for name in (*SAME, *CHOICES, *KNOWN)}
    values |= {
        name: getattr(tree, name)
        for name in (*QUANTITIES, *NUMBERS)
        if getattr(tree, name) is not None
    }
    return values | {
        "species": species.shown_name if species else tree.species_key,
        "grows_in": POT if tree.in_container else GROUND,
        "planted": tree.planted_on.isoformat() if tree.planted_on else "",
        "planted_long_ago": tree.planted_on is None,
        "block_name": tree.block.name if tree.block else "",
        "clump_name": tree.clump.name if tree.clump else "",
        "clump_is_hedge": tree.clump.is_hedge if tree.clump else False,
        "clump_height_limit_m": tree.clump.height_limit_m if tree.clump else None,
        "position": tree.position + 1,
        "is_grafted": YES if tree.is_grafted else NO,
        "irrigation_weekdays": list(tree.irrigation_weekdays),
        "place": stay.place if stay else "",
        "place_since": stay.since if stay else None,
    }
