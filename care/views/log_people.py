"""Who did it, in words: one, both of two, a helper; and who took it back."""

from datetime import date
from zoneinfo import ZoneInfo

from django.db.models import QuerySet

from care.actions.tasks import Outcome, Undone
from care.models import Helper, LogEntry, Task
from care.views.days import on_day
from orchard.models import Person, Site

SOMEBODY = "somebody"
UNDONE = {
    Undone.SHARED: "Others are named there too, so it stays. Ask a member.",
    Undone.ENTRY: "Taken back.",
    Undone.NAME: "Your name is off it; the work stays written down.",
    Undone.NOTHING: "Already taken back, so nothing was changed.",
}


def with_people(entries: QuerySet[LogEntry]) -> QuerySet[LogEntry]:
    """Return entries with everything a line names, in a fixed number of queries."""
    return entries.select_related(
        "tree",
        "person",
        "helper",
        "voided_by",
        "voided_by_helper",
        "replaced_by__person",
        "replaced_by__helper",
    ).prefetch_related("also_by", "also_by_helpers", "photos")


def name_of(person: Person | None, helper: Helper | None) -> str:
    """Return a member's name, or a helper's, who is told apart from members."""
    if person is not None:
        return person.shown_name
    return f"{helper.name} (helper)" if helper is not None else SOMEBODY


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
    return words[0] if words else "a member"


def _joined(names: list[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def taken_back_words(entry: LogEntry) -> str:
    """Return who voided an entry, or nothing where it stands."""
    if entry.voided_at is None:
        return ""
    if entry.replaced_by is not None:
        return f"{doer(entry.replaced_by)} did it after all"
    return f"taken back by {name_of(entry.voided_by, entry.voided_by_helper)}"


def when_done(entry: LogEntry, site: Site, today: date) -> str:
    """Return ``at 9:10`` in the site's time zone, or the day where it was another."""
    if entry.on != today:
        return on_day(entry.on, today)
    local = entry.recorded_at.astimezone(ZoneInfo(site.time_zone))
    return f"at {local.hour}:{local:%M}"


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
    when = when_done(entry, site, today)
    who = _opening(entry, asker)
    if entry.what == LogEntry.What.SKIPPED:
        return f"{who} already left this out {when}."
    named = "; you are named too" if outcome.is_joined else ""
    if entry.task_id != task.pk:
        return f"Counted once: {who} did it {when}{named}. This task stays open."
    return f"{who} already did this {when}{named}."


def _opening(entry: LogEntry, asker: Person | Helper | None) -> str:
    if asker is not None and asker in (entry.person, entry.helper):
        return "You"
    if isinstance(asker, Helper):
        name = _first_name(entry.person, entry.helper)
        return f"{name[0].upper()}{name[1:]}"
    name = doer(entry)
    return "Somebody" if name == SOMEBODY else name
