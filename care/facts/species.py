"""What the catalogue knows of a species."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Span:
    """A recurring part of the year in months of the NORTHERN hemisphere, 1-12.

    ``start > end`` wraps over New Year.
    """

    start_month: int
    end_month: int


@dataclass(frozen=True, slots=True)
class SpeciesFacts:
    """One species of the catalogue (or an orchard's override of it).

    Months are northern-hemisphere months; rules shift them by half a year in the
    south. ``None`` means the catalogue has no figure: a rule must stay silent or say
    so, never guess. ``unverified`` names the fields that rest on memory; ``sources``
    maps a field to the key of its source.
    """

    key: str
    name: str
    leaf: str  # deciduous | evergreen | semi
    habit: str  # tree | shrub | vine | herb
    kc_ini: float
    kc_mid: float
    kc_end: float
    kc_source: str
    depletion_p: float
    root_depth_m: float
    mature_height_m: float | None = None
    mature_spread_m: float | None = None
    bloom: Span | None = None
    harvest: Span | None = None
    prune_months: tuple[int, ...] = ()
    prune_system: str = ""
    prune_reason: str = ""
    feed_group: str = "other"  # citrus stone pome berry_acid tropical nut other
    nitrogen_first_year_g: float | None = None
    nitrogen_mature_g: float | None = None
    feed_times_per_year: int | None = None
    damage_temp_young_c: float | None = None
    damage_temp_mature_c: float | None = None
    move_in_temp_c: float | None = None
    bloom_damage_temp_c: float | None = None
    chill_hours_min: float | None = None  # of the cultivar that needs least
    chill_hours_max: float | None = None
    chill_of: str = ""  # the cultivar whose chill it is; empty: of all cultivars
    years_to_first_crop: float | None = None
    days_bloom_to_harvest: int | None = None
    yield_mature_kg: float | None = None  # of an orchard tree
    ph_min: float | None = None
    ph_max: float | None = None
    container_min_l: float | None = None  # the smallest pot it can live in when grown
    spacing_min_m: float | None = None  # dwarf stocks included
    spacing_typical_m: float | None = None
    self_fruitful: str = ""  # yes | partial | no; empty: not known
    pollination_note: str = ""
    container_ok: str = ""  # good | fair | poor
    usda_zone_min: str = ""
    usda_zone_max: str = ""
    pup_notes: str = ""
    toxicity_note: str = ""
    invasive_note: str = ""
    unverified: frozenset[str] = frozenset()
    sources: tuple[tuple[str, str], ...] = ()

    def source_of(self, field_name: str) -> str:
        """Return the source key behind one figure, or ``"catalogue"``."""
        return dict(self.sources).get(field_name, "catalogue")

    @property
    def is_evergreen(self) -> bool:
        """Whether the tree keeps leaves in winter."""
        return self.leaf == "evergreen"
