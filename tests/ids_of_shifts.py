"""What helping, ways in and shifts have that an address can name, one of each."""

from datetime import date, time, timedelta
from typing import Any

from django.db.models import Model
from django.utils import timezone

from care.actions.shift_series import make_series
from care.actions.shifts import make_shift
from care.models import (
    HandOver,
    RotaPublished,
    Shift,
    ShiftPlace,
    ShiftRefusal,
    ShiftSeries,
)
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

# The day on which the sites of these tests live.
TODAY = date(2025, 7, 2)
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
    _share_work(site, by, mark)


def _share_work(site: Site, by: Membership, mark: str) -> None:
    """Publish a shift with a place held and one open, and have another repeat."""
    now = timezone.now()
    facts = {"starts_at": time(9), "minutes": 120}
    day = TODAY + timedelta(days=3)
    shift = make_shift(
        site=site,
        values={"name": f"{mark} shift", "day": day, "note": f"{mark} hat", **facts},
        skills=["", ""],
        person=by.person,
        now=now,
    )
    Shift.objects.filter(pk=shift.pk).update(status="published", published_at=now)
    shift.places.filter(number=1).update(state="held", holder=by.person, busy_on=day)
    span = {"from_on": TODAY, "until_on": TODAY + timedelta(days=60), "weekdays": "2"}
    make_series(
        site=site,
        values={
            "name": f"{mark} watering",
            "skills": [""],
            "silent_when_wet": False,
            **facts,
            **span,
        },
        person=by.person,
        now=now,
    )


def ids_of_shifts(site: Site) -> dict[str, object]:
    """Return what the names in an address stand for."""
    papers = SignedPaper.objects.filter(membership__orchard=site.orchard_id)
    shift = Shift.objects.filter(site=site, series=None).latest("pk")
    return {
        "shift": shift.uid,
        "place": shift.places.get(number=2).pk,
        "series": ShiftSeries.objects.filter(site=site).latest("pk").pk,
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
        Shift: by_site,
        ShiftSeries: by_site,
        ShiftPlace: {"shift__site__orchard": orchard},
        HandOver: {"place__shift__site__orchard": orchard},
        ShiftRefusal: {"shift__site__orchard": orchard},
        RotaPublished: by_site,
    }
