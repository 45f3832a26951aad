"""How to get in, whom to call, what was signed: who writes it, what the trail keeps."""

from datetime import UTC, date, datetime

import pytest
from django.core.exceptions import PermissionDenied

from orchard.actions.ways_in import (
    MOST_CONTACTS,
    WayInError,
    add_contact,
    change_contact,
    record_paper,
    remove_contact,
    remove_paper,
    write_way_in,
)
from orchard.models import AuditEntry, EmergencyContact, Membership, Site, WayIn

NOW = datetime(2025, 7, 2, 12, 0, tzinfo=UTC)
CALL = {"name": "On call", "phone": "555-0142"}


@pytest.fixture
def member(cast):
    def of(role):
        return Membership.objects.get(person=getattr(cast, role))

    return of


@pytest.fixture
def by(member):
    return member("coordinator")


def trail(what):
    return AuditEntry.objects.filter(what=what).order_by("pk")


def test_of_the_key_the_trail_says_only_that_it_changed(by, site):
    values = {"gate": "Green", "key_note": "Code 4711"}
    assert write_way_in(by=by, site=site, values=values, now=NOW)
    assert not write_way_in(by=by, site=site, values=values, now=NOW)
    assert write_way_in(by=by, site=site, values={"key_note": "Code 0815"}, now=NOW)
    assert WayIn.objects.get().key_note == "Code 0815"
    first, second = trail("way_in_written")
    assert first.after == {"gate": "Green", "key_note": "changed"}
    assert (second.before, second.after) == (
        {"gate": "Green"},
        {"gate": "", "key_note": "changed"},
    )
    told = str(list(AuditEntry.objects.values()))
    assert "4711" not in told
    assert "0815" not in told


def test_contacts_are_added_changed_and_struck_off(by, site):
    contact = add_contact(by=by, site=site, values=CALL, now=NOW)
    assert not change_contact(by=by, contact=contact, values=CALL, now=NOW)
    changed = {**CALL, "name": "Rota", "note": "Saturdays"}
    assert change_contact(by=by, contact=contact, values=changed, now=NOW)
    assert EmergencyContact.objects.get().name == "Rota"
    entry = trail("contact_changed").get()
    assert entry.subject == "On call"
    assert entry.after == {"name": "Rota", "note": "Saturdays"}
    remove_contact(by=by, contact=contact, now=NOW)
    assert not EmergencyContact.objects.exists()
    assert trail("contact_removed").get().before == {"phone": "555-0142"}


def test_there_are_no_more_contacts_than_a_sheet_holds(by, site):
    for _ in range(MOST_CONTACTS):
        add_contact(by=by, site=site, values=CALL, now=NOW)
    with pytest.raises(WayInError, match="6 are enough"):
        add_contact(by=by, site=site, values=CALL, now=NOW)
    assert EmergencyContact.objects.count() == MOST_CONTACTS


def test_a_paper_is_recorded_and_struck_off(by, member):
    paper = record_paper(
        by=by,
        member=member("viewer"),
        what="Waiver",
        signed_on=date(2025, 3, 1),
        until=date(2026, 3, 1),
        note_text="Green folder",
        now=NOW,
    )
    entry = trail("paper_recorded").get()
    assert entry.subject == "Waiver: viewer"
    assert entry.after == {"signed_on": "2025-03-01", "until": "2026-03-01"}
    remove_paper(by=by, paper=paper, now=NOW)
    assert trail("paper_removed").get().subject == "Waiver: viewer"
    with pytest.raises(WayInError, match="before it was signed"):
        record_paper(
            by=by,
            member=member("viewer"),
            what="Waiver",
            signed_on=date(2025, 3, 2),
            until=date(2025, 3, 1),
            now=NOW,
        )


def test_only_coordinators_and_owners_write_and_in_their_own_orchard(by, member, site):
    contact = add_contact(by=by, site=site, values=CALL, now=NOW)
    day = date(2025, 3, 1)
    grower = member("grower")
    paper = record_paper(by=by, member=grower, what="Waiver", signed_on=day, now=NOW)
    theirs = Site.objects.get(slug="elsewhere")
    before = AuditEntry.objects.count()
    for who in (grower, member("viewer"), member("stranger")):
        for write in (
            lambda who: write_way_in(by=who, site=site, values=CALL, now=NOW),
            lambda who: add_contact(by=who, site=site, values=CALL, now=NOW),
            lambda who: change_contact(by=who, contact=contact, values={}, now=NOW),
            lambda who: remove_contact(by=who, contact=contact, now=NOW),
            lambda who: record_paper(
                by=who, member=grower, what="x", signed_on=day, now=NOW
            ),
            lambda who: remove_paper(by=who, paper=paper, now=NOW),
        ):
            with pytest.raises(PermissionDenied):
                write(who)
    with pytest.raises(PermissionDenied):
        write_way_in(by=by, site=theirs, values={"gate": "x"}, now=NOW)
    assert AuditEntry.objects.count() == before
