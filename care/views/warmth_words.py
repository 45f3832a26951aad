"""The warmth of the year in words."""

from datetime import date

from django.utils.translation import gettext, ngettext

from care.planning.warmth import BASE_C, YearsWarmth
from care.views.days import DASH, short_day
from orchard.languages import whole
from orchard.units import UnitSystem, format_temperature

F_PER_C = 1.8


def warmth_words(warmth: YearsWarmth | None, today: date, units: UnitSystem) -> str:
    """Return such as ``540 degree days above 10 degC since 1 January``, and the past."""
    if warmth is None:
        return gettext("The year has just begun.")
    since = short_day(warmth.since, today)
    if warmth.degree_days is None:
        return gettext("Unknown: too few days since {since} are known.").format(
            since=since
        )
    base = format_temperature(BASE_C, units)
    words = gettext("{degree_days} degree days above {base} since {since}").format(
        degree_days=_tens(warmth.degree_days, units), base=base, since=since
    )
    if not warmth.past:
        return f"{words}."
    low, high = (_tens(end, units) for end in (min(warmth.past), max(warmth.past)))
    span = low if low == high else f"{low}{DASH}{high}"
    count = len(warmth.past)
    past = ngettext(
        "{words}; {span} by this day in the one earlier year on record.",
        "{words}; {span} by this day in the {number} earlier years on record.",
        count,
    )
    return past.format(words=words, span=span, number=count)


def _tens(degree_days: float, units: UnitSystem) -> str:
    value = degree_days * (F_PER_C if units is UnitSystem.US else 1.0)
    return whole(round(value, -1))
