"""The species table: what is known of each kind of plant, figure by figure.

``species.csv`` holds the figures and ``species_provenance.csv`` says for every one
of them where it comes from. Nothing loads unless both are whole.

Months are those of the NORTHERN hemisphere; a start later than its end wraps over
New Year. Crop coefficients suit bare ground. Yields and spreads are those of an
orchard-size tree. Chill is in hours below 7.2 degC.
"""

import functools
from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from enum import StrEnum
from pathlib import Path
from types import MappingProxyType

from orchard.catalogue.common_names import kind_name
from orchard.catalogue.origins import (
    Basis,
    Figure,
    FigureValue,
    Provenance,
    figure_of,
    read_origins,
    refuse_orphans,
    take_origins,
)
from orchard.catalogue.rows import CatalogueError, TableRow, read_rows

#: Raised by one with every change of a figure; plans made with another are stale.
CATALOGUE_VERSION = 2

FOLDER = Path(__file__).parent
SPECIES_FILE = "species.csv"
PROVENANCE_FILE = "species_provenance.csv"


class Habit(StrEnum):
    """The way a plant grows."""

    TREE = "tree"
    SHRUB = "shrub"
    VINE = "vine"
    HERB = "herb"


class Leaf(StrEnum):
    """Whether the plant stands bare in winter."""

    DECIDUOUS = "deciduous"
    EVERGREEN = "evergreen"
    SEMI = "semi"


class SelfFruitful(StrEnum):
    """Whether one plant alone sets fruit."""

    YES = "yes"
    PARTIAL = "partial"
    NO = "no"


class FeedGroup(StrEnum):
    """Which feeding practice a species follows."""

    CITRUS = "citrus"
    STONE = "stone"
    POME = "pome"
    BERRY_ACID = "berry_acid"
    TROPICAL = "tropical"
    NUT = "nut"
    OTHER = "other"


class ContainerFit(StrEnum):
    """How well a species takes to a pot."""

    GOOD = "good"
    FAIR = "fair"
    POOR = "poor"


class PruneSystem(StrEnum):
    """The form a species is usually trained to."""

    CENTRAL_LEADER = "central_leader"
    OPEN_CENTER = "open_center"
    CANE = "cane"
    SPUR = "spur"
    CANE_OR_SPUR = "cane_or_spur"
    MULTI_STEM = "multi_stem"
    PUP_SELECTION = "pup_selection"
    TRELLIS_RENEWAL = "trellis_renewal"
    NONE = "none"


@dataclass(frozen=True)
class Species:
    """One species; a ``None`` means that no figure is known, never zero."""

    key: str
    common_name: str
    botanical_name: str
    family: str
    habit: Habit
    leaf: Leaf
    chill_hours_min: int | None
    chill_hours_max: int | None
    usda_zone_min: str
    usda_zone_max: str
    damage_temp_young_c: float | None
    damage_temp_mature_c: float | None
    move_in_temp_c: float
    bloom_damage_temp_c: float | None
    mature_height_m: float
    mature_spread_m: float
    spacing_min_m: float
    spacing_typical_m: float
    root_depth_m: float
    root_depth_max_m: float
    kc_ini: float
    kc_mid: float
    kc_end: float
    depletion_p: float
    kc_source: str
    self_fruitful: SelfFruitful
    pollination_note: str
    bloom_start_month: int
    bloom_end_month: int
    harvest_start_month: int
    harvest_end_month: int
    days_bloom_to_harvest: int
    years_to_first_crop: float
    yield_mature_kg: float
    prune_system: PruneSystem
    prune_months: tuple[int, ...]
    prune_reason: str
    ph_min: float
    ph_max: float
    feed_group: FeedGroup
    nitrogen_first_year_g: float
    nitrogen_mature_g: float
    feed_times_per_year: int
    container_ok: ContainerFit
    container_min_l: float
    pup_notes: str
    toxicity_note: str
    invasive_note: str
    provenance: Mapping[str, Provenance] = field(repr=False, compare=False)

    def figure(self, name: str) -> Figure:
        """Return one value with its origin.

        Raises
        ------
        KeyError
            When the catalogue has no figure of that name for this species.
        """
        origin = self.provenance[name]
        value: FigureValue = getattr(self, name)
        return figure_of(value, origin)

    @property
    def shown_name(self) -> str:
        """What it is called in the reader's language."""
        return kind_name(self.key, self.common_name)

    @property
    def unverified(self) -> frozenset[str]:
        """The names of all figures for which :meth:`is_unverified` holds."""
        return frozenset(name for name in self.provenance if self.is_unverified(name))

    def is_unverified(self, name: str) -> bool:
        """Whether nothing that was read stands behind a figure.

        A damage temperature that rests on FAO EcoCrop alone counts as unverified:
        its killing temperatures are plainly off for several dormant trees.

        Raises
        ------
        KeyError
            When the catalogue has no figure of that name for this species.
        """
        origin = self.provenance[name]
        if name in _DAMAGE_TEMPERATURES and origin.source == "ecocrop":
            return True
        return origin.basis is Basis.MEMORY


