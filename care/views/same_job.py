"""Asking whether work is the same as an entry in the log, or a second job."""

from collections.abc import Callable, Iterable
from uuid import UUID

from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render
from django.utils.translation import gettext_noop, ngettext

from care.actions.same_job import Answer, Reply, SameJobError
from care.models import LogEntry, Task
from care.views.log_lines import LogLine, log_line
from care.views.log_people import with_people
from orchard.views.site_page import SitePage

ANSWER, SEEN = "same_job", "seen"
COUNTED_ONCE = gettext_noop(
    "Counted once: it was in the log already, and you are named there too."
)
SHOWN = 10  # a spray may name every tree of a block
NOT_KEPT = {ANSWER, SEEN, "csrfmiddlewaretoken"}


def reply_of(data: QueryDict) -> Reply | None:
    """Return what a person answered, or ``None`` where nobody was asked.

    What is no answer of ours counts as none, so that the question comes again.
    """
    try:
        answer = Answer(str(data.get(ANSWER, "")))
        return Reply(answer, frozenset(UUID(str(one)) for one in data.getlist(SEEN)))
    except ValueError:
        return None


def is_same(reply: Reply | None) -> bool:
    """Whether a person said that it was the same job."""
    return reply is not None and reply.answer is Answer.SAME


def left_words(tasks: Iterable[Task]) -> str:
    """Return how many of a row's tasks were left, each to be asked about; or nothing."""
    left = sum(task.status == Task.Status.OPEN for task in tasks)
    if not left:
        return ""
    words = ngettext(
        "{number} tree was left, fed lately: tick each by itself and say if it is the "
        "same.",
        "{number} trees were left, fed lately: tick each by itself and say if it is the "
        "same.",
        left,
    )
    return " " + words.format(number=left)


def ask_member(
    request: HttpRequest, page: SitePage, same: SameJobError, tab: str
) -> HttpResponse:
    """Ask a member, on a page of their site."""

    def line(entry: LogEntry) -> LogLine:
        return log_line(entry, page.today, page.units)

    return ask_same_job(request, page.context(tab), same, line)


def ask_same_job(
    request: HttpRequest,
    context: dict[str, object],
    same: SameJobError,
    line: Callable[[LogEntry], object],
) -> HttpResponse:
    """Ask, keeping what was typed; as a fragment the question is a line.

    ``line`` puts an entry into the words that whoever asks may read.
    """
    ids = [entry.pk for entry in same.entries]
    shown = with_people(LogEntry.objects.filter(pk__in=ids[:SHOWN]))
    question = {
        "lines": [line(entry) for entry in shown],
        "more": max(len(ids) - SHOWN, 0),
        "is_spray": same.entries[0].kind == "spray",
        "seen": [str(entry.public_id) for entry in same.entries],
        "kept": [
            (name, value)
            for name, values in request.POST.lists()
            if name not in NOT_KEPT
            for value in values
        ],
        "path": request.path,
    }
    is_fragment = bool(getattr(request, "htmx", False))
    template = f"care/same_job.html{'#question' if is_fragment else ''}"
    status = 200 if is_fragment else 409
    return render(request, template, {**context, "asked": question}, status=status)
