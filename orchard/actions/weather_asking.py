"""Asking every service that is due, one after the other, outside any transaction."""

import logging
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from django.conf import settings
from django.utils.translation import gettext_noop

from orchard.actions.arriving_weather import (
    Kept,
    due_fetches,
    keep_answer,
    keep_failure,
    keep_unchanged,
    make_due,
    take_lease,
)
from orchard.actions.weather_services import drop_unread, follow_moved_sites
from orchard.models import SeriesFetch
from orchard.sources.arriving import SourceUnavailable, Unchanged
from orchard.sources.asking import Asking
from orchard.sources.network import Line
from orchard.sources.problems import SourceError
from orchard.sources.registry import WeatherService, place_of, service_of

log = logging.getLogger(__name__)

#: After so many in a row that gave no answer a service rests until the next round;
#: no source.
SILENT_IN_A_ROW = 3
NO_CONTACT = gettext_noop(
    "No weather service is asked, because none is told whom it serves. Whoever runs "
    "this server must set ORCHARD_CONTACT to an email or web address that is read, and "
    "start it again."
)
OUR_MISTAKE = gettext_noop(
    "This program stumbled over the service's answer. Whoever runs this server finds "
    "the details in its log."
)


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of asking for one series: ``new``, ``same``, ``failed`` or ``lost``."""

    series_id: int
    source: str
    cell: str
    what: str
    words: str = ""
    wait_until: datetime | None = None


def ask_due(
    *,
    now: Callable[[], datetime],
    is_everything: bool = False,
    line: Line | None = None,
) -> list[Outcome]:
    """Ask for everything that is due and keep what comes.

    Parameters
    ----------
    now : callable
        The clock; asking takes time.
    is_everything : bool
        Ask also what is not due yet, but no service that wants to be left alone.
    line : Line, optional
        How connections are made.

    Returns
    -------
    list of Outcome
        In the order of asking; nothing is asked without a contact in the settings.
    """
    follow_moved_sites()
    drop_unread(now=now())
    if not settings.ORCHARD_CONTACT:
        return []
    if is_everything:
        make_due(now=now())
    silent: Counter[str] = Counter()
    outcomes = []
    for fetch_id, key in due_fetches(now()):
        if silent[key] >= SILENT_IN_A_ROW:
            continue
        outcome = _ask_one(fetch_id, now, line)
        if outcome is not None:
            silent[key] = silent[key] + 1 if outcome.what == "failed" else 0
            outcomes.append(outcome)
    return outcomes


def _ask_one(
    fetch_id: int, now: Callable[[], datetime], line: Line | None
) -> Outcome | None:
    """Ask for one series; ``None`` where another worker does already."""
    fetch = take_lease(fetch_id, now())
    service = service_of(fetch.series.source) if fetch else None
    if fetch is None or service is None:
        return None
    asking = Asking(
        contact=settings.ORCHARD_CONTACT,
        hosts=frozenset({service.host()}),
        memory=fetch.remembered,
        now=now(),
        line=line,
    )
    try:
        kept = _ask_and_keep(fetch, service, asking, now)
        return _outcome(fetch, kept, "new" if kept.is_new else "same")
    except SourceUnavailable as error:
        words, wait, is_lasting = str(error), error.wait, error.is_lasting
    except SourceError as error:
        words, wait, is_lasting = str(error), None, False
    except Exception:  # one series' mishap must not keep the others waiting
        log.exception("asking %s for %s", service.key, fetch.series.cell)
        words, wait, is_lasting = OUR_MISTAKE, None, False
    kept = keep_failure(
        fetch=fetch,
        words=words,
        wait=wait,
        is_lasting=is_lasting,
        memory=asking.memory(is_kept=False),
        now=now(),
    )
    return _outcome(fetch, kept, "failed", words)


def _ask_and_keep(
    fetch: SeriesFetch,
    service: WeatherService,
    asking: Asking,
    now: Callable[[], datetime],
) -> Kept:
    place = place_of(fetch.series.cell, now())
    try:
        answer = service.fetch(place, asking)
    except Unchanged:
        return keep_unchanged(
            fetch=fetch,
            memory=asking.memory(),
            fresh_until=asking.fresh_until,
            interval=service.interval,
            now=now(),
        )
    return keep_answer(
        fetch=fetch,
        answer=answer,
        today=place.today,
        memory=asking.memory(),
        remarks=asking.remarks,
        fresh_until=asking.fresh_until,
        interval=service.interval,
        now=now(),
    )


def _outcome(fetch: SeriesFetch, kept: Kept, what: str, words: str = "") -> Outcome:
    waits = SeriesFetch.objects.filter(pk=fetch.pk).values_list("wait_until", flat=True)
    series = fetch.series
    return Outcome(
        series_id=series.pk,
        source=series.source,
        cell=series.cell,
        what=what if kept.is_kept else "lost",
        words=words,
        wait_until=waits.first(),
    )