_DAMAGE_TEMPERATURES = ("damage_temp_young_c", "damage_temp_mature_c")
_COLUMNS = tuple(f.name for f in fields(Species) if f.name != "provenance")
_NEEDS_NO_ORIGIN = frozenset({"key", "common_name", "kc_source"})
#: The columns that hold figures: each has an origin.
FIGURES = tuple(column for column in _COLUMNS if column not in _NEEDS_NO_ORIGIN)
#: Least and most that a figure may be, in the unit of its name.
LIMITS: dict[str, tuple[float, float]] = {
    "chill_hours_min": (0, 2000),
    "chill_hours_max": (0, 2000),
    "damage_temp_young_c": (-40, 10),
    "damage_temp_mature_c": (-45, 10),
    "move_in_temp_c": (-12, 15),
    "bloom_damage_temp_c": (-12, 12),
    "mature_height_m": (0.5, 40),
    "mature_spread_m": (0.4, 30),
    "spacing_min_m": (0.3, 15),
    "spacing_typical_m": (0.4, 20),
    "root_depth_m": (0.2, 3),
    "root_depth_max_m": (0.2, 3),
    "kc_ini": (0.2, 1.3),
    "kc_mid": (0.25, 1.3),
    "kc_end": (0.25, 1.3),
    "depletion_p": (0.2, 0.8),
    "days_bloom_to_harvest": (15, 500),
    "years_to_first_crop": (0.5, 12),
    "yield_mature_kg": (0.5, 300),
    "ph_min": (3.5, 8.5),
    "ph_max": (3.5, 8.6),
    "nitrogen_first_year_g": (0, 300),
    "nitrogen_mature_g": (5, 1300),
    "feed_times_per_year": (1, 12),
    "container_min_l": (10, 300),
}
#: Pairs of figures of which the first never exceeds the second.
ORDERED = (
    ("chill_hours_min", "chill_hours_max"),
    ("spacing_min_m", "spacing_typical_m"),
    ("root_depth_m", "root_depth_max_m"),
    ("ph_min", "ph_max"),
    ("nitrogen_first_year_g", "nitrogen_mature_g"),
    ("damage_temp_mature_c", "damage_temp_young_c"),
)


def load_species(folder: Path) -> dict[str, Species]:
    """Read and check the two species files of ``folder``.

    Returns
    -------
    dict
        Species by key, in the order of the file.

    Raises
    ------
    CatalogueError
        Names file, line and column of the first thing wrong.
    """
    origins = read_origins(folder / PROVENANCE_FILE)
    found: dict[str, Species] = {}
    for row in read_rows(folder / SPECIES_FILE, _COLUMNS):
        key = row.text("key")
        if key in found:
            row.refuse("key", f"{key!r} appears twice")
        provenance = take_origins(row, origins, FIGURES, PROVENANCE_FILE)
        found[key] = species_of_row(row, provenance)
    refuse_orphans(origins, "species")
    if not found:
        raise CatalogueError(SPECIES_FILE, 1, "", "holds no species")
    return found


@functools.cache
def species_catalogue() -> Mapping[str, Species]:
    """Return the species that come with the program, read once and read-only."""
    return MappingProxyType(load_species(FOLDER))


def _zone_rank(zone: str) -> float:
    return float(zone.rstrip("ab")) + (0.5 if zone.endswith("b") else 0.0)


def _check_row(row: TableRow) -> None:
    for lower, upper in ORDERED:
        row.check_order(lower, upper)
    coldest, warmest = row.zone("usda_zone_min"), row.zone("usda_zone_max")
    if _zone_rank(coldest) > _zone_rank(warmest):
        row.refuse("usda_zone_min", f"{coldest} is above {warmest}")


