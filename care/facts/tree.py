"""What is known of one plant, in the ground or in a container."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from care.facts.species import SpeciesFacts


class Answer(StrEnum):
    """What a person knows of something that happened before the tree was entered."""

    YES = "yes"
    NO = "no"
    UNKNOWN = "unknown"


class Stock(StrEnum):
    """How a tree came to its place; decides how large a reservoir its roots had."""

    CONTAINER_GROWN = "container_grown"
    BALLED = "balled"
    BARE_ROOT = "bare_root"


class RainReach(StrEnum):
    """How much of the rain reaches the tree's soil (eaves, roofs, balconies)."""

    YES = "yes"
    PARTLY = "partly"
    NO = "no"


class Place(StrEnum):
    """Where a pot stands now."""

    OUTDOORS = "outdoors"
    UNDER_COVER = "under_cover"
    INDOORS_UNHEATED = "indoors_unheated"
    INDOORS_HEATED = "indoors_heated"

    @property
    def is_indoors(self) -> bool:
        """Whether frost and rain cannot reach a pot that stands here."""
        return self in (Place.INDOORS_UNHEATED, Place.INDOORS_HEATED)


class Goal(StrEnum):
    """How far a newly planted tree is pushed; decides how dry its ball may get."""

    VIGOUR = "vigour"
    STANDARD = "standard"
    SURVIVAL = "survival"


class Support(StrEnum):
    """What holds the tree up."""

    NONE = "none"
    STAKE = "stake"  # for the first season
    PERMANENT = "permanent"  # post or wire for a dwarf rootstock


@dataclass(frozen=True, slots=True)
class Stay:
    """Where a pot stood from a day on, until the next stay begins."""

    place: Place
    since: date


@dataclass(frozen=True, slots=True)
class StandingIrrigation:
    """Water that comes without a tick: litres to this tree on given weekdays."""

    litres: float
    weekdays: frozenset[int]  # Monday is 0
    since: date | None = None
    until: date | None = None


@dataclass(frozen=True, slots=True)
class Mulch:
    """Mulch as a person last described it."""

    material: str  # wood_chips bark straw leaves pine_straw compost
    depth_mm: float
    laid_on: date
    ring_radius_m: float | None = None
    trunk_gap_mm: float | None = None


@dataclass(frozen=True, slots=True)
class TreeFacts:
    """One plant kept for years, in the ground or in a container."""

    id: int
    name: str
    species: SpeciesFacts
    block_id: int | None
    planted_on: date | None  # None: long ago, before records; to come: planned
    entered_on: date
    in_container: bool = False
    container_litres: float | None = None
    container_diameter_m: float | None = None
    container_medium: str = "mix"
    stock: Stock = Stock.CONTAINER_GROWN
    stock_litres: float | None = None  # root ball or nursery pot when planted
    caliper_mm: float | None = None
    crown_width_m: float | None = None
    height_m: float | None = None
    height_target_m: float | None = None
    spacing_m: float | None = None
    near_wires: bool = False
    floor: str = "bare"  # bare | mulch | grass
    watered_radius_m: float | None = None
    mulch: Mulch | None = None
    rain_reach: RainReach = RainReach.YES
    standing_irrigation: StandingIrrigation | None = None
    stays: tuple[Stay, ...] = ()
    clump_id: int | None = None
    goal: Goal = Goal.STANDARD
    drip_flow_l_per_min: float | None = None
    drainage_hours: float | None = None  # a hole filled with water, until empty
    soil_ph: float | None = None  # of its own bed, where it differs from the site's
    water_distance_m: float | None = None  # to the nearest pond, ditch or shore
    support: Support = Support.NONE
    has_trunk_guard: bool = False
    is_grafted: bool = True
    cultivar: str = ""
    rootstock: str = ""
    fed_before: Answer = Answer.UNKNOWN
    pruned_before: Answer = Answer.UNKNOWN
    mulched_before: Answer = Answer.UNKNOWN

    def is_planned(self, today: date) -> bool:
        """Whether the tree is still to be planted."""
        return self.planted_on is not None and self.planted_on > today

    def years_since_planting(self, today: date) -> float | None:
        """Return the tree's years in its place, or ``None`` if nobody knows."""
        if self.planted_on is None:
            return None
        return (today - self.planted_on).days / 365.25

    def place_on(self, day: date) -> Place:
        """Return where the pot stands on ``day`` (ground trees: outdoors)."""
        place = Place.OUTDOORS
        for stay in sorted(self.stays, key=lambda stay: stay.since):
            if stay.since <= day:
                place = stay.place
        return place
