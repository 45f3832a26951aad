"""Today and tonight in plain words, and who says a day's values."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.utils.translation import gettext, gettext_noop

from orchard.languages import weekday
from orchard.sources.known_days import VALUES, KnownDay
from orchard.units import UnitSystem, format_length_mm, format_temperature

COLD_C = 2.2  # 36 degF, at which a night with frost on the ground begins
HOT_C = 32.0
LEAST_RAIN_MM, WET_MM = 0.2, 10.0
#: What an imported file is called for good.
STATION_FILE = gettext_noop("Station file")
OUR_NAMES = frozenset(
    {STATION_FILE, gettext_noop("Readings typed in"), gettext_noop("Forecast")}
)
VALUE_WORDS = {
    "tmin_c": gettext_noop("low"),
    "tmax_c": gettext_noop("high"),
    "rain_mm": gettext_noop("rain"),
}
ORIGIN_WORDS = {
    "typed": gettext_noop("read here"),
    "expected": gettext_noop("expected by someone here"),
    "forecast": gettext_noop("forecast"),
    "so_far": gettext_noop("so far today"),
    "normal": gettext_noop("typical for the month"),
}


@dataclass(frozen=True, slots=True)
class StationNow:
    """What a station at the site says at this moment."""

    name: str
    temp_c: float | None
    age: str


def series_words(name: str) -> str:
    """Return what a series is called; a name that is ours in the reader's language."""
    return gettext(name) if name in OUR_NAMES else name


def day_sentences(
    days: Sequence[KnownDay], today: date, units: UnitSystem, now: StationNow | None
) -> list[str]:
    """Return what of today and tonight matters, the station's own word first."""
    by_day = {day.day: day for day in days}
    this, next_day = by_day[today], by_day.get(today + timedelta(days=1))
    ahead = [day for day in days if day.day > today]
    found = []
    if now is not None and now.temp_c is not None:
        found.append(
            gettext("{temperature} at {name}, {age}.").format(
                temperature=format_temperature(now.temp_c, units),
                name=now.name,
                age=now.age,
            )
        )
    groups = (
        _today(this, units),
        _tonight(this, next_day, units),
        _ahead(ahead, units),
    )
    return [*found, *(" ".join(group) for group in groups if group)]


def _what(day: KnownDay | None, name: str) -> str:
    telling = day.told.get(name) if day else None
    return telling.what if telling else ""


def _today(day: KnownDay, units: UnitSystem) -> list[str]:
    found = []
    if day.tmin_c is not None and day.tmax_c is not None and _is_usual(day):
        low, high = (format_temperature(t, units) for t in (day.tmin_c, day.tmax_c))
        found.append(
            gettext("No forecast. Usual for the time of year: {low} to {high}.").format(
                low=low, high=high
            )
        )
    if day.tmax_c is not None and _what(day, "tmax_c") == "forecast":
        found.append(
            gettext("Today likely up to {temperature}.").format(
                temperature=format_temperature(day.tmax_c, units)
            )
        )
    rain, what = day.rain_mm, _what(day, "rain_mm")
    if rain is None or what == "normal":
        return found
    amount = format_length_mm(rain, units)
    words = {
        "typed": gettext("Rain read today: {amount}.").format(amount=amount),
        "so_far": gettext("{amount} of rain so far today.").format(amount=amount),
        "forecast": gettext("{amount} of rain likely.").format(amount=amount)
        if rain > LEAST_RAIN_MM
        else gettext("No rain likely today."),
    }
    return [*found, *filter(None, [words.get(what, "")])]


def _is_usual(day: KnownDay) -> bool:
    return {_what(day, "tmin_c"), _what(day, "tmax_c")} <= {"normal", "expected"}


def _ahead(days: Sequence[KnownDay], units: UnitSystem) -> list[str]:
    """Return the first cold night and the first wet and hot day after tonight."""
    sure = [day for day in days if _what(day, "tmin_c") == "forecast"]
    cold = [d for d in sure[1:] if d.tmin_c is not None and d.tmin_c <= COLD_C]
    hot = [d for d in sure if d.tmax_c is not None and d.tmax_c >= HOT_C]
    wet = [
        d
        for d in days
        if _what(d, "rain_mm") == "forecast" and (d.rain_mm or 0.0) >= WET_MM
    ]
    found = []
    for day in cold[:1]:
        low = format_temperature(day.tmin_c or 0.0, units)
        found.append(
            gettext("Cold on the morning of {day}: likely {low}.").format(
                day=weekday(day.day), low=low
            )
        )
    for day in hot[:1]:
        high = format_temperature(day.tmax_c or 0.0, units)
        found.append(
            gettext("Hot on {day}: likely {high}.").format(
                day=weekday(day.day), high=high
            )
        )
    for day in wet[:1]:
        amount = format_length_mm(day.rain_mm or 0.0, units)
        found.append(
            gettext("{amount} of rain likely on {day}.").format(
                amount=amount, day=weekday(day.day)
            )
        )
    return found


def _tonight(
    today: KnownDay, tomorrow: KnownDay | None, units: UnitSystem
) -> list[str]:
    night = today if _what(today, "tmin_c") == "expected" else tomorrow
    what = _what(night, "tmin_c")
    if night is None or night.tmin_c is None or what not in {"forecast", "expected"}:
        return []
    low = format_temperature(night.tmin_c, units)
    words = (
        gettext("Tonight someone here expects {low}.")
        if what == "expected"
        else gettext("Tonight likely down to {low}.")
    ).format(low=low)
    if night.tmin_c <= COLD_C:
        return [
            gettext(
                "{words} Frost on the ground is possible; the round says what to do."
            ).format(words=words)
        ]
    return [words]


def telling_words(day: KnownDay) -> str:
    """Return who says a day's values, and which of them differ."""
    said = {name: _said(day, name) for name in VALUES if name in day.told}
    if not said:
        return ""
    (most, _), *_ = Counter(said.values()).most_common(1)
    others = dict[str, list[str]]()
    for name, words in said.items():
        if words != most:
            others.setdefault(words, []).append(gettext(VALUE_WORDS[name]))
    joined = gettext(" and ")
    rest = [f"{joined.join(names)} {words}" for words, names in others.items()]
    missing = [gettext(VALUE_WORDS[name]) for name in VALUES if name not in day.told]
    gap = (
        [gettext("{values} missing").format(values=gettext(" and ").join(missing))]
        if missing and _is_measured(day)
        else []
    )
    return "; ".join([most, *rest, *gap])


def _is_measured(day: KnownDay) -> bool:
    return day.origin in {"observed", "typed"}


def _said(day: KnownDay, name: str) -> str:
    telling = day.told[name]
    if telling.what == "observed":
        is_ours = telling.series_name == STATION_FILE
        name = series_words(telling.series_name)
        return name.casefold() if is_ours else name
    return gettext(ORIGIN_WORDS[telling.what])
