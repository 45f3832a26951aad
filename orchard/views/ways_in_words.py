"""How to get into a site and whom to call, for pages, sheets and helpers."""

import re
from dataclasses import dataclass

from django.utils.translation import gettext, gettext_lazy

from orchard.models import EmergencyContact, Site, WayIn

_NOT_DIALLED = re.compile(r"[^\d+]", re.ASCII)
_EXTENSION = re.compile(r"(ext|x|#)", re.IGNORECASE)
EMERGENCY_FIRST = gettext_lazy(
    "In an emergency call the emergency number of the country first, then:"
)


@dataclass(frozen=True, slots=True)
class Contact:
    """Whom to call; ``dialled`` is the number as a telephone takes it."""

    pk: int
    name: str
    phone: str
    dialled: str
    note: str


@dataclass(frozen=True, slots=True)
class WayInShown:
    """What is written of a site; ``lines`` are a name and words each, none empty.

    ``has_key_untold`` says that a key note is written and was not to be shown.
    """

    lines: tuple[tuple[str, str], ...]
    harvest_rule: str
    contacts: tuple[Contact, ...]
    has_key_untold: bool

    @property
    def is_written(self) -> bool:
        """Whether anything at all is written."""
        return bool(
            self.lines or self.harvest_rule or self.contacts or self.has_key_untold
        )


def way_in_of(site: Site, *, with_key: bool) -> WayInShown:
    """Return how to get into a site and whom to call, in two queries.

    ``with_key`` lets the key note in: only for those who may tick or help.
    """
    row = WayIn.objects.filter(site=site).first() or WayIn(site=site)
    named = (
        (gettext("Gate"), row.gate),
        (gettext("Key"), row.key_note if with_key else ""),
        (gettext("Tap"), row.tap),
        (gettext("Tools"), row.tools_at),
        (gettext("First aid"), row.first_aid),
    )
    return WayInShown(
        lines=tuple((name, words) for name, words in named if words),
        harvest_rule=row.harvest_rule,
        contacts=tuple(_contact(each) for each in site.emergency_contacts.all()),
        has_key_untold=bool(row.key_note) and not with_key,
    )


def _contact(row: EmergencyContact) -> Contact:
    number = _EXTENSION.split(row.phone)[0]
    return Contact(row.pk, row.name, row.phone, _NOT_DIALLED.sub("", number), row.note)
