"""Who did it, in words: one, both of two, a helper; and who took it back."""

from datetime import date
from zoneinfo import ZoneInfo

from django.db.models import QuerySet
from django.utils.text import capfirst
from django.utils.translation import gettext, gettext_noop

from care.actions.tasks import Outcome, Undone
from care.models import Helper, LogEntry, Task
from care.views.days import on_day
from orchard.languages import clock, listed
from orchard.models import Person, Site

SOMEBODY = gettext_noop("somebody")
UNDONE = {
    Undone.SHARED: gettext_noop(
        "Others are named there too, so it stays. Ask a member."
    ),
    Undone.ENTRY: gettext_noop("Taken back."),
    Undone.NAME: gettext_noop("Your name is off it; the work stays written down."),
    Undone.NOTHING: gettext_noop("Already taken back, so nothing was changed."),
}


def with_people(entries: QuerySet[LogEntry]) -> QuerySet[LogEntry]:
    """Return entries with everything a line names, in a fixed number of queries."""
    return entries.select_related(
        "site",
        "tree",
        "person",
        "helper",
        "voided_by",
        "voided_by_helper",
        "replaced_by__person",
        "replaced_by__helper",
    ).prefetch_related("also_by", "also_by_helpers")


def name_of(person: Person | None, helper: Helper | None) -> str:
    """Return a member's name, or a helper's, who is told apart from members."""
    if person is not None:
        return person.shown_name
    return (
        gettext("{name} (helper)").format(name=helper.name)
        if helper is not None
        else gettext(SOMEBODY)
    )


def doer(entry: LogEntry) -> str:
    """Return who wrote an entry."""
    return name_of(entry.person, entry.helper)


def doers(entry: LogEntry) -> str:
    """Return everybody who did what an entry tells, whoever wrote it first."""
    names = [
        doer(entry),
        *(person.shown_name for person in entry.also_by.all()),
        *(name_of(None, helper) for helper in entry.also_by_helpers.all()),
    ]
    return _joined(names)


def doers_to_helpers(entry: LogEntry) -> str:
    """Return who did it by first names alone: what somebody without account may see."""
    names = [
        _first_name(entry.person, entry.helper),
        *(_first_name(person, None) for person in entry.also_by.all()),
        *(helper.name for helper in entry.also_by_helpers.all()),
    ]
    return _joined(names)


def _first_name(person: Person | None, helper: Helper | None) -> str:
    if helper is not None:
        return helper.name
    # A user name may be a mail address or a whole name.
    words = person.first_name.split() if person is not None else []
    return words[0] if words else gettext("a member")


def _joined(names: list[str]) -> str:
    return listed(names)


def taken_back_words(entry: LogEntry) -> str:
    """Return who voided an entry, or nothing where it stands."""
    if entry.voided_at is None:
        return ""
    if entry.replaced_by is not None:
        return gettext("{name} did it after all").format(name=doer(entry.replaced_by))
    return gettext("taken back by {name}").format(
        name=name_of(entry.voided_by, entry.voided_by_helper)
    )


def when_done(entry: LogEntry, site: Site, today: date) -> str:
    """Return ``at 9:10`` in the site's time zone, or the day where it was another."""
    if entry.on != today:
        return on_day(entry.on, today)
    local = entry.written_at.astimezone(ZoneInfo(site.time_zone))
    return gettext("at {time}").format(time=clock(local))


def already_words(
    outcome: Outcome,
    task: Task,
    site: Site,
    today: date,
    asker: Person | Helper | None,
) -> str:
    """Return why a tick or a skip wrote nothing new; nothing where it did."""
    entry = outcome.entry
    if outcome.is_new:
        return ""
    is_own = asker is not None and asker in (entry.person, entry.helper)
    words = _already(outcome, task, is_own=is_own)
    return words.format(who=_opening(entry, asker), when=when_done(entry, site, today))


def _already(outcome: Outcome, task: Task, *, is_own: bool) -> str:
    entry = outcome.entry
    if entry.what == LogEntry.What.SKIPPED:
        return (
            gettext("You already left this out {when}.")
            if is_own
            else gettext("{who} already left this out {when}.")
        )
    if entry.task_id != task.pk:
        if outcome.is_joined:
            return gettext(
                "Counted once: {who} did it {when}; you are named too. This task stays "
                "open."
            )
        return (
            gettext("Counted once: You did it {when}. This task stays open.")
            if is_own
            else gettext("Counted once: {who} did it {when}. This task stays open.")
        )
    if outcome.is_joined:
        return gettext("{who} already did this {when}; you are named too.")
    return (
        gettext("You already did this {when}.")
        if is_own
        else gettext("{who} already did this {when}.")
    )


def _opening(entry: LogEntry, asker: Person | Helper | None) -> str:
    if isinstance(asker, Helper):
        name = _first_name(entry.person, entry.helper)
        return f"{name[0].upper()}{name[1:]}"
    is_nobody = entry.person is None and entry.helper is None
    return capfirst(doer(entry)) if is_nobody else doer(entry)
