"""What helping, ways in and shifts have that an address can name, one of each."""

from datetime import date
from typing import Any

from django.db.models import Model
from django.utils import timezone

from orchard.actions.helping import HelperFacts, describe_helper
from orchard.actions.offers import limit_help, offer_weekdays
from orchard.actions.ways_in import add_contact, record_paper, write_way_in
from orchard.models import (
    EmergencyContact,
    Helping,
    Membership,
    Offered,
    Orchard,
    SignedPaper,
    Site,
    WayIn,
)

SIGNED_ON = date(2025, 3, 1)


def help_out(site: Site, by: Membership, mark: str = "Any") -> None:
    """Let one member offer days, and have everything about helping written down."""
    now = timezone.now()
    offer_weekdays(membership=by, wishes={5: 1, 2: 0}, now=now)
    limit_help(membership=by, most_a_week=2, most_a_season=20, now=now)
    facts = HelperFacts(skills=("ladder", f"{mark} grafting"))
    describe_helper(by=by, member=by, facts=facts, now=now)
    write_way_in(
        by=by,
        site=site,
        values={"gate": f"{mark} gate", "key_note": f"{mark} flowerpot"},
        now=now,
    )
    add_contact(
        by=by,
        site=site,
        values={"name": f"{mark} on call", "phone": "555-0142"},
        now=now,
    )
    record_paper(by=by, member=by, what=f"{mark} waiver", signed_on=SIGNED_ON, now=now)


def ids_of_shifts(site: Site) -> dict[str, object]:
    """Return what the names in an address stand for."""
    papers = SignedPaper.objects.filter(membership__orchard=site.orchard_id)
    return {
        "contact": site.emergency_contacts.latest("pk").pk,
        "paper": papers.latest("pk").pk,
    }


def rows_of_shifts(orchard: Orchard) -> dict[type[Model], dict[str, Any]]:
    """Return the tables of helping with what finds an orchard's own rows in each."""
    by_member, by_site = {"membership__orchard": orchard}, {"site__orchard": orchard}
    return {
        Helping: by_member,
        Offered: by_member,
        SignedPaper: by_member,
        WayIn: by_site,
        EmergencyContact: by_site,
    }
