"""What was read and is forecast round today, for the lines that say what matters."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date, timedelta

from django.db.models import Q

from care.facts import MonthDay, SiteFacts
from care.science.hot_spells import HotDay, afternoon_deficit_kpa
from care.science.season import is_frost_season
from orchard.models import Site, WeatherDay

DAYS_BACK = 7
DAYS_AHEAD = 2
VALUES = ("tmin_c", "tmax_c", "rain_mm", "gust_ms", "wind_ms", "humidity_percent")


@dataclass(slots=True)
class NearDay:
    """One day, SI units; ``None`` is unknown. ``issued_on`` is its forecast's day."""

    tmin_c: float | None = None
    tmax_c: float | None = None
    rain_mm: float | None = None
    gust_ms: float | None = None
    wind_ms: float | None = None
    humidity_percent: float | None = None
    issued_on: date | None = None


@dataclass(frozen=True, slots=True)
class NearDays:
    """The week before today as read, and the days from today on as forecast."""

    today: date
    past: dict[date, NearDay] = field(default_factory=dict)
    ahead: dict[date, NearDay] = field(default_factory=dict)

    @property
    def tomorrow(self) -> NearDay:
        """Tomorrow; a day of nothing known where nobody forecast it."""
        return self.ahead.get(self.today + timedelta(days=1), NearDay())

    @property
    def forecast_age_days(self) -> int | None:
        """How old the forecast of tomorrow is, ``None`` where there is none."""
        issued_on = self.tomorrow.issued_on
        return None if issued_on is None else (self.today - issued_on).days

    def hot_days(self) -> list[tuple[date, HotDay]]:
        """Return the days ahead that alarm by heat or dryness, soonest first."""
        found = ((day, _hot_day(day, self.ahead[day])) for day in sorted(self.ahead))
        return [(day, hot) for day, hot in found if hot is not None and hot.alarms]


def read_near_days(site: Site, today: date) -> NearDays:
    """Read the days round today, the most trusted value of each winning."""
    is_observed = Q(issued_on=None, day__lt=today)
    is_forecast = Q(issued_on__lte=today, day__gte=today)
    rows = (
        WeatherDay.objects.filter(
            is_observed | is_forecast,
            batch__series__readers__site=site,
            day__gte=today - timedelta(days=DAYS_BACK),
            day__lte=today + timedelta(days=DAYS_AHEAD),
        )
        # A station's rain so far stands like a forecast and is none.
        .exclude(batch__series__kind="sent", issued_on__isnull=False)
        .order_by("-batch__series__readers__rank", "issued_on", "batch_id")
        .values_list("day", "issued_on", *VALUES)
    )
    near = NearDays(today)
    for day, issued_on, *values in rows:
        days = near.past if day < today else near.ahead
        _write(days.setdefault(day, NearDay()), issued_on, values)
    return near


def _write(
    day: NearDay, issued_on: date | None, values: Iterable[float | None]
) -> None:
    for name, value in zip(VALUES, values, strict=True):
        if value is not None:
            setattr(day, name, value)
            day.issued_on = issued_on


def is_night_unknown(site: Site, near: NearDays) -> bool:
    """Whether frosts are usual now, and nobody says how cold tonight becomes."""
    if near.tomorrow.tmin_c is not None:
        return False
    today = near.ahead.get(near.today)
    if today is not None and today.tmin_c is not None and today.issued_on == near.today:
        return False  # typed this morning for tonight
    facts = SiteFacts(
        site.latitude_deg,
        site.elevation_m,
        site.soil_texture,
        last_frost=_month_day(site.last_frost_month, site.last_frost_day),
        first_frost=_month_day(site.first_frost_month, site.first_frost_day),
        is_frost_free=site.is_frost_free,
    )
    return is_frost_season(near.today, facts)


def _month_day(month: int | None, day: int | None) -> MonthDay | None:
    return None if month is None or day is None else MonthDay(month, day)


def _hot_day(day: date, near: NearDay) -> HotDay | None:
    if near.tmax_c is None:
        return None
    deficit = None
    if near.tmin_c is not None:
        deficit = afternoon_deficit_kpa(near.tmin_c, near.tmax_c, near.humidity_percent)
    return HotDay(day, near.tmax_c, deficit)
