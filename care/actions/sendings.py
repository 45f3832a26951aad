"""What a phone kept without a network and sends later: done once, however often sent."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from uuid import UUID

from django.db import transaction

from care.actions.phone_clock import PhoneTime
from care.models import LogEntry, Round, Sending
from orchard.models import Person, Site

#: A phone that sends the same again after so long is not expected; no source.
KEPT_DAYS = 120
AGAIN = "again"


class State(StrEnum):
    """What came of something sent."""

    KEPT = "kept"
    JOINED = "joined"
    LATE = "late"


@dataclass(frozen=True, slots=True)
class Came:
    """What came of something sent, in words, and the entry that stands for it."""

    state: State
    words: str
    entry: LogEntry | None = None


@dataclass(frozen=True, slots=True)
class Arrived:
    """Something that a phone sent, before it is done.

    ``body_sha256`` is of all that was sent but the id and the clock's time now.
    """

    id: UUID
    person: Person
    site: Site
    what: str
    body_sha256: str
    when: PhoneTime
    now: datetime


class OtherBodyError(Exception):
    """Something else came under this id before: neither is done again."""


@transaction.atomic
def do_once(arrived: Arrived, act: Callable[[], Came]) -> dict[str, object]:
    """Do what was sent and keep the answer; sent again, give the first answer again.

    The row comes first: of two at once the second waits for it and finds the answer.
    Whatever ``act`` raises leaves no row, so that the same id can be sent again.

    Raises
    ------
    OtherBodyError
        The id stands for something else, or is somebody else's.
    """
    row, is_first = Sending.objects.get_or_create(
        pk=arrived.id,
        defaults={
            "person": arrived.person,
            "site": arrived.site,
            "what": arrived.what,
            "body_sha256": arrived.body_sha256,
            "happened_at": arrived.when.happened_at,
            "received_at": arrived.now,
        },
    )
    if not is_first:
        return _again(row, arrived)
    came = act()
    _mark_times(arrived)
    row.entry = came.entry
    answer: dict[str, object] = {
        "state": came.state.value,
        "words": came.words,
        "entry": str(came.entry.public_id) if came.entry else None,
    }
    row.answer = answer
    row.save(update_fields=["entry", "answer"])
    return answer


def _again(row: Sending, arrived: Arrived) -> dict[str, object]:
    stored = (row.person_id, row.site_id, row.body_sha256)
    if stored != (arrived.person.pk, arrived.site.pk, arrived.body_sha256):
        message = "Something else was sent under this id."
        raise OtherBodyError(message)
    return {**row.answer, "state": AGAIN}


def _mark_times(arrived: Arrived) -> None:
    """Write into what was logged or begun just now when it happened by the phone."""
    Round.objects.filter(site=arrived.site, begun_at=arrived.now).update(
        begun_at=arrived.when.happened_at
    )
    LogEntry.objects.filter(
        site=arrived.site, person=arrived.person, recorded_at=arrived.now
    ).update(
        happened_at=arrived.when.happened_at,
        clock_off_s=arrived.when.off_s,
    )


def entry_sent_as(sending_id: UUID, site: Site) -> UUID | None:
    """Return the entry that an earlier sending wrote, for who knows only its own id."""
    sent = Sending.objects.filter(pk=sending_id, site=site, entry__isnull=False)
    return sent.values_list("entry__public_id", flat=True).first()


def forget_old_sendings(now: datetime) -> int:
    """Let go of rows that no phone asks about any more; return how many."""
    long_ago = now - timedelta(days=KEPT_DAYS)
    number, _ = Sending.objects.filter(received_at__lt=long_ago).delete()
    return number
