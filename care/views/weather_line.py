"""What of the weather matters today, the worst first: cold, heat, wind, rain, age."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext

from care.planning.cold_ahead import WIDEST_C, Night, cold_nights
from care.planning.days_ahead import (
    DAYS_AHEAD,
    DAYS_BACK,
    NearDay,
    NearDays,
    is_night_unknown,
)
from care.views.days import count_days, when_day
from care.views.rain_waits import rain_waits, waiting_tasks, waits_words
from orchard.models import Site
from orchard.units import (
    UnitSystem,
    format_length_mm,
    format_quantity,
    format_temperature as degrees,
)

COLD_C = 2.0  # a forecast this low is a frost somewhere in most gardens
MUCH_COLDER_C = 1.5  # worth a word beside the night before; ours
HOT_C = 32.0
RAIN_MM = 3.0
GUST_MS = 11.0  # 25 miles an hour: twigs and covers fly; ours
WIND_MS = 8.0  # as a day's mean, where nobody forecasts gusts; ours
STALE_DAYS = 3
OLD_FORECAST_DAYS = 2


@dataclass(frozen=True, slots=True)
class WeatherLine:
    """What to know first, what else, and whether the reader should enter weather."""

    words: str
    needs_weather: bool = False
    more: tuple[str, ...] = ()


def weather_line(site: Site, near: NearDays, units: UnitSystem) -> WeatherLine:
    """Return what of the last week and the coming days a grower should know."""
    ahead = (
        _cold(site, near, units),
        _hot(near, units),
        wind_words(near, units),
        rain_words(site, near, units),
    )
    found = [words for words in ahead if words]
    last = max(near.past, default=None)
    is_fresh = last is not None and (near.today - last).days <= STALE_DAYS
    if not found and not is_fresh and not site.readings.exists():
        words = gettext("No weather yet: only work that needs none is planned.")
        return WeatherLine(words, needs_weather=True)
    if not is_fresh:
        found.append(_stale(near, last))
    elif not found:
        found.append(_past_rain(near, units))
    found += [_unknown_night(site, near), age_words(near)]
    return WeatherLine(found[0], not is_fresh, tuple(filter(None, found[1:])))


def _stale(near: NearDays, last: date | None) -> str:
    if last is None:
        return gettext(
            "No readings in the last week: the plan reckons with the weather usual "
            "here, and amounts are less sure."
        )
    days = count_days((near.today - last).days)
    return gettext(
        "Weather is {days} old (none since {when}): amounts are less sure."
    ).format(days=days, when=when_day(last, near.today))


def _unknown_night(site: Site, near: NearDays) -> str:
    """Say that nobody knows tonight's cold, in the months in which it may freeze."""
    if not is_night_unknown(site, near):
        return ""
    return gettext(
        "No forecast reaches tonight, and frosts are usual now: read a thermometer "
        "at dusk, and enter the lowest you expect."
    )


def age_words(near: NearDays) -> str:
    """Return how old the forecast is, from two days on."""
    age = near.forecast_age_days
    if age is None or age < OLD_FORECAST_DAYS:
        return ""
    return gettext("The forecast is {age} old: less sure with every day.").format(
        age=count_days(age)
    )


def _cold(site: Site, near: NearDays, units: UnitSystem) -> str:
    """Return the next cold night as the cold rule takes it, and a much colder one."""
    forecast = [one.tmin_c for one in near.ahead.values() if one.tmin_c is not None]
    if min(forecast, default=COLD_C + WIDEST_C + 1) > COLD_C + WIDEST_C:
        return ""  # no place is colder than its forecast by so much
    nights = [
        night
        for night in cold_nights(site, near.today, DAYS_AHEAD)
        if night.basis != "reading" and night.minimum_c <= COLD_C
    ]
    if not nights:
        return ""
    # The morning of today is mostly over; tonight's cold is that of tomorrow.
    nearest = next((night for night in nights if night.day > near.today), nights[0])
    coldest = min(nights, key=lambda night: night.minimum_c)
    is_worse = coldest.minimum_c <= nearest.minimum_c - MUCH_COLDER_C
    later = f", {_low(coldest, near, units)}" if is_worse else ""
    return gettext("Cold ahead: {low}{later}.").format(
        low=_low(nearest, near, units), later=later
    )


