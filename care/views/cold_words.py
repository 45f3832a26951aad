"""A cold night's work in words: how long, how heavy, where to, until when."""

from datetime import date

from django.utils.translation import gettext, gettext_noop

from care.views.days import on_day, short_day, when_day
from care.views.wording import StoredReason
from orchard.languages import localised
from orchard.units import Quantity, UnitSystem, from_si, unit_label

MOMENT = gettext_noop("some minutes")
LEAST_HOURS = 1 / 3  # below it, a moment

CARRIED = {
    "one": gettext_noop("one person"),
    "two": gettext_noop("two people"),
    "dolly": gettext_noop("two people and a dolly, not lifted"),
}
ROOMS = {
    "indoors_heated": gettext_noop("back into the heated room where it stood last"),
    "indoors_unheated": gettext_noop("back into the unheated room where it stood last"),
}
SOMEWHERE = gettext_noop("into a room without frost")


def hours_words(hours: float) -> str:
    """Return a length of time as people say it, to the half hour below three hours."""
    if hours < 1:
        return gettext("half an hour") if hours >= LEAST_HOURS else gettext(MOMENT)
    rounded = round(2 * hours) / 2 if hours < 3 else float(round(hours))  # noqa: PLR2004
    return (
        gettext("1 hour")
        if rounded == 1
        else gettext("{rounded} hours").format(rounded=localised(f"{rounded:g}"))
    )


def about_hours(hours: float) -> str:
    """Return such as ``about 3 hours`` or ``some minutes``."""
    words = hours_words(hours)
    return (
        words if hours < LEAST_HOURS else gettext("about {words}").format(words=words)
    )


def weight_words(reason: StoredReason, units: UnitSystem) -> str:
    """Return how heavy a wet pot likely is and who carries it; nothing if not told."""
    if reason.text("carried_by") not in CARRIED:
        return ""
    by = gettext(CARRIED[reason.text("carried_by")])
    weight_kg = reason.number("wet_kg")
    if weight_kg is None:
        return gettext("its weight is not known: {by}").format(by=by)
    weight = round(from_si(weight_kg, Quantity.MASS, units))  # nobody weighed it
    return gettext("about {weight} {unit} when wet: {by}").format(
        weight=weight, unit=unit_label(Quantity.MASS, units), by=by
    )


def room_words(reason: StoredReason) -> str:
    """Return where to a pot is carried."""
    room = gettext(ROOMS.get(reason.text("last_indoors"), SOMEWHERE))
    if reason.holds("is_evergreen"):
        return gettext("{room}, in the light").format(room=room)
    return gettext("{room}; once bare it needs no light").format(room=room)


def out_words(reason: StoredReason, today: date) -> str:
    """Return when a pot brought in tonight goes out again, to follow ``it is``."""
    out_on, until = reason.day("likely_out_on"), reason.day("frosts_until")
    if out_on is not None:
        return gettext("likely back out {out}, if the nights stay as forecast").format(
            out=on_day(out_on, today)
        )
    if until is not None:
        return gettext("likely to stay in until the frosts end, near {until}").format(
            until=short_day(until, today)
        )
    return gettext("to go back out once three nights in a row are forecast warm enough")


def uncover_words(reason: StoredReason, today: date) -> str:
    """Return when covers are opened in the morning after a cold night."""
    cold_on = reason.day("cold_on")
    day = gettext("in the morning") if cold_on is None else _morning(cold_on, today)
    hours = reason.number("thaw_after_sunrise_h")
    if hours is None:
        return gettext("{day}, once it is above freezing").format(day=day)
    if hours == 0:
        return gettext("{day}, once the sun is on it").format(day=day)
    return gettext(
        "{day}, once it is above freezing, likely {hours} after sunrise"
    ).format(day=day, hours=about_hours(hours))


def _morning(day: date, today: date) -> str:
    words = when_day(day, today)
    return words if day == today else gettext("{words} morning").format(words=words)
