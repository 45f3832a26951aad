"""One person's evening in words: everything in order, or only what became worse."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from django.utils.translation import gettext, gettext_noop, ngettext

from care.models import Task
from care.planning.cold_ahead import Night
from care.planning.days_ahead import NearDays
from care.views.days import day_words
from care.views.evening_steps import Reader, cold_steps, heat_steps
from care.views.evening_told import News, Told
from care.views.people_words import FRUIT_BURNS, heat_words
from care.views.task_lines import BEFORE_DARK
from care.views.warning_words import quoted
from care.views.weather_line import age_words, rain_words, wind_words
from orchard.languages import listed
from orchard.models import OfficialWarning, Site
from orchard.units import UnitSystem, format_temperature

BASIS = {
    "typed": gettext_noop("as typed in here"),
    "evening": gettext_noop("by this evening's air and dew point"),
    "forecast": gettext_noop("by the forecast"),
}


@dataclass(frozen=True, slots=True)
class Part:
    """What one person is told of one site this evening.

    ``cold`` and ``heat`` are tasks in walking order; ``night`` is the coldest to come,
    ``is_hot`` whether tomorrow begins a hot spell.
    """

    site: Site
    moment: datetime
    near: NearDays
    night: Night | None = None
    cold: tuple[Task, ...] = ()
    heat: tuple[Task, ...] = ()
    is_hot: bool = False
    warnings: tuple[OfficialWarning, ...] = ()

    @property
    def urgent(self) -> tuple[Task, ...]:
        """The cold work that cannot wait for another day."""
        return tuple(task for task in self.cold if task.is_urgent)

    @property
    def told(self) -> Told:
        """What a message of it tells, to be compared with the next one."""
        site = str(self.site.pk)
        minima = {} if self.night is None else {site: self.night.minimum_c}
        work = (*self.urgent, *self.heat)
        return Told(
            minima,
            frozenset(work_name(task) for task in work),
            frozenset(f"{site}/{one.event.casefold()}" for one in self.warnings),
            frozenset({site} if self.is_hot else ()),
        )


def work_name(task: Task) -> str:
    """Return what tells one tree's work from another's through an evening."""
    return f"{task.tree_id}/{task.kind}/{task.action}"


def title(parts: Sequence[Part], units: UnitSystem) -> str:
    """Return the title of a whole evening: the worst first."""
    number = sum(len(part.urgent) for part in parts)
    if number:
        what = ngettext(
            "{number} thing to do before the cold",
            "{number} things to do before the cold",
            number,
        ).format(number=number)
    elif any(part.heat or part.is_hot for part in parts):
        what = _heat_title(parts, units)
    else:
        event = next(one.event for part in parts for one in part.warnings)
        what = gettext("official warning, {event}").format(event=event)
    return f"{_places(parts)}: {what}"


def _heat_title(parts: Sequence[Part], units: UnitSystem) -> str:
    highs = [hot.maximum_c for part in parts for _, hot in part.near.hot_days()]
    return (
        gettext("heat, up to {temperature}").format(
            temperature=format_temperature(max(highs), units)
        )
        if highs
        else gettext("heat")
    )


def _places(parts: Sequence[Part]) -> str:
    return listed([part.site.name for part in parts])


def lines(parts: Sequence[Part], units: UnitSystem) -> list[str]:
    """Return the lines of a whole evening, place by place."""
    told = []
    for part in quoting_once(parts):
        if len(parts) > 1:
            told.append(f"{part.site.name}:")
        told += _lines(part, units)
    return told


def quoting_once(parts: Sequence[Part]) -> list[Part]:
    """Return the parts with no warning quoted for two places of one orchard."""
    seen: set[str] = set()
    once = []
    for part in parts:
        fresh = [one for one in part.warnings if one.identifier not in seen]
        seen |= {one.identifier for one in fresh}
        once.append(replace(part, warnings=tuple(fresh)))
    return once


def _lines(part: Part, units: UnitSystem) -> list[str]:
    reader = Reader(part.near.today, units)
    told = [wind_words(part.near, units)]
    if part.cold:
        told += [night_words(part, units), age_words(part.near)]
        told += cold_steps(part.cold, reader)
    if part.heat or part.is_hot:
        hot = heat_words(part.near, units)
        told += [
            *hot[:1],
            *heat_steps(part.heat, reader),
            *hot[1:],
            gettext(FRUIT_BURNS),
        ]
    told += _quotes(part, part.warnings)
    told.append(_rain(part, units))
    return [line for line in told if line]


def night_words(part: Part, units: UnitSystem) -> str:
    """Return how cold the night becomes, and who says so."""
    night, today = part.night, part.near.today
    if night is None:
        return ""
    lowest = format_temperature(night.minimum_c, units)
    basis = gettext(BASIS.get(night.basis, BASIS["forecast"]))
    if night.day == today:
        words = gettext("{lowest} is likely tonight, {basis}")
    else:
        words = gettext("{lowest} is likely {day} morning, {basis}")
    words = words.format(lowest=lowest, day=day_words(night.day, today), basis=basis)
    if night.basis == "forecast" and night.pocket_c and night.told_c is not None:
        told = format_temperature(night.told_c, units)
        words += " " + gettext(
            "({told}) less what this place is colder on such nights"
        ).format(told=told)
    return f"{words}."


def _quotes(part: Part, warnings: Sequence[OfficialWarning]) -> list[str]:
    told = []
    for warning in warnings:
        one = quoted(warning, part.site, part.moment)
        told += [
            one.line,
            gettext("For the work here: {ours}").format(ours=one.ours)
            if one.ours
            else "",
        ]
    return told


def _rain(part: Part, units: UnitSystem) -> str:
    """Return coming rain where work waits for it; else it can be read on the page."""
    return rain_words(part.site, part.near, units, is_for_work=True)


def addition_title(parts: Sequence[Part], found: News) -> str:
    """Return what became worse, in the title of a short addition."""
    if found.colder:
        what = gettext("colder than was said")
    elif found.warnings:
        what = gettext("new official warning")
    elif found.work:
        what = gettext("more to do this evening")
    else:
        what = gettext("heat tomorrow")
    return f"{_places(parts)}: {what}"


def addition_lines(parts: Sequence[Part], found: News, units: UnitSystem) -> list[str]:
    """Return only what changed since the last message of the evening."""
    told = []
    for part in quoting_once(parts):
        told += _changed(part, found, units)
    return [line for line in told if line]


def is_changed(part: Part, found: News) -> bool:
    """Whether any of what became worse is of this place."""
    site, now = str(part.site.pk), part.told
    grew = now.work & found.work or now.warnings & found.warnings
    return bool(grew) or site in found.colder or site in found.heat


def _changed(part: Part, found: News, units: UnitSystem) -> list[str]:
    site, reader = str(part.site.pk), Reader(part.near.today, units)
    told: list[str] = []
    if site in found.colder:
        before, now = (format_temperature(c, units) for c in found.colder[site])
        told.append(
            gettext(
                "{name} becomes colder than was said: {now} instead of {before}. "
                "Look again at what you covered."
            ).format(name=part.site.name, now=now, before=before)
        )
    new = [task for task in (*part.cold, *part.heat) if work_name(task) in found.work]
    cold = [task for task in new if task.kind in BEFORE_DARK]
    if cold and not told:
        told.append(night_words(part, units))
    told += cold_steps(cold, reader)
    told += heat_steps([task for task in new if task.kind == "heat"], reader)
    raised = [
        one
        for one in part.warnings
        if f"{site}/{one.event.casefold()}" in found.warnings
    ]
    told += _quotes(part, raised)
    if site in found.heat:
        told += heat_words(part.near, units)
    return told
