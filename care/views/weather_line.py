"""The one line of weather that matters today."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta

from django.db.models import Q

from care.planning.cold_ahead import WIDEST_C, cold_nights
from care.views.days import count_days, day_words
from orchard.models import Site, WeatherDay
from orchard.units import UnitSystem, format_length_mm, format_temperature

DAYS_BACK = 7
DAYS_AHEAD = 2
COLD_C = 2.0  # a forecast this low is a frost somewhere in most gardens
HOT_C = 32.0
RAIN_MM = 3.0
STALE_DAYS = 3


@dataclass(slots=True)
class _Day:
    tmin_c: float | None = None
    tmax_c: float | None = None
    rain_mm: float | None = None


@dataclass(frozen=True, slots=True)
class WeatherLine:
    """A sentence, and whether the reader should go and enter weather."""

    words: str
    needs_weather: bool = False


@dataclass(slots=True)
class _Known:
    site: Site
    today: date
    units: UnitSystem
    past: dict[date, _Day] = field(default_factory=dict)
    ahead: dict[date, _Day] = field(default_factory=dict)


def weather_line(site: Site, today: date, units: UnitSystem) -> WeatherLine:
    """Return what of the last week and the coming days a grower should know."""
    known = _read(site, today, units)
    words = _cold(known) or _hot(known) or _rain_ahead(known)
    if words:
        return WeatherLine(words)
    last = max(known.past, default=None)
    if last is not None and (today - last).days <= STALE_DAYS:
        return WeatherLine(_past_rain(known))
    age = f"since {day_words(last, today)}" if last else "in the last week"
    if site.readings.exists():
        words = f"No readings {age}: the plan reckons with the weather usual here."
    else:
        words = "No weather yet: only work that needs none is planned."
    return WeatherLine(words, needs_weather=True)


def _read(site: Site, today: date, units: UnitSystem) -> _Known:
    """Read the days around today, the most trusted value of each winning."""
    is_observed = Q(issued_on=None, day__lt=today)
    is_forecast = Q(issued_on__lte=today, day__gte=today)
    rows = (
        WeatherDay.objects.filter(
            is_observed | is_forecast,
            batch__series__readers__site=site,
            day__gte=today - timedelta(days=DAYS_BACK),
            day__lte=today + timedelta(days=DAYS_AHEAD),
        )
        .order_by("-batch__series__readers__rank", "issued_on", "batch_id")
        .values_list("day", "tmin_c", "tmax_c", "rain_mm")
    )
    known = _Known(site, today, units)
    for day, tmin_c, tmax_c, rain_mm in rows:
        days = known.past if day < today else known.ahead
        one = days.setdefault(day, _Day())
        one.tmin_c = one.tmin_c if tmin_c is None else tmin_c
        one.tmax_c = one.tmax_c if tmax_c is None else tmax_c
        one.rain_mm = one.rain_mm if rain_mm is None else rain_mm
    return known


def _cold(known: _Known) -> str:
    """Return the coldest night as the cold rule takes it, and the forecast behind it."""
    forecast = [one.tmin_c for one in known.ahead.values() if one.tmin_c is not None]
    if min(forecast, default=COLD_C + WIDEST_C + 1) > COLD_C + WIDEST_C:
        return ""  # no place is colder than its forecast by so much
    nights = cold_nights(known.site, known.today, DAYS_AHEAD)
    nights = tuple(night for night in nights if night.basis != "reading")
    coldest = min(nights, key=lambda night: night.minimum_c, default=None)
    if coldest is None or coldest.minimum_c > COLD_C:
        return ""
    day, lowest = coldest.day, format_temperature(coldest.minimum_c, known.units)
    when = "today" if day == known.today else f"{day_words(day, known.today)} morning"
    words = f"Cold ahead: {lowest} expected {when}"
    told = coldest.told_c
    if told is None or told == coldest.minimum_c:
        return f"{words}."
    return f"{words} ({format_temperature(told, known.units)} by the forecast)."


def _hot(known: _Known) -> str:
    highs = [
        (one.tmax_c, day)
        for day, one in known.ahead.items()
        if one.tmax_c is not None and one.tmax_c >= HOT_C
    ]
    if not highs:
        return ""
    highest, day = max(highs)
    warmth = format_temperature(highest, known.units)
    return f"Heat ahead: {warmth} expected {day_words(day, known.today)}."


def _rain_ahead(known: _Known) -> str:
    for day in sorted(known.ahead):
        rain_mm = known.ahead[day].rain_mm
        if rain_mm is not None and rain_mm >= RAIN_MM:
            depth = format_length_mm(rain_mm, known.units)
            return f"About {depth} of rain expected {day_words(day, known.today)}."
    return ""


def _past_rain(known: _Known) -> str:
    total = _total_rain(known.past)
    if total is None:
        return "No rain reading in the last week."
    if total < 0.5:  # noqa: PLR2004 (less than a gauge shows)
        return f"No rain in the last {count_days(DAYS_BACK)}.{_today_high(known)}"
    depth = format_length_mm(total, known.units)
    return f"{depth} of rain in the last {count_days(DAYS_BACK)}.{_today_high(known)}"


def _total_rain(days: Mapping[date, _Day]) -> float | None:
    rain = [one.rain_mm for one in days.values() if one.rain_mm is not None]
    return sum(rain) if rain else None


def _today_high(known: _Known) -> str:
    one = known.ahead.get(known.today)
    if one is None or one.tmax_c is None:
        return ""
    return f" Up to {format_temperature(one.tmax_c, known.units)} today."
