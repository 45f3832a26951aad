"""The word that nobody watered: no water, but no silence either."""

from collections.abc import Iterable
from datetime import date, datetime

from django.db import transaction

from care.models import LogEntry
from care.planning.tree_days import CHECK_KEY
from orchard.actions.places import raise_revision
from orchard.models import Person, Site, Tree

NO_WATER = "no_water"
NONE_SINCE = "none_since"  # since the water that was said in the same breath


@transaction.atomic
def log_no_water(
    *,
    site: Site,
    trees: Iterable[Tree],
    person: Person | None,
    on: date,
    now: datetime,
    word: str = NO_WATER,
) -> list[LogEntry]:
    """Write that none of ``trees`` was watered since the last word on it.

    A look and not a watering: one logged today would put the next off until tomorrow.
    """
    entries = LogEntry.objects.bulk_create(
        LogEntry(
            site=site,
            tree=tree,
            person=person,
            what=LogEntry.What.DONE,
            kind="watering",
            key=CHECK_KEY,
            action="check",
            word=word,
            on=on,
            recorded_at=now,
        )
        for tree in trees
    )
    raise_revision(site)
    return entries
