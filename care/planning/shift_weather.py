"""Whether a shift's weather harms people: thunder, heat and high wind.

What is decided here is proposed to who arranges the shift. It is sure, and done without
asking, only where an official warning of a thunderstorm or of extreme heat holds during
the shift's hours on the very day. Local rules and who is there decide before it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from enum import StrEnum
from math import isnan

import numpy as np

from care.models import Shift
from care.planning.days_ahead import NearDay, read_near_days
from care.planning.shift_times import begins_at, ends_at
from care.planning.shift_work import Hazard, ShiftWork
from care.science.heat_index import (
    HeatRisk,
    heat_index_c,
    heat_risk,
    humidity_at_percent,
)
from care.science.hourly import hourly_temperatures_c
from orchard.models import OfficialWarning, Site
from orchard.sources.official_warnings import (
    GRAVE,
    Concern,
    concern_of,
    site_moment,
    warnings_at,
)

# As the round says it: 40 km/h (25 mph). Stricter than OSHA's high wind of 48.3 km/h
# (30 mph) for who handles things, 29 CFR 1910.269(x): an orchard ladder stands free.
LADDER_GUST_MS = 11.0
LADDER_WIND_MS = 8.0  # as a day's mean, where nobody forecasts gusts; ours
# OSHA's high wind, 29 CFR 1910.269(x): 64.4 km/h (40 mph). Limbs fall.
HIGH_GUST_MS = 64.4 / 3.6
# Where an earlier start is offered, and before which none is: common practice, no source.
EARLY = time(7)
HOURS = 24


class Advice(StrEnum):
    """What to do with a shift."""

    CANCEL = "cancel"
    MOVE = "move"
    EARLIER = "earlier"
    NO_LADDERS = "no_ladders"
    MIND = "mind"


@dataclass(frozen=True, slots=True)
class Call:
    """One danger and what it asks for.

    ``peak_c`` is the hottest hour's heat index, or its temperature where
    ``is_temperature_only``; ``gust_ms`` the strongest gust of the day, or its mean wind
    where ``is_mean_wind``. ``event`` is the official warning's own name. A call that
    ``is_sure`` is done without asking.
    """

    concern: Concern
    advice: Advice
    event: str = ""
    is_sure: bool = False
    peak_c: float | None = None
    is_temperature_only: bool = False
    gust_ms: float | None = None
    is_mean_wind: bool = False


@dataclass(frozen=True, slots=True)
class Warned:
    """An official warning as it bears on work."""

    concern: Concern
    event: str
    severity: str
    begins_at: datetime
    ends_at: datetime

    @property
    def is_grave(self) -> bool:
        """Whether it may cost lives and is no mere watch."""
        is_watch = "watch" in self.event.casefold()
        return self.severity.casefold() in GRAVE and not is_watch


@dataclass(frozen=True, slots=True)
class Hours:
    """When a shift is, and what of it bears on the weather."""

    begins: datetime
    ends: datetime
    starts_at: time
    has_ladder: bool
    is_today: bool


@dataclass(frozen=True, slots=True)
class Sky:
    """What is forecast and warned of for the day of a shift."""

    day: NearDay = field(default_factory=NearDay)
    warned: tuple[Warned, ...] = ()
    temperatures_c: tuple[float, ...] = ()  # of the shift's hours


def calls(hours: Hours, sky: Sky) -> tuple[Call, ...]:
    """Return the dangers of a shift's weather, the gravest first."""
    warned = [one for one in sky.warned if _holds(one, hours)]
    found = (
        _thunder(warned, hours),
        _heat(warned, hours, sky),
        _wind(warned, hours, sky.day),
    )
    order = list(Advice)
    return tuple(sorted(filter(None, found), key=lambda call: order.index(call.advice)))


def _holds(warned: Warned, hours: Hours) -> bool:
    begins, ends = hours.begins.astimezone(UTC), hours.ends.astimezone(UTC)
    return warned.begins_at < ends and begins < warned.ends_at


def _gravest(warned: Iterable[Warned], concern: Concern) -> Warned | None:
    of_it = [one for one in warned if one.concern is concern]
    return max(of_it, key=lambda one: one.is_grave, default=None)


def _thunder(warned: Iterable[Warned], hours: Hours) -> Call | None:
    one = _gravest(warned, Concern.THUNDER)
    if one is None:
        return None
    is_sure = one.is_grave and hours.is_today
    return Call(Concern.THUNDER, Advice.CANCEL, one.event, is_sure=is_sure)


def _heat(warned: Iterable[Warned], hours: Hours, sky: Sky) -> Call | None:
    """Return what heat asks for, by OSHA's bands of the heat index.

    From 91 degF the cooler hours are offered, from 103 another time, above 115 none.
    """
    one = _gravest(warned, Concern.HEAT)
    peak_c, is_bare = _peak_c(sky)
    risk = HeatRisk.LOWER if peak_c is None else heat_risk(peak_c)
    if one is None and risk is HeatRisk.LOWER:
        return None
    is_sure = one is not None and one.is_grave and hours.is_today
    return Call(
        Concern.HEAT,
        Advice.CANCEL if is_sure else _heat_advice(risk, one, hours),
        event=one.event if one else "",
        is_sure=is_sure,
        peak_c=peak_c,
        is_temperature_only=is_bare,
    )


