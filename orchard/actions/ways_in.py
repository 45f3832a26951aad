"""How to get in, whom to call, what was signed: written down by a coordinator.

Nothing of the key note stands in the trail but that it changed.
"""

from collections.abc import Mapping
from datetime import date, datetime

from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.utils.translation import gettext, gettext_noop

from orchard.access import NOBODY_TO_ASK, May, may
from orchard.actions.audit import changed, note
from orchard.models import EmergencyContact, Membership, SignedPaper, Site, WayIn

WAY_IN_FIELDS = ("gate", "key_note", "tap", "tools_at", "first_aid", "harvest_rule")
CONTACT_FIELDS = ("name", "phone", "note")
MOST_CONTACTS = 6  # all of them stand on every sheet
ENOUGH_CONTACTS = gettext_noop(
    "{most} are enough: in need nobody reads more. Take one off first."
)
KEY_CHANGED = {"key_note": "changed"}


class WayInError(ValueError):
    """What was to be written down cannot be; its message says why."""


@transaction.atomic
def write_way_in(
    *, by: Membership, site: Site, values: Mapping[str, str], now: datetime
) -> bool:
    """Write how to get into a site, in place of what stood there; whether it is news.

    Raises
    ------
    PermissionDenied
        ``by`` may not arrange there.
    """
    _require_arranging(by, site.orchard_id)
    row, _ = WayIn.objects.get_or_create(site=site)
    after: dict[str, object] = {name: values.get(name, "") for name in WAY_IN_FIELDS}
    was, became = changed({name: getattr(row, name) for name in after}, after)
    if not became:
        return False
    for name in became:
        setattr(row, name, after[name])
    row.save(update_fields=list(became))
    if "key_note" in became:
        del was["key_note"]
        became |= KEY_CHANGED
    note(
        orchard=site.orchard,
        person=by.person,
        what="way_in_written",
        subject=site.name,
        before=was,
        after=became,
        now=now,
    )
    return True


@transaction.atomic
def add_contact(
    *, by: Membership, site: Site, values: Mapping[str, str], now: datetime
) -> EmergencyContact:
    """Write down whom to call in need.

    Raises
    ------
    PermissionDenied
        ``by`` may not arrange there.
    WayInError
        There are enough already.
    """
    _require_arranging(by, site.orchard_id)
    locked = Site.objects.select_for_update().get(pk=site.pk)
    if locked.emergency_contacts.count() >= MOST_CONTACTS:
        raise WayInError(gettext(ENOUGH_CONTACTS).format(most=MOST_CONTACTS))
    WayIn.objects.get_or_create(site=locked)  # so that the round leads here
    facts = {name: values.get(name, "") for name in CONTACT_FIELDS}
    contact = EmergencyContact.objects.create(site=locked, **facts)
    note(
        orchard=site.orchard,
        person=by.person,
        what="contact_added",
        subject=contact.name,
        after={name: facts[name] for name in ("phone", "note")},
        now=now,
    )
    return contact


@transaction.atomic
def change_contact(
    *,
    by: Membership,
    contact: EmergencyContact,
    values: Mapping[str, str],
    now: datetime,
) -> bool:
    """Change whom to call; whether anything changed.

    Raises
    ------
    PermissionDenied
        ``by`` may not arrange there.
    """
    _require_arranging(by, contact.site.orchard_id)
    after: dict[str, object] = {name: values.get(name, "") for name in CONTACT_FIELDS}
    subject = contact.name
    was, became = changed({name: getattr(contact, name) for name in after}, after)
    if not became:
        return False
    for name in became:
        setattr(contact, name, after[name])
    contact.save(update_fields=list(became))
    note(
        orchard=contact.site.orchard,
        person=by.person,
        what="contact_changed",
        subject=subject,
        before=was,
        after=became,
        now=now,
    )
    return True


@transaction.atomic
def remove_contact(*, by: Membership, contact: EmergencyContact, now: datetime) -> None:
    """Strike off whom to call.

    Raises
    ------
    PermissionDenied
        ``by`` may not arrange there.
    """
    _require_arranging(by, contact.site.orchard_id)
    contact.delete()
    note(
        orchard=contact.site.orchard,
        person=by.person,
        what="contact_removed",
        subject=contact.name,
        before={"phone": contact.phone},
        now=now,
    )


@transaction.atomic
def record_paper(
    *,
    by: Membership,
    member: Membership,
    what: str,
    signed_on: date,
    until: date | None = None,
    note_text: str = "",
    now: datetime,
) -> SignedPaper:
    """Record that a member signed a paper, which was written elsewhere.

    Raises
    ------
    PermissionDenied
        ``by`` may not arrange in the member's orchard.
    WayInError
        It would end before it was signed.
    """
    _require_arranging(by, member.orchard_id)
    if until is not None and until < signed_on:
        message = gettext("It would end before it was signed.")
        raise WayInError(message)
    paper = SignedPaper.objects.create(
        membership=member, what=what, signed_on=signed_on, until=until, note=note_text
    )
    note(
        orchard=member.orchard,
        person=by.person,
        what="paper_recorded",
        subject=_paper_words(paper),
        after={"signed_on": signed_on, "until": until},
        now=now,
    )
    return paper


@transaction.atomic
def remove_paper(*, by: Membership, paper: SignedPaper, now: datetime) -> None:
    """Strike off the record of a paper.

    Raises
    ------
    PermissionDenied
        ``by`` may not arrange in the member's orchard.
    """
    _require_arranging(by, paper.membership.orchard_id)
    subject = _paper_words(paper)
    paper.delete()
    note(
        orchard=paper.membership.orchard,
        person=by.person,
        what="paper_removed",
        subject=subject,
        before={"signed_on": paper.signed_on, "until": paper.until},
        now=now,
    )


def _paper_words(paper: SignedPaper) -> str:
    return f"{paper.what}: {paper.membership.person.shown_name}"


def _require_arranging(by: Membership, orchard_id: int) -> None:
    if by.orchard_id != orchard_id or not may(by.role, May.ARRANGE):
        raise PermissionDenied(NOBODY_TO_ASK)
