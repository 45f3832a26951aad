"""What is usual for a wanted tree where nobody chose."""

from dataclasses import dataclass

from care.facts import SpeciesFacts, Support
from care.science.planting_checks import ACID, NATIVE, usual_backfill
from care.science.rootstocks import Held, find_rootstock, rootstocks_of

SUPPORTS = {
    Held.YES: Support.PERMANENT,
    Held.MAYBE: Support.STAKE,
    Held.NO: Support.NONE,
}


@dataclass(frozen=True, slots=True)
class UsualWish:
    """What the hole is filled with, and what holds the tree up."""

    backfill: str
    support: Support


def usual_wish(
    species: SpeciesFacts, *, rootstock: str, soil_ph: float | None
) -> UsualWish:
    """Return what a kind gets where nobody chose.

    Parameters
    ----------
    species : SpeciesFacts
    rootstock : str
        As a person wrote it. Dwarf stocks are held up for good (University of Arizona,
        Master Gardener manual); trees on others and on their own roots are not.
    soil_ph : float or None
        Of the site. Acid lovers get peat or bark unless it is known to be acid enough.
    """
    return UsualWish(_backfill(species, soil_ph), _support(species, rootstock))


def rootstock_names(species_key: str) -> tuple[str, ...]:
    """Return the names of the stocks known of a kind, from small to large."""
    return tuple(stock.name for stock in rootstocks_of(species_key))


def _backfill(species: SpeciesFacts, soil_ph: float | None) -> str:
    usual = usual_backfill(species)
    is_acid = (
        soil_ph is not None and species.ph_max is not None and soil_ph <= species.ph_max
    )
    return NATIVE if usual == ACID and is_acid else usual


def _support(species: SpeciesFacts, rootstock: str) -> Support:
    stock = find_rootstock(rootstock, species.key)
    return Support.NONE if stock is None else SUPPORTS[stock.held]
