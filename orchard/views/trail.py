"""The trail: who changed what of the orchard, page by page and as a file."""

import csv
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC
from urllib.parse import urlencode
from zoneinfo import ZoneInfo

from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse, StreamingHttpResponse
from django.shortcuts import render
from django.utils.translation import gettext
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from orchard.access import May
from orchard.languages import day_of_year
from orchard.models import AuditEntry, Orchard
from orchard.views.site_page import SitePage, let_in
from orchard.views.trail_words import (
    WHAT_WORDS,
    change_lines,
    what_words,
    who_words,
)

ON_A_PAGE = 50
COLUMNS = ("at_utc", "person", "what", "subject", "before_json", "after_json")
#: A cell that begins so is a formula to a table program (OWASP ASVS 5.0, 1.2.10).
FORMULA = ("=", "+", "-", "@", "\t", "\r", "\0")


@dataclass(frozen=True, slots=True)
class TrailLine:
    """One change in words; ``when`` is the place's own time."""

    when: str
    who: str
    what: str
    subject: str
    changes: list[str]


@never_cache
@require_safe
@login_required
def people_trail(request: HttpRequest, site: str) -> HttpResponse:
    """Show who changed what, newest first."""
    page = let_in(request, site, May.GOVERN, page="more")
    people = _people(page.membership.orchard)
    chosen = _chosen(request.GET, people)
    shown = Paginator(_entries(page, chosen), ON_A_PAGE).get_page(
        request.GET.get("page")
    )
    kept = {key: value for key, value in chosen.items() if value}
    context = page.context(
        shown=shown,
        lines=[_line(entry, page) for entry in shown],
        people=list(people.items()),
        whats=[
            (what, gettext(words).rstrip(":")) for what, words in WHAT_WORDS.items()
        ],
        chosen=chosen,
        is_filtered=bool(kept),
        kept_filter=urlencode(kept),
    )
    return render(request, "orchard/trail.html", context)


def _people(orchard: Orchard) -> dict[str, str]:
    """Return who stands in the trail: a key for the address, and their name."""
    pairs = (
        AuditEntry.objects.filter(orchard=orchard)
        .order_by("person_name", "person_id")
        .values_list("person_id", "person_name")
        .distinct()
    )
    return {
        (f"id-{pk}" if pk else f"name-{name}"): name or gettext("The server")
        for pk, name in pairs
    }


def _chosen(query: Mapping[str, str], people: Mapping[str, str]) -> dict[str, str]:
    """Return the filters, each only where it is one of those offered."""
    who, what = query.get("who", ""), query.get("what", "")
    return {
        "who": who if who in people else "",
        "what": what if what in WHAT_WORDS else "",
    }


def _entries(page: SitePage, chosen: Mapping[str, str]) -> QuerySet[AuditEntry]:
    entries = AuditEntry.objects.filter(orchard=page.membership.orchard)
    if chosen["what"]:
        entries = entries.filter(what=chosen["what"])
    kind, _, value = chosen["who"].partition("-")
    if kind == "id":
        entries = entries.filter(person_id=value)
    elif kind == "name":
        entries = entries.filter(person=None, person_name=value)
    return entries


def _line(entry: AuditEntry, page: SitePage) -> TrailLine:
    local = entry.at.astimezone(ZoneInfo(page.site.time_zone))
    return TrailLine(
        when=f"{day_of_year(local)}, {local:%H:%M}",
        who=who_words(entry),
        what=what_words(entry.what),
        subject=entry.subject,
        changes=change_lines(entry),
    )


@never_cache
@require_safe
@login_required
def people_trail_csv(request: HttpRequest, site: str) -> StreamingHttpResponse:
    """Send the same as a table, row by row, however long the trail is."""
    page = let_in(request, site, May.GOVERN)
    chosen = _chosen(request.GET, _people(page.membership.orchard))
    response = StreamingHttpResponse(
        _csv_lines(_entries(page, chosen)), content_type="text/csv; charset=utf-8"
    )
    response["Content-Disposition"] = 'attachment; filename="trail.csv"'
    return response


class _Echo:
    """A file that hands each written line on."""

    def write(self, line: str) -> str:
        return line


def _csv_lines(entries: QuerySet[AuditEntry]) -> Iterator[str]:
    writer = csv.writer(_Echo())
    yield writer.writerow(COLUMNS)
    for entry in entries.iterator(chunk_size=500):
        yield writer.writerow([unformula(cell) for cell in _cells(entry)])


def _cells(entry: AuditEntry) -> list[str]:
    return [
        entry.at.astimezone(UTC).isoformat(timespec="seconds"),
        entry.person_name,
        entry.what,
        entry.subject,
        json.dumps(entry.before, ensure_ascii=False, sort_keys=True),
        json.dumps(entry.after, ensure_ascii=False, sort_keys=True),
    ]


def unformula(cell: str) -> str:
    """Return a cell that no table program takes for a formula."""
    return f"'{cell}" if cell.startswith(FORMULA) else cell
