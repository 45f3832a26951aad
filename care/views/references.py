"""Source keys as full references."""

from collections.abc import Iterable
from dataclasses import dataclass
from urllib.parse import urlsplit

from orchard.catalogue.species import Species, species_catalogue


@dataclass(frozen=True, slots=True)
class Reference:
    """A source as a reader can look it up; ``address`` may be empty."""

    text: str
    address: str = ""


FROM_MEMORY = Reference("From memory, not checked against any source.")

REFERENCES = {
    "fao56": Reference(
        "Allen, R. G., Pereira, L. S., Raes, D. and Smith, M. (1998). Crop "
        "evapotranspiration: guidelines for computing crop water requirements. FAO "
        "Irrigation and Drainage Paper 56, Rome.",
        "https://www.fao.org/4/x0490e/x0490e00.htm",
    ),
    "uf_citrus_home": Reference(
        "University of Florida IFAS, Citrus Research and Education Center. Home "
        "citrus: irrigation of newly planted trees.",
    ),
    "uf_ifas_mulch": Reference(
        "University of Florida IFAS Extension. Mulches for the landscape: depth, "
        "settling and distance from the trunk.",
    ),
    "ansi_a300_1995": Reference(
        "American National Standards Institute (1995). ANSI A300: tree care operations, "
        "standard practices. No more than a quarter of the foliage in one season.",
    ),
    "psu_orchard_frost": Reference(
        "Penn State Extension. Orchard frost: critical temperatures for various fruits.",
        "https://extension.psu.edu/orchard-frost-critical-temperatures-for-various-fruits",
    ),
    "ncsu_thinning": Reference(
        "North Carolina State Extension. Fruit tree thinning: spacing, and size of the "
        "fruit when it is done.",
    ),
    "uc_mg_thinning": Reference(
        "University of California Master Gardeners, Santa Clara and Sacramento Counties. "
        "Monthly tips: fruit to a cluster and distance between fruit.",
    ),
    "ripeness_signs": Reference(
        "University of Maine Extension, Utah State University Extension and Iowa State "
        "University Extension. When fruit is ripe to pick.",
    ),
    "common_practice": Reference("Common practice of growers; no source was read."),
    "ecocrop": Reference(
        "Food and Agriculture Organization of the United Nations. EcoCrop: crop "
        "environmental requirements database.",
    ),
}


def references(keys: Iterable[str], species_key: str) -> tuple[Reference, ...]:
    """Return the references of a task, each once, in the order of ``keys``.

    A key that is not among :data:`REFERENCES` is looked up among the origins of the
    species' own figures; no key at all means memory.
    """
    species = species_catalogue().get(species_key)
    found = [one for key in keys for one in _references(key, species)]
    return tuple(dict.fromkeys(found))


def _references(key: str, species: Species | None) -> list[Reference]:
    if not key:
        return [FROM_MEMORY]
    if key in REFERENCES:
        return [REFERENCES[key]]
    origins = species.provenance.values() if species else ()
    addresses = next((o.address for o in origins if o.source == key), "")
    if not addresses:
        return [Reference(f"Species table, source “{key}”.")]
    return [_of_address(part.strip()) for part in addresses.split(" ; ")]


def _of_address(part: str) -> Reference:
    """Read one address of the species table; a remark in brackets names the work."""
    address, _, remark = part.partition(" (")
    name = remark.removesuffix(")") or urlsplit(address).hostname or address
    return Reference(f"Species table, after {name}.", address)
