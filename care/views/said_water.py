"""What was just said of the water of many trees, to be taken back in one tap."""

from dataclasses import dataclass
from uuid import UUID

from django.utils.translation import gettext

from care.actions.no_water import NO_WATER
from care.models import LogEntry
from care.views.days import day_words
from care.views.log_lines import log_lines
from care.views.log_people import with_people
from care.views.wording import count_trees
from orchard.views.site_page import SitePage


@dataclass(frozen=True, slots=True)
class SaidWater:
    """The go that was just written, by one of its entries."""

    public_id: UUID
    words: str


def said_water(page: SitePage, named: str) -> SaidWater | None:
    """Return the go that the address names, if it stands."""
    try:
        public_id = UUID(named)
    except ValueError:
        return None
    entries = list(
        with_people(
            LogEntry.objects.filter(
                site=page.site, public_id=public_id, kind="watering", voided_at=None
            )
        )
    )
    for entry, line in zip(
        entries, log_lines(entries, page.today, page.units), strict=True
    ):
        day = day_words(line.on, page.today)
        amount = (
            gettext(", {amount} each").format(amount=line.amount) if line.amount else ""
        )
        trees = line.tree_name if line.trees == 1 else count_trees(line.trees)
        if entry.word == NO_WATER:
            words = gettext(
                "Written down: no water for {trees}. The plan reckons with that."
            ).format(trees=trees)
            return SaidWater(line.public_id, words)
        return SaidWater(
            line.public_id,
            gettext("Written down: {trees}, {day}{amount}.").format(
                trees=trees, day=day, amount=amount
            ),
        )
    return None
