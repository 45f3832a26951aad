"""The question whether work that a phone sent stands in the log already, as data."""

from django.utils.translation import gettext

from care.actions.same_job import Answer, SameJobError
from care.models import LogEntry
from care.views.log_lines import LogLine, log_line
from care.views.log_people import with_people
from care.views.same_job import ANSWER, SEEN, SHOWN
from care.views.sending_body import NotKeptError
from orchard.views.site_page import SitePage


def asks(page: SitePage, same: SameJobError) -> NotKeptError:
    """Return what to raise: nothing is written until the phone's owner has answered.

    The phone sends the same again with the answer and ``seen`` among its fields.
    """
    ids = [entry.pk for entry in same.entries]
    shown = with_people(LogEntry.objects.filter(pk__in=ids[:SHOWN]))
    lines = [_words(log_line(entry, page.today, page.units)) for entry in shown]
    words = gettext("This stands in the log already. The same job, or a second one?")
    return NotKeptError(
        409,
        "asks",
        words,
        same_job={
            "lines": lines,
            "more": max(len(ids) - SHOWN, 0),
            "seen_field": SEEN,
            "seen": [str(entry.public_id) for entry in same.entries],
            "answer_field": ANSWER,
            "answers": [
                {"value": Answer.SAME.value, "words": gettext("The same job")},
                {"value": Answer.SECOND.value, "words": gettext("A second one")},
            ],
        },
    )


def _words(line: LogLine) -> str:
    parts = [line.title, line.amount, line.detail, line.note]
    return " · ".join(part for part in parts if part)