def species_of_row(row: TableRow, provenance: Mapping[str, Provenance]) -> Species:
    """Return one row of the table as a species, every cell checked.

    Raises
    ------
    CatalogueError
        Names the column of the first thing wrong.
    """
    species = Species(
        key=row.text("key"),
        common_name=row.text("common_name"),
        botanical_name=row.text("botanical_name"),
        family=row.text("family"),
        habit=row.choice("habit", Habit),
        leaf=row.choice("leaf", Leaf),
        chill_hours_min=row.optional_count(
            "chill_hours_min", *LIMITS["chill_hours_min"]
        ),
        chill_hours_max=row.optional_count(
            "chill_hours_max", *LIMITS["chill_hours_max"]
        ),
        usda_zone_min=row.zone("usda_zone_min"),
        usda_zone_max=row.zone("usda_zone_max"),
        damage_temp_young_c=row.optional_number(
            "damage_temp_young_c", *LIMITS["damage_temp_young_c"]
        ),
        damage_temp_mature_c=row.optional_number(
            "damage_temp_mature_c", *LIMITS["damage_temp_mature_c"]
        ),
        move_in_temp_c=row.number("move_in_temp_c", *LIMITS["move_in_temp_c"]),
        bloom_damage_temp_c=row.optional_number(
            "bloom_damage_temp_c", *LIMITS["bloom_damage_temp_c"]
        ),
        mature_height_m=row.number("mature_height_m", *LIMITS["mature_height_m"]),
        mature_spread_m=row.number("mature_spread_m", *LIMITS["mature_spread_m"]),
        spacing_min_m=row.number("spacing_min_m", *LIMITS["spacing_min_m"]),
        spacing_typical_m=row.number("spacing_typical_m", *LIMITS["spacing_typical_m"]),
        root_depth_m=row.number("root_depth_m", *LIMITS["root_depth_m"]),
        root_depth_max_m=row.number("root_depth_max_m", *LIMITS["root_depth_max_m"]),
        kc_ini=row.number("kc_ini", *LIMITS["kc_ini"]),
        kc_mid=row.number("kc_mid", *LIMITS["kc_mid"]),
        kc_end=row.number("kc_end", *LIMITS["kc_end"]),
        depletion_p=row.number("depletion_p", *LIMITS["depletion_p"]),
        kc_source=row.text("kc_source"),
        self_fruitful=row.choice("self_fruitful", SelfFruitful),
        pollination_note=row.text("pollination_note"),
        bloom_start_month=row.month("bloom_start_month"),
        bloom_end_month=row.month("bloom_end_month"),
        harvest_start_month=row.month("harvest_start_month"),
        harvest_end_month=row.month("harvest_end_month"),
        days_bloom_to_harvest=row.count(
            "days_bloom_to_harvest", *LIMITS["days_bloom_to_harvest"]
        ),
        years_to_first_crop=row.number(
            "years_to_first_crop", *LIMITS["years_to_first_crop"]
        ),
        yield_mature_kg=row.number("yield_mature_kg", *LIMITS["yield_mature_kg"]),
        prune_system=row.choice("prune_system", PruneSystem),
        prune_months=row.months("prune_months"),
        prune_reason=row.text("prune_reason"),
        ph_min=row.number("ph_min", *LIMITS["ph_min"]),
        ph_max=row.number("ph_max", *LIMITS["ph_max"]),
        feed_group=row.choice("feed_group", FeedGroup),
        nitrogen_first_year_g=row.number(
            "nitrogen_first_year_g", *LIMITS["nitrogen_first_year_g"]
        ),
        nitrogen_mature_g=row.number("nitrogen_mature_g", *LIMITS["nitrogen_mature_g"]),
        feed_times_per_year=row.count(
            "feed_times_per_year", *LIMITS["feed_times_per_year"]
        ),
        container_ok=row.choice("container_ok", ContainerFit),
        container_min_l=row.number("container_min_l", *LIMITS["container_min_l"]),
        pup_notes=row.optional_text("pup_notes"),
        toxicity_note=row.optional_text("toxicity_note"),
        invasive_note=row.optional_text("invasive_note"),
        provenance=MappingProxyType(dict(provenance)),
    )
    _check_row(row)
    return species
