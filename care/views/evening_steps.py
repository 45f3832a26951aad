"""An evening's work in the order in which it is done, in words.

Ripe fruit first, for cold ruins it for good; pots are carried before anything is
watered; then the ground is watered if it needs it; covers come last, before dark.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext

from care.models import Task
from care.views.cold_words import (
    about_hours,
    out_words,
    room_words,
    uncover_words,
    weight_words,
)
from care.views.wording import StoredReason, reason_of
from orchard.units import UnitSystem, format_temperature

#: More than these are found on the page behind the message.
MOST_NAMED = 12
POINT = "•"
MOIST = "water_soil_before_freeze"


@dataclass(frozen=True, slots=True)
class Reader:
    """The day and the units of whoever reads it."""

    today: date
    units: UnitSystem


def cold_steps(tasks: Sequence[Task], reader: Reader) -> list[str]:
    """Return what to do before a cold night, numbered, and what follows in the morning.

    Parameters
    ----------
    tasks : sequence of Task
        Of cold and freeze, in walking order, trees at hand.
    """
    steps = (
        _step(
            gettext("Pick the ripe fruit first, cold ruins it"),
            _of(tasks, "pick_ripe"),
            _ruin,
        ),
        _carry(_of(tasks, "move_in")),
        _step(
            gettext("Stand these pots together by a wall that faces the sun"),
            _of(tasks, "group"),
            _weight,
        ),
        _water(tasks),
        _step(
            gettext(
                "Cover these down to the soil, weighed down on every side, before dark"
            ),
            _of(tasks, "cover"),
            _covered,
        ),
        _step(
            gettext(
                "Too tall to cover, so moist soil is all that helps, and no ladder on ice"
            ),
            _of(tasks, "check"),
            _bears,
        ),
    )
    return [*_numbered(steps, reader), *_afterwards(tasks, reader)]


def heat_steps(tasks: Sequence[Task], reader: Reader) -> list[str]:
    """Return what to do before a hot day, numbered.

    Parameters
    ----------
    tasks : sequence of Task
        Of heat, in walking order, trees at hand.
    """
    steps = (
        _step(
            gettext("This evening: shade the pots themselves"),
            _of(tasks, "shade_pots"),
            _bare,
        ),
        _step(
            gettext(
                "Before sunrise: feel the soil, water if it is dry, and shade the west side"
            ),
            _of(tasks, "water_early"),
            _bare,
        ),
        _step(gettext("Guard bark from the sun"), _of(tasks, "guard_bark"), _bare),
    )
    return _numbered(steps, reader)


Tell = Callable[[Task, Reader], str]


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do, for which trees, and what to tell of each."""

    words: str
    tasks: tuple[Task, ...]
    tell: Tell


def _step(words: str, tasks: Iterable[Task], tell: Tell) -> Step:
    return Step(words, tuple(tasks), tell)


def _of(tasks: Iterable[Task], action: str) -> list[Task]:
    return [task for task in tasks if task.action == action]


def _numbered(steps: Iterable[Step], reader: Reader) -> list[str]:
    lines = []
    full = (step for step in steps if step.tasks)
    for number, step in enumerate(full, start=1):
        lines.append(f"{number}. {step.words}:")
        lines += _named(step, reader)
    return lines


def _named(step: Step, reader: Reader) -> list[str]:
    shown = step.tasks[:MOST_NAMED]
    told = [(task.tree.name, step.tell(task, reader)) for task in shown]
    lines = [
        f"{POINT} {name}: {words}." if words else f"{POINT} {name}."
        for name, words in told
    ]
    if more := len(step.tasks) - len(shown):
        lines.append(
            f"{POINT} "
            + gettext("and {more} more, named on the page.").format(more=more)
        )
    return lines


def _carry(tasks: Sequence[Task]) -> Step:
    is_heavy = any("two_people_lift" in task.cautions for task in tasks)
    words = gettext("Carry these pots in, before any watering")
    if is_heavy:
        heavy = gettext("wet ones are heavy: backs straight, nobody alone, no stairs")
        words = f"{words} ({heavy})"
    return _step(words, tasks, _pot)


def _water(tasks: Sequence[Task]) -> Step:
    """Return watering of the ground that is dry, and of what is covered on it."""
    readied = _of(tasks, "ready_soil")
    trees = {task.tree_id for task in readied}
    moist = [
        task
        for task in tasks
        if MOIST in task.cautions
        and task.action in ("cover", "check")
        and task.tree_id not in trees
    ]
    words = gettext(
        "Then water the ground if it is dry a finger deep, never clay that is wet already"
    )
    return _step(words, (*readied, *moist), _bare)


def _bare(task: Task, reader: Reader) -> str:
    del task, reader
    return ""


def _weight(task: Task, reader: Reader) -> str:
    return weight_words(reason_of(task), reader.units)


def _pot(task: Task, reader: Reader) -> str:
    reason = reason_of(task)
    parts = (weight_words(reason, reader.units), room_words(reason))
    where = ", ".join(filter(None, parts))
    bears = _bears(task, reader)
    if reason.number("threshold_c") is None:
        return f"{where}; {bears}"
    return gettext("{where}. It {bears}").format(where=where, bears=bears)


def _bears(task: Task, reader: Reader) -> str:
    reason = reason_of(task)
    threshold_c = reason.number("threshold_c")
    if threshold_c is None:
        return gettext("what it bears is not known")
    return gettext("bears {temperature}{long}").format(
        temperature=format_temperature(threshold_c, reader.units),
        long=_long(reason),
    )


def _covered(task: Task, reader: Reader) -> str:
    words = _bears(task, reader)
    if reason_of(task).holds("beyond_cover"):
        return gettext("{words}; the night may be too cold for any cover").format(
            words=words
        )
    return words


def _ruin(task: Task, reader: Reader) -> str:
    reason = reason_of(task)
    threshold_c = reason.number("threshold_c")
    if threshold_c is None:
        return ""
    told = format_temperature(threshold_c, reader.units)
    return gettext("its fruit freezes at {told}{long}").format(
        told=told, long=_long(reason)
    )


def _long(reason: StoredReason) -> str:
    hours = reason.number("hours_below")
    if hours is None:
        return gettext(", and how long it stays that cold is not known")
    if hours <= 0:
        return ""
    return gettext(", and it stays that cold for {hours}").format(
        hours=about_hours(hours)
    )


def _afterwards(tasks: Sequence[Task], reader: Reader) -> list[str]:
    """Return when covers are opened and when the pots go out again."""
    covers = [uncover_words(reason_of(t), reader.today) for t in _of(tasks, "cover")]
    pots = [out_words(reason_of(t), reader.today) for t in _of(tasks, "move_in")]
    lines = (
        [gettext("Open the covers {when}.").format(when=covers[0])] if covers else []
    )
    if len(set(pots)) == 1:
        lines.append(gettext("The pots are {when}.").format(when=pots[0]))
    elif pots:
        named = zip(_of(tasks, "move_in")[:MOST_NAMED], pots, strict=False)
        lines += [
            gettext("{name} is {words}.").format(name=task.tree.name, words=words)
            for task, words in named
        ]
    return lines
