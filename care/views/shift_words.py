"""A shift in words: when, how far it is, who, what may hurt, and its weather."""

from collections.abc import Iterable
from datetime import date, datetime

from django.utils.translation import gettext, gettext_noop, ngettext

from care.models import Shift, ShiftPlace
from care.planning.shift_times import ends_at
from care.planning.shift_weather import Advice, Call
from care.planning.shift_work import Hazard, ShiftWork
from care.views.cautions import CAUTIONS
from care.views.days import full_day, short_day
from orchard.languages import clock, listed
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
    Hazard.LADDER: gettext_noop("ladder"),
    Hazard.SAW: gettext_noop("saw"),
    Hazard.SPRAY: gettext_noop("spray"),
}
ADVICE_WORDS = {
    Advice.CANCEL: gettext_noop("Cancel it."),
    Advice.MOVE: gettext_noop("Move it to another time."),
    Advice.EARLIER: gettext_noop("Begin earlier, in the cool."),
    Advice.NO_LADDERS: gettext_noop("Leave out what needs a ladder."),
    Advice.MIND: "",
}


def length_words(minutes: int) -> str:
    """Return such as "2 h 30 min"."""
    hours, rest = divmod(minutes, HOUR_MINUTES)
    parts = [
        f"{hours} h" if hours else "",
        f"{rest} min" if rest else "",
    ]
    return " ".join(filter(None, parts)) or "0 min"


def hours_words(shift: Shift, site: Site) -> str:
    """Return such as 9:00 to 12:00, with the day where it ends on another one."""
    end = ends_at(shift, site)
    last = clock(end)
    if end.date() != shift.day:
        last = f"{full_day(end.date())}, {last}"
    return f"{clock(shift.starts_at)}{DASH}{last}"


def people_words(places: Iterable[ShiftPlace]) -> str:
    """Return such as "2 of 3 people, 1 learner"."""
    rows = list(places)
    needed = [place for place in rows if not place.is_learner]
    taken = sum(place.state in TAKEN for place in needed)
    learners = sum(place.is_learner and place.holder_id is not None for place in rows)
    words = ngettext(
        "{taken} of {number} person", "{taken} of {number} people", len(needed)
    ).format(taken=taken, number=len(needed))
    if not learners:
        return words
    more = ngettext("{number} learner", "{number} learners", learners)
    return f"{words}, {more.format(number=learners)}"


def open_words(places: Iterable[ShiftPlace]) -> str:
    """Return how many places are open or want cover; empty where none is."""
    rows = [place for place in places if not place.is_learner]
    free = sum(place.state == ShiftPlace.State.OPEN for place in rows)
    cover = sum(place.state == ShiftPlace.State.OFFERED for place in rows)
    parts = []
    if free:
        parts.append(
            ngettext("{number} place open", "{number} places open", free).format(
                number=free
            )
        )
    if cover:
        parts.append(gettext("cover asked for {number}").format(number=cover))
    return ", ".join(parts)


def state_words(shift: Shift, moment: datetime, site: Site) -> str:
    """Return how far a shift is; ``moment`` is that of the site."""
    if shift.status == Shift.Status.CANCELLED:
        why = cancelled_words(shift.cancelled_why)
        words = gettext("Cancelled: {why}") if why else gettext("Cancelled.")
        return words.format(why=why)
    if shift.begun_at is not None:
        begun = shift.begun_at.astimezone(moment.tzinfo)
        return gettext("Begun at {time}.").format(time=clock(begun))
    if ends_at(shift, site) <= moment:
        return gettext("Over.")
    if shift.status == Shift.Status.DRAFT:
        return gettext("Not published yet.")
    if shift.moved_from is not None:
        return gettext("Moved from {day}.").format(
            day=short_day(shift.moved_from, moment.date())
        )
    return ""


def cancelled_words(why: str) -> str:
    """Return why a shift was called off: the program's own reasons are translated."""
    return gettext(why)


