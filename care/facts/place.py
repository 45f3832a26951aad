"""What is known of a place with one climate, and of its local rules."""

from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import StrEnum


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
class WateringRule:
    """A span of the year in which the local authority limits watering to weekdays.

    ``weekdays`` are the allowed ones, Monday 0; none means that nothing is watered.
    The last day of the span is one of it; a span may run over New Year.
    """

    start: MonthDay
    end: MonthDay
    weekdays: frozenset[int]
    spares_hand_watering: bool = False
    spares_containers: bool = False
    source: str = ""

    def governs(self, day: date) -> bool:
        """Whether ``day`` lies in the span of the rule."""
        first, last = (self.start.month, self.start.day), (self.end.month, self.end.day)
        this = (day.month, day.day)
        if first <= last:
            return first <= this <= last
        return this >= first or this <= last

    def allows(self, day: date) -> bool:
        """Whether the rule leaves ``day`` to watering."""
        return not self.governs(day) or day.weekday() in self.weekdays


class NitrogenAdvice(StrEnum):
    """What a laboratory advises on nitrogen; it goes before any ladder by age."""

    NONE = "none"
    HALF = "half"
    USUAL = "usual"


@dataclass(frozen=True, slots=True)
class SoilTest:
    """A soil test of the site, as far as it changes what is done."""

    on: date
    ph: float | None = None
    nitrogen: NitrogenAdvice = NitrogenAdvice.USUAL


@dataclass(frozen=True, slots=True)
class FrostNights:
    """Clear, calm nights somebody logged, of one length, oldest first [degC].

    Air and dew point two hours after sunset, and the minimum that followed.
    """

    evening_c: tuple[float, ...]
    dew_point_c: tuple[float, ...]
    minimum_c: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class ColdPocket:
    """How much colder than the station the place is on cold nights, as learned.

    ``offset_c`` is positive where the place is colder; from ``nights`` nights on
    which both the station's and the place's own minimum are known.
    """

    offset_c: float
    nights: int


@dataclass(frozen=True, slots=True)
class SiteFacts:
    """A place with one climate.

    ``last_frost`` and ``first_frost`` are the usual ones. Where they come from years of
    record, ``frost_record_years`` tells how many, and the ``safe_`` dates are those
    past which a frost still comes one year in ten. ``hottest_from`` begins the six
    hottest weeks of the usual year, where any stand out.
    """

    latitude_deg: float
    elevation_m: float
    soil_texture: str  # key of FAO-56 Table 19, e.g. "sandy_loam"
    last_frost: MonthDay | None = None
    first_frost: MonthDay | None = None
    is_frost_free: bool = False
    frost_margin_c: float = 1.7
    feeding_blackouts: tuple[Blackout, ...] = ()
    watering_rules: tuple[WateringRule, ...] = ()
    feed_product_name: str = "10-10-10"
    feed_nitrogen_percent: float = 10.0
    feed_density_g_per_ml: float | None = None  # weighed by the person, of the product
    water_setback_m: float | None = None  # local rule: no feeding nearer to water
    soil_test: SoilTest | None = None
    hose_flow_l_per_min: float | None = None  # timed with a bucket
    is_water_salty: bool = False  # salty, hard or softened
    has_high_water_table: bool = False  # in the wet season within reach of the roots
    frost_nights: FrostNights | None = None
    cold_pocket: ColdPocket | None = None
    safe_last_frost: MonthDay | None = None
    safe_first_frost: MonthDay | None = None
    frost_record_years: int | None = None
    hottest_from: MonthDay | None = None

    @property
    def safest_first_frost(self) -> MonthDay | None:
        """The first frost for what one early frost would kill or waste."""
        return self.safe_first_frost or self.first_frost

    @property
    def on_the_safe_side(self) -> "SiteFacts":
        """The same place for what one late or early frost would kill or waste."""
        return replace(
            self,
            last_frost=self.safe_last_frost or self.last_frost,
            first_frost=self.safest_first_frost,
        )

    @property
    def is_southern(self) -> bool:
        """Whether seasons run half a year from the catalogue's months."""
        return self.latitude_deg < 0
