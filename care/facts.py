"""What the rules may know: frozen values, SI units, no database.

A rule is a function of a :class:`Situation`. Planning builds one a tree from the
records, the weather and the log; nothing in here reads a clock.
"""

from dataclasses import dataclass, field
from datetime import date, timedelta
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]


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


class Origin(StrEnum):
    """Where a day's weather comes from, best first."""

    OBSERVED = "observed"
    FORECAST = "forecast"
    NORMAL = "normal"


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
    years_to_first_crop: float | None = None
    days_bloom_to_harvest: int | None = None
    yield_mature_kg: float | None = None  # of an orchard tree
    toxicity_note: str = ""
    unverified: frozenset[str] = frozenset()
    sources: tuple[tuple[str, str], ...] = ()

    def source_of(self, field_name: str) -> str:
        """Return the source key behind one figure, or ``"catalogue"``."""
        return dict(self.sources).get(field_name, "catalogue")

    @property
    def is_evergreen(self) -> bool:
        """Whether the tree keeps leaves in winter."""
        return self.leaf == "evergreen"


@dataclass(frozen=True, slots=True)
class MonthDay:
    """A day of the year without a year, such as a typical last frost."""

    month: int
    day: int

    def in_year(self, year: int) -> date:
        """Return the date in ``year``; 29 February falls back to the 28th."""
        if (self.month, self.day) == (2, 29):
            return date(year, 3, 1) - timedelta(days=1)
        return date(year, self.month, self.day)


@dataclass(frozen=True, slots=True)
class Blackout:
    """A span of the year in which the local authority forbids feeding."""

    start: MonthDay
    end: MonthDay


@dataclass(frozen=True, slots=True)
class SiteFacts:
    """A place with one climate."""

    latitude_deg: float
    elevation_m: float
    soil_texture: str  # key of FAO-56 Table 19, e.g. "sandy_loam"
    last_frost: MonthDay | None = None
    first_frost: MonthDay | None = None
    is_frost_free: bool = False
    frost_margin_c: float = 1.7
    feeding_blackouts: tuple[Blackout, ...] = ()
    feed_product_name: str = "10-10-10"
    feed_nitrogen_percent: float = 10.0

    @property
    def is_southern(self) -> bool:
        """Whether seasons run half a year from the catalogue's months."""
        return self.latitude_deg < 0


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
    planted_on: date | None  # None: long ago, before records
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
    fed_before: Answer = Answer.UNKNOWN
    pruned_before: Answer = Answer.UNKNOWN
    mulched_before: Answer = Answer.UNKNOWN

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


@dataclass(frozen=True, slots=True)
class WeatherSeries:
    """Daily weather of one site; arrays of one length, gaps are NaN, never zero.

    ``origin`` holds one letter a day: ``o`` observed, ``f`` forecast, ``n`` normal.
    """

    start: date
    tmin_c: Array
    tmax_c: Array
    rain_mm: Array
    origin: str
    humidity_percent: Array | None = None
    wind_ms: Array | None = None
    radiation_mj: Array | None = None
    et0_mm: Array | None = None

    def __len__(self) -> int:
        return len(self.tmin_c)

    @property
    def end(self) -> date:
        """The last day of the series."""
        return self.start + timedelta(days=len(self) - 1)

    def index(self, day: date) -> int:
        """Return the position of ``day``; may lie outside the arrays."""
        return (day - self.start).days

    def covers(self, day: date) -> bool:
        """Whether ``day`` lies inside the series."""
        return 0 <= self.index(day) < len(self)

    def origin_on(self, day: date) -> Origin:
        """Return where the weather of ``day`` comes from."""
        letter = self.origin[self.index(day)]
        return {"o": Origin.OBSERVED, "f": Origin.FORECAST}.get(letter, Origin.NORMAL)


@dataclass(frozen=True, slots=True)
class WorkDone:
    """Something a person did, as far as it changes what comes next.

    ``kind`` is a rule's name (``watering``, ``feeding``, …); ``what`` is ``done`` or
    ``skipped``. ``amount`` is in the kind's SI unit: litres of water, grams of
    nitrogen, millimetres of mulch laid, share of the crown removed.
    """

    tree_id: int
    kind: str
    key: str
    on: date
    what: str = "done"
    amount: float | None = None
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Observation:
    """A reading that corrects the model of one tree.

    ``what``: ``soil_feel`` (wet | right | dry), ``mulch_depth_mm``,
    ``trunk_gap_mm``, ``shoot_growth_mm``, ``bloom_stage``.
    """

    tree_id: int
    what: str
    on: date
    value: float | None = None
    word: str = ""


@dataclass(frozen=True, slots=True)
class WaterOutlook:
    """What the water balance says of one tree this morning and from here on.

    Litres; dates are whole days. ``*_in_days`` count from today (0 = today) and are
    ``None`` where the horizon ends first. ``use_l`` and the like are today's.
    """

    is_container: bool
    store_l: float  # capacity where you water (C1)
    missing_l: float  # depletion of it (D1)
    outer_store_l: float  # other soil the roots can use (C2)
    outer_missing_l: float
    readily_available_l: float  # what may be used before stress, both stores
    spare_l: float  # what is left of it
    depletion_p: float
    use_l: float  # expected use today
    et0_mm: float
    et0_method: str
    kc: float
    crown_area_m2: float
    stress_ks: float
    water_net_l: float  # to refill, at the due date
    water_gross_l: float  # what to pour, losses or leaching included
    earliest_in_days: int | None  # half of the readily available water is gone
    due_in_days: int | None
    latest_in_days: int | None  # stress would pass the limit
    likely_in_days: tuple[int | None, int | None, int | None] = (None, None, None)
    later_in_days: tuple[int, ...] = ()  # due days after the first, if obeyed
    later_net_l: tuple[float, ...] = ()
    rain_last_week_l: float = 0.0
    rain_known: bool = True
    is_saturated: bool = False
    is_established: bool = True
    is_frozen: bool = False
    is_dormant: bool = False
    needs_twice_daily: bool = False
    pot_too_small: bool = False
    unknown_water_days: int = 0  # days without a word from the person
    basin_area_m2: float = 0.0
    root_radius_m: float | None = None
    history_days: tuple[date, ...] = ()
    history_missing_l: tuple[float, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Situation:
    """Everything a rule may look at for one tree on one morning."""

    today: date
    tree: TreeFacts
    site: SiteFacts
    weather: WeatherSeries | None
    work: tuple[WorkDone, ...] = ()
    observations: tuple[Observation, ...] = ()
    water: WaterOutlook | None = None
    typed_minimum_c: float | None = None  # tonight's, as a person typed it
    clump_mates: tuple[int, ...] = field(default=())

    def logged(self, kind: str) -> tuple[WorkDone, ...]:
        """Return this tree's work of one kind up to today, oldest first."""
        mine = (
            work
            for work in self.work
            if work.tree_id == self.tree.id and work.kind == kind
        )
        return tuple(
            sorted((w for w in mine if w.on <= self.today), key=lambda w: w.on)
        )

    def observed(self, what: str) -> tuple[Observation, ...]:
        """Return this tree's readings of one sort up to today, oldest first."""
        mine = (
            reading
            for reading in self.observations
            if reading.tree_id == self.tree.id and reading.what == what
        )
        return tuple(
            sorted((r for r in mine if r.on <= self.today), key=lambda r: r.on)
        )
