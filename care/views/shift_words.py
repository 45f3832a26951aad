"""A shift in words: when, how far it is, who, what may hurt, and its weather."""

from collections.abc import Iterable
from datetime import date, datetime

from care.models import Shift, ShiftPlace
from care.planning.shift_times import ends_at
from care.planning.shift_weather import Advice, Call
from care.planning.shift_work import Hazard, ShiftWork
from care.views.cautions import CAUTIONS
from care.views.days import full_day, short_day
from orchard.models import Site
from orchard.sources.official_warnings import Concern
from orchard.units import UnitSystem, format_quantity, format_temperature

#: The plan of further days may still change much; common practice, no source.
KNOWN_DAYS = 7
DASH = "\N{EN DASH}"
HOUR_MINUTES = 60
TAKEN = (
    ShiftPlace.State.HELD,
    ShiftPlace.State.OFFERED,
    ShiftPlace.State.DONE,
    ShiftPlace.State.MISSED,
)
HELD = (ShiftPlace.State.HELD, ShiftPlace.State.OFFERED)
HAZARD_WORDS = {
    Hazard.LADDER: "ladder",
    Hazard.SAW: "saw",
    Hazard.SPRAY: "spray",
}
ADVICE_WORDS = {
    Advice.CANCEL: "Cancel it.",
    Advice.MOVE: "Move it to another time.",
    Advice.EARLIER: "Begin earlier, in the cool.",
    Advice.NO_LADDERS: "Leave out what needs a ladder.",
    Advice.MIND: "",
}


def length_words(minutes: int) -> str:
    """Return such as "2 h 30 min"."""
    hours, rest = divmod(minutes, HOUR_MINUTES)
    parts = [f"{hours} h" if hours else "", f"{rest} min" if rest else ""]
    return " ".join(filter(None, parts)) or "0 min"


def hours_words(shift: Shift, site: Site) -> str:
    """Return such as 9:00 to 12:00, with the day where it ends on another one."""
    end = ends_at(shift, site)
    last = f"{end.hour}:{end:%M}"
    if end.date() != shift.day:
        last = f"{full_day(end.date())}, {last}"
    return f"{shift.starts_at.hour}:{shift.starts_at:%M}{DASH}{last}"


def people_words(places: Iterable[ShiftPlace]) -> str:
    """Return such as "2 of 3 people, 1 learner"."""
    rows = list(places)
    needed = [place for place in rows if not place.is_learner]
    taken = sum(place.state in TAKEN for place in needed)
    learners = sum(place.is_learner and place.holder_id is not None for place in rows)
    people = "person" if len(needed) == 1 else "people"
    words = f"{taken} of {len(needed)} {people}"
    if learners:
        words += f", {learners} learner{'' if learners == 1 else 's'}"
    return words


def open_words(places: Iterable[ShiftPlace]) -> str:
    """Return how many places are open or want cover; empty where none is."""
    rows = [place for place in places if not place.is_learner]
    free = sum(place.state == ShiftPlace.State.OPEN for place in rows)
    cover = sum(place.state == ShiftPlace.State.OFFERED for place in rows)
    parts = []
    if free:
        parts.append(f"{free} place{'' if free == 1 else 's'} open")
    if cover:
        parts.append(f"cover asked for {cover}")
    return ", ".join(parts)


def state_words(shift: Shift, moment: datetime, site: Site) -> str:
    """Return how far a shift is; ``moment`` is that of the site."""
    if shift.status == Shift.Status.CANCELLED:
        why = f": {shift.cancelled_why}" if shift.cancelled_why else "."
        return f"Cancelled{why}"
    if shift.begun_at is not None:
        begun = shift.begun_at.astimezone(moment.tzinfo)
        return f"Begun at {begun.hour}:{begun:%M}."
    if ends_at(shift, site) <= moment:
        return "Over."
    if shift.status == Shift.Status.DRAFT:
        return "Not published yet."
    if shift.moved_from is not None:
        return f"Moved from {short_day(shift.moved_from, moment.date())}."
    return ""


def is_known(shift: Shift, today: date) -> bool:
    """Whether a shift is so near that no work for it now means none."""
    return (shift.day - today).days <= KNOWN_DAYS


def work_words(shift: Shift, work: ShiftWork, needed: int, today: date) -> str:
    """Return how much there is to do, and whether the time is enough for it."""
    number = len(work.tasks)
    if not number and not is_known(shift, today):
        return "What there is to do shows nearer the day."
    if not number:
        return "No work is planned for it now."
    tasks = "1 task" if number == 1 else f"{number} tasks"
    words = f"{tasks}, about {length_words(work.minutes)} of work"
    there = shift.minutes * needed
    if work.minutes > there:
        return (
            f"{words}: {length_words(work.minutes - there)} more than its people have"
        )
    return words


def hazard_words(hazards: Iterable[Hazard]) -> str:
    """Return such as "ladder and saw"."""
    named = [HAZARD_WORDS[hazard] for hazard in Hazard if hazard in set(hazards)]
    if len(named) < 2:  # noqa: PLR2004 (one name needs no "and")
        return "".join(named)
    return f"{', '.join(named[:-1])} and {named[-1]}"


def hazard_cautions(hazards: Iterable[Hazard]) -> tuple[str, ...]:
    """Return what to mind with a shift's hazards, the worst first."""
    codes = {
        Hazard.LADDER: "ladder",
        Hazard.SAW: "saw",
        Hazard.SPRAY: "spray_label_law",
    }
    found = set(hazards)
    return tuple(CAUTIONS[code] for hazard, code in codes.items() if hazard in found)


def call_words(call: Call, units: UnitSystem) -> str:
    """Return what a shift's weather does and what it asks for, in words."""
    says = {
        Concern.THUNDER: "Lightning kills under trees, and no forecast sees every storm.",
        Concern.HEAT: _heat_words(call, units),
        Concern.WIND: _wind_words(call, units),
    }
    official = f"Official warning: {call.event}." if call.event else ""
    parts = [official, says[call.concern], ADVICE_WORDS[call.advice]]
    return " ".join(filter(None, parts))


def _heat_words(call: Call, units: UnitSystem) -> str:
    minding = (
        "Water about every 20 minutes, shade, and short days for whoever is new (OSHA)."
    )
    if call.peak_c is None:
        return minding
    peak = format_temperature(call.peak_c, units)
    if call.is_temperature_only:
        told = (
            f"Up to {peak} in its hours. Nobody forecasts how damp the air is: damp air "
            "feels hotter than that."
        )
    else:
        told = f"It feels like up to {peak} in its hours, and hotter in full sun."
    return f"{told} {minding}"


def _wind_words(call: Call, units: UnitSystem) -> str:
    ladder = "No ladder stands safely in such wind."
    if call.gust_ms is None:
        return ladder
    speed = format_quantity(call.gust_ms, "m/s", units)
    told = f"A mean wind of {speed}" if call.is_mean_wind else f"Gusts of {speed}"
    limbs = (
        "Limbs can fall: nobody under trees." if call.advice is Advice.MOVE else ladder
    )
    return f"{told} that day. {limbs}"


def cancel_words(call: Call) -> str:
    """Return why a shift is cancelled for its weather, as its people read it."""
    if call.event:
        return f"Official warning: {call.event}."[:120]
    says = {
        Concern.THUNDER: "Thunderstorms are likely.",
        Concern.HEAT: "It gets too hot to work.",
        Concern.WIND: "The wind gets too strong.",
    }
    return says[call.concern]
