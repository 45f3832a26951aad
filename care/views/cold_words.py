"""A cold night's work in words: how long, how heavy, where to, until when."""

from datetime import date

from care.views.days import day_words, on_day, short_day
from care.views.wording import StoredReason
from orchard.units import Quantity, UnitSystem, from_si, unit_label

MOMENT = "some minutes"

CARRIED = {
    "one": "one person",
    "two": "two people",
    "dolly": "two people and a dolly, not lifted",
}
ROOMS = {
    "indoors_heated": "back into the heated room where it stood last",
    "indoors_unheated": "back into the unheated room where it stood last",
}
SOMEWHERE = "into a room without frost"


def hours_words(hours: float) -> str:
    """Return a length of time as people say it, to the half hour below three hours."""
    if hours < 1:
        return "half an hour" if hours >= 1 / 3 else MOMENT
    rounded = round(2 * hours) / 2 if hours < 3 else float(round(hours))  # noqa: PLR2004
    return "1 hour" if rounded == 1 else f"{rounded:g} hours"


def about_hours(hours: float) -> str:
    """Return such as ``about 3 hours`` or ``some minutes``."""
    words = hours_words(hours)
    return words if words == MOMENT else f"about {words}"


def weight_words(reason: StoredReason, units: UnitSystem) -> str:
    """Return how heavy a wet pot likely is and who carries it; nothing if not told."""
    by = CARRIED.get(reason.text("carried_by"))
    if by is None:
        return ""
    weight_kg = reason.number("wet_kg")
    if weight_kg is None:
        return f"its weight is not known: {by}"
    weight = round(from_si(weight_kg, Quantity.MASS, units))  # nobody weighed it
    return f"about {weight} {unit_label(Quantity.MASS, units)} when wet: {by}"


def room_words(reason: StoredReason) -> str:
    """Return where to a pot is carried."""
    room = ROOMS.get(reason.text("last_indoors"), SOMEWHERE)
    if reason.holds("is_evergreen"):
        return f"{room}, in the light"
    return f"{room}; once bare it needs no light"


def out_words(reason: StoredReason, today: date) -> str:
    """Return when a pot brought in tonight goes out again, to follow ``it is``."""
    out_on, until = reason.day("likely_out_on"), reason.day("frosts_until")
    if out_on is not None:
        return (
            f"likely back out {on_day(out_on, today)}, if the nights stay as forecast"
        )
    if until is not None:
        return f"likely to stay in until the frosts end, near {short_day(until, today)}"
    return "to go back out once three nights in a row are forecast warm enough"


def uncover_words(reason: StoredReason, today: date) -> str:
    """Return when covers are opened in the morning after a cold night."""
    cold_on = reason.day("cold_on")
    day = "in the morning" if cold_on is None else _morning(cold_on, today)
    hours = reason.number("thaw_after_sunrise_h")
    if hours is None:
        return f"{day}, once it is above freezing"
    if hours == 0:
        return f"{day}, once the sun is on it"
    return (
        f"{day}, once it is above freezing, likely {about_hours(hours)} after sunrise"
    )


def _morning(day: date, today: date) -> str:
    words = day_words(day, today)
    return "today" if words == "today" else f"{words} morning"