def _low(night: Night, near: NearDays, units: UnitSystem) -> str:
    lowest, day = degrees(night.minimum_c, units), night.day
    words = (
        gettext("{lowest} expected today").format(lowest=lowest)
        if day == near.today
        else gettext("{lowest} expected {when} morning").format(
            lowest=lowest, when=when_day(day, near.today)
        )
    )
    told = night.told_c
    if told is None or told == night.minimum_c:
        return words
    return gettext("{words} ({told} by the forecast)").format(
        words=words, told=degrees(told, units)
    )


def _hot(near: NearDays, units: UnitSystem) -> str:
    highs = [
        (one.tmax_c, day)
        for day, one in near.ahead.items()
        if one.tmax_c is not None and one.tmax_c >= HOT_C
    ]
    if not highs:
        return ""
    highest, day = max(highs)
    warmth = degrees(highest, units)
    return gettext("Heat ahead: {warmth} expected {when}.").format(
        warmth=warmth, when=when_day(day, near.today)
    )


def wind_words(near: NearDays, units: UnitSystem) -> str:
    """Return the strongest wind of today and tomorrow that forbids ladders, if any."""
    gusts = [
        (speed, day)
        for day, one in _soon(near).items()
        if (speed := _strong_ms(one)) is not None
    ]
    if not gusts:
        return ""
    speed, day = max(gusts)
    told = format_quantity(speed, "m/s", units)
    when = when_day(day, near.today)
    if near.ahead[day].gust_ms is not None:
        return gettext(
            "High wind likely {when}, gusts of {told}: no ladders, and peg every "
            "cover down."
        ).format(when=when, told=told)
    return gettext(
        "High wind likely {when}, wind of {told}: no ladders, and peg every cover down."
    ).format(when=when, told=told)


def _strong_ms(day: NearDay) -> float | None:
    if day.gust_ms is not None:
        return day.gust_ms if day.gust_ms >= GUST_MS else None
    is_strong = day.wind_ms is not None and day.wind_ms >= WIND_MS
    return day.wind_ms if is_strong else None


def _soon(near: NearDays) -> Mapping[date, NearDay]:
    return {day: one for day, one in near.ahead.items() if (day - near.today).days <= 1}


def rain_words(
    site: Site, near: NearDays, units: UnitSystem, *, is_for_work: bool = False
) -> str:
    """Return the rain that is coming, and the work that waits for it.

    With ``is_for_work`` nothing is said of rain that no work waits for.
    """
    rain = {day: one.rain_mm for day, one in near.ahead.items() if one.rain_mm}
    coming = [day for day in sorted(rain) if rain[day] >= RAIN_MM]
    if not coming:
        return ""
    day = coming[0]
    depth = format_length_mm(rain[day], units)
    words = gettext("Rain likely {when}, about {depth}").format(
        when=when_day(day, near.today), depth=depth
    )
    waits = waits_words(rain_waits(waiting_tasks(site), near.today, rain), near.today)
    if is_for_work and not waits:
        return ""
    return f"{words}: {waits}." if waits else f"{words}."


def _past_rain(near: NearDays, units: UnitSystem) -> str:
    total = _total_rain(near.past)
    if total is None:
        return gettext("No rain reading in the last week.")
    if total < 0.5:  # noqa: PLR2004 (less than a gauge shows)
        return gettext("No rain in the last {days_back}.").format(
            days_back=count_days(DAYS_BACK)
        ) + _today_high(near, units)
    depth = format_length_mm(total, units)
    last = count_days(DAYS_BACK)
    return gettext("{depth} of rain in the last {last}.").format(
        depth=depth, last=last
    ) + _today_high(near, units)


def _total_rain(days: Mapping[date, NearDay]) -> float | None:
    rain = [one.rain_mm for one in days.values() if one.rain_mm is not None]
    return sum(rain) if rain else None


def _today_high(near: NearDays, units: UnitSystem) -> str:
    one = near.ahead.get(near.today)
    if one is None or one.tmax_c is None:
        return ""
    return " " + gettext("Up to {tmax} today.").format(tmax=degrees(one.tmax_c, units))
