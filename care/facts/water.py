"""What the water balance says of one tree."""

from dataclasses import dataclass
from datetime import date

from care.facts.weather import Array


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
    # The 10, 50 and 90 % days over all courses of the weather, None beyond the horizon.
    likely_in_days: tuple[int | None, int | None, int | None] = (None, None, None)
    chances: tuple[tuple[int, float], ...] = ()  # of a need within so many days
    past_years: int = 0  # real years and made-up ones behind what is likely
    generated_years: int = 0
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
    rest_probability: float | None = None  # of no watering for 30 days
    rest_since: date | None = None  # the rain after which it may be left alone
    working: tuple[tuple[str, float | str | bool], ...] = ()  # what else went into it


@dataclass(frozen=True, slots=True)
class WaterCourse:
    """One tree's water day by day, litres, all of one length; for a chart.

    Days before today are what was folded, the rest what comes if every watering is
    done on its day and the weather goes on as the plan takes it. ``dry_l``,
    ``missing_l`` and ``threshold_l`` are of the watered store in the morning: missing
    before and after the day's watering, and from where on it is due. ``given_l`` is
    that watering, soil beyond the store included.
    """

    days: tuple[date, ...]
    dry_l: Array
    missing_l: Array
    threshold_l: Array
    rain_l: Array
    given_l: Array
    use_l: Array
