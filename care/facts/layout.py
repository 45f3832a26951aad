"""What stands where on the plan of a site.

Places are metres along the plan's own axes, x to the right and y up the page.
"""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from care.facts.cultivar import CultivarFacts
from care.facts.species import SpeciesFacts

Point = tuple[float, float]


class FeatureKind(StrEnum):
    """What lies or stands on a plan and is no tree."""

    BOUNDARY = "boundary"
    FREE = "free"
    BUILDING = "building"
    WALL = "wall"
    WIRES = "wires"
    PIPE = "pipe"
    SEPTIC = "septic"
    PAVING = "paving"
    WATER = "water"
    TAP = "tap"


#: Kinds drawn as an area; the others are lines, a tap a point.
AREAS = frozenset(
    {
        FeatureKind.BOUNDARY,
        FeatureKind.FREE,
        FeatureKind.BUILDING,
        FeatureKind.SEPTIC,
        FeatureKind.PAVING,
        FeatureKind.WATER,
    }
)


@dataclass(frozen=True, slots=True)
class FeatureFacts:
    """One area, line or point of the plan; outlines do not repeat their first point."""

    id: int
    kind: FeatureKind
    name: str
    points_m: tuple[Point, ...]
    height_m: float | None = None
    flow_l_per_min: float | None = None


class PlanTime(StrEnum):
    """Of which time a plan is drawn; what is still to come is new today."""

    TODAY = "today"
    FIVE = "five"  # in five years
    GROWN = "grown"


class Standing(StrEnum):
    """Whose a plant on the plan is, and whether it stands there yet."""

    OURS = "ours"
    WANTED = "wanted"
    NEIGHBOUR = "neighbour"


@dataclass(frozen=True, slots=True)
class ClumpFacts:
    """Trees that share one hole or hedge; without a limit its height is not declared."""

    id: int
    name: str
    is_hedge: bool = False
    height_limit_m: float | None = None


@dataclass(frozen=True, slots=True)
class PlantFacts:
    """One plant on the plan: a tree of ours, a wanted one or a neighbour's.

    ``ref`` is unique among a layout's plants (``ours-3``). Heights and spreads are
    those of the grown plant where it stands, its pot, its rootstock or a declared limit
    counted in; ``None`` is not known. ``grafts`` are the cultivars on it besides its
    own. ``distance_m`` of a neighbour's tree stands in for a place that is not known.
    """

    ref: str
    standing: Standing
    name: str
    species: SpeciesFacts
    cultivar_name: str = ""
    cultivar: CultivarFacts | None = None
    grafts: tuple[tuple[str, CultivarFacts | None], ...] = ()
    graft_species_keys: tuple[str, ...] = ()  # of each graft; empty: as the tree
    sex: str = ""  # female | male | both
    place_m: Point | None = None
    distance_m: float | None = None
    in_container: bool = False
    container_litres: float | None = None
    planted_on: date | None = None
    crown_width_m: float | None = None  # today
    height_m: float | None = None  # today
    grown_spread_m: float | None = None
    grown_height_m: float | None = None
    clump: ClumpFacts | None = None
    block_name: str = ""
    is_pinned: bool = True


@dataclass(frozen=True, slots=True)
class LayoutFacts:
    """The plan of a site; ``up_bearing_deg`` is the compass bearing of up the page."""

    latitude_deg: float
    up_bearing_deg: float
    plants: tuple[PlantFacts, ...]
    features: tuple[FeatureFacts, ...]

    def of_kind(self, *kinds: FeatureKind) -> tuple[FeatureFacts, ...]:
        """Return the features of some kinds, in their order."""
        return tuple(each for each in self.features if each.kind in kinds)