def is_known(shift: Shift, today: date) -> bool:
    """Whether a shift is so near that no work for it now means none."""
    return (shift.day - today).days <= KNOWN_DAYS


def work_words(shift: Shift, work: ShiftWork, needed: int, today: date) -> str:
    """Return how much there is to do, and whether the time is enough for it."""
    number = len(work.tasks)
    if not number and not is_known(shift, today):
        return gettext("What there is to do shows nearer the day.")
    if not number:
        return gettext("No work is planned for it now.")
    tasks = ngettext("{number} task", "{number} tasks", number).format(number=number)
    words = gettext("{tasks}, about {length} of work").format(
        tasks=tasks, length=length_words(work.minutes)
    )
    there = shift.minutes * needed
    if work.minutes > there:
        return gettext("{words}: {length} more than its people have").format(
            words=words, length=length_words(work.minutes - there)
        )
    return words


def hazard_words(hazards: Iterable[Hazard]) -> str:
    """Return such as "ladder and saw"."""
    found = set(hazards)
    return listed([gettext(HAZARD_WORDS[one]) for one in Hazard if one in found])


def hazard_cautions(hazards: Iterable[Hazard]) -> tuple[str, ...]:
    """Return what to mind with a shift's hazards, the worst first."""
    codes = {
        Hazard.LADDER: "ladder",
        Hazard.SAW: "saw",
        Hazard.SPRAY: "spray_label_law",
    }
    found = set(hazards)
    return tuple(
        gettext(CAUTIONS[code]) for hazard, code in codes.items() if hazard in found
    )


def call_words(call: Call, units: UnitSystem) -> str:
    """Return what a shift's weather does and what it asks for, in words."""
    says = {
        Concern.THUNDER: gettext(
            "Lightning kills under trees, and no forecast sees every storm."
        ),
        Concern.HEAT: _heat_words(call, units),
        Concern.WIND: _wind_words(call, units),
    }
    official = (
        gettext("Official warning: {event}.").format(event=call.event)
        if call.event
        else ""
    )
    parts = [official, says[call.concern], gettext(ADVICE_WORDS[call.advice])]
    return " ".join(filter(None, parts))


def _heat_words(call: Call, units: UnitSystem) -> str:
    minding = gettext(
        "Water about every 20 minutes, shade, and short days for whoever is new (OSHA)."
    )
    if call.peak_c is None:
        return minding
    peak = format_temperature(call.peak_c, units)
    if call.is_temperature_only:
        told = gettext(
            "Up to {peak} in its hours. Nobody forecasts how damp the air is: "
            "damp air feels hotter than that."
        ).format(peak=peak)
    else:
        told = gettext(
            "It feels like up to {peak} in its hours, and hotter in full sun."
        ).format(peak=peak)
    return f"{told} {minding}"


def _wind_words(call: Call, units: UnitSystem) -> str:
    ladder = gettext("No ladder stands safely in such wind.")
    if call.gust_ms is None:
        return ladder
    speed = format_quantity(call.gust_ms, "m/s", units)
    told = (
        gettext("A mean wind of {speed} that day.").format(speed=speed)
        if call.is_mean_wind
        else gettext("Gusts of {speed} that day.").format(speed=speed)
    )
    limbs = (
        gettext("Limbs can fall: nobody under trees.")
        if call.advice is Advice.MOVE
        else ladder
    )
    return f"{told} {limbs}"


def cancel_words(call: Call) -> str:
    """Return why a shift is cancelled for its weather, as its people read it."""
    if call.event:
        return gettext("Official warning: {event}.").format(event=call.event)[:120]
    says = {
        Concern.THUNDER: gettext("Thunderstorms are likely."),
        Concern.HEAT: gettext("It gets too hot to work."),
        Concern.WIND: gettext("The wind gets too strong."),
    }
    return says[call.concern]