def _heat_advice(risk: HeatRisk, warned: Warned | None, hours: Hours) -> Advice:
    if risk is HeatRisk.VERY_HIGH:
        return Advice.CANCEL
    if risk is HeatRisk.HIGH or warned is not None:
        return Advice.MOVE
    return Advice.EARLIER if hours.starts_at > EARLY else Advice.MIND


def _peak_c(sky: Sky) -> tuple[float | None, bool]:
    """Return the hottest hour's heat index, and whether it is its temperature alone."""
    day = sky.day
    known = [one for one in sky.temperatures_c if not isnan(one)]
    if known:
        hottest_c = max(known)
    elif day.tmax_c is not None:
        hottest_c = day.tmax_c
    else:
        return None, False
    if day.humidity_percent is None or day.tmin_c is None or day.tmax_c is None:
        return hottest_c, True
    humidity = humidity_at_percent(
        hottest_c, day.tmin_c, day.tmax_c, day.humidity_percent
    )
    return heat_index_c(hottest_c, humidity), False


def _wind(warned: Iterable[Warned], hours: Hours, day: NearDay) -> Call | None:
    one = _gravest(warned, Concern.WIND)
    event = one.event if one else ""
    is_mean = day.gust_ms is None
    speed = day.wind_ms if is_mean else day.gust_ms
    is_grave = one is not None and one.is_grave
    if is_grave or (not is_mean and (speed or 0) > HIGH_GUST_MS):
        advice = Advice.MOVE
    elif hours.has_ladder and (one is not None or _is_too_windy(day)):
        advice = Advice.NO_LADDERS
    else:
        return None
    return Call(
        Concern.WIND,
        advice,
        event,
        gust_ms=speed,
        is_mean_wind=is_mean and speed is not None,
    )


def _is_too_windy(day: NearDay) -> bool:
    """Whether no ladder should stand."""
    if day.gust_ms is not None:
        return day.gust_ms >= LADDER_GUST_MS
    return day.wind_ms is not None and day.wind_ms >= LADDER_WIND_MS


def calls_of(
    site: Site, shifts: Sequence[Shift], work: dict[int, ShiftWork], now: datetime
) -> dict[int, tuple[Call, ...]]:
    """Return the dangers of each shift of a site that the forecast reaches, by its id.

    In two queries however many shifts there are.
    """
    today = site.today(now)
    near = read_near_days(site, today)
    moment = site_moment(site, now)
    warned = tuple(map(_warned, warnings_at(site, moment)))
    found = {}
    for shift in shifts:
        hazards = work[shift.pk].hazards if shift.pk in work else frozenset()
        hours = _hours(shift, site, hazards, today)
        day = near.ahead.get(shift.day, NearDay())
        sky = Sky(day, warned, _temperatures_c(site, shift, day, hours))
        found[shift.pk] = calls(hours, sky)
    return found


def _hours(shift: Shift, site: Site, hazards: Iterable[Hazard], today: date) -> Hours:
    return Hours(
        begins=begins_at(shift, site),
        ends=ends_at(shift, site),
        starts_at=shift.starts_at,
        has_ladder=Hazard.LADDER in set(hazards) or shift.is_hazardous,
        is_today=shift.day == today,
    )


def _warned(warning: OfficialWarning) -> Warned:
    return Warned(
        concern=concern_of(warning.event),
        event=warning.event,
        severity=warning.severity,
        begins_at=warning.begins_at,
        ends_at=warning.ends_at,
    )


def _temperatures_c(
    site: Site, shift: Shift, day: NearDay, hours: Hours
) -> tuple[float, ...]:
    """Return the temperatures of a shift's hours, from the day's two by a sine.

    Empty where they are not known, or where the shift goes on past midnight.
    """
    if day.tmin_c is None or day.tmax_c is None or day.tmin_c > day.tmax_c:
        return ()
    course = hourly_temperatures_c(
        np.array([day.tmin_c]),
        np.array([day.tmax_c]),
        site.latitude_deg,
        np.array([float(shift.day.timetuple().tm_yday)]),
    )[0]
    first = _solar_hour(hours.begins, site.longitude_deg)
    last = first + -(-shift.minutes // 60)
    if last >= HOURS:
        return ()
    return tuple(float(course[hour]) for hour in range(int(first), int(last) + 1))


def _solar_hour(moment: datetime, longitude_deg: float) -> float:
    """Return the hour of the day by the sun, 0 to 24."""
    solar = moment.astimezone(UTC) + timedelta(hours=longitude_deg / 15)
    return solar.hour + solar.minute / 60
