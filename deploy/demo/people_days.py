"""When the people of Alder Row come, as what they help, and how to get in: invented."""

from datetime import datetime

from orchard.actions.helping import HelperFacts, describe_helper
from orchard.actions.offers import Wish, limit_help, offer_weekdays
from orchard.actions.ways_in import add_contact, write_way_in
from orchard.models import Membership, Offered, Site

WEDNESDAY, SATURDAY, SUNDAY = 2, 5, 6
#: By user name: weekdays with 1 gladly, 0 can come; skills; the most shifts a week.
PEOPLE_DAYS: dict[str, tuple[dict[int, Wish], tuple[str, ...], int]] = {
    "marta": ({SATURDAY: 1, WEDNESDAY: 0}, ("ladder", "first_aid"), 2),
    "tomas": ({SATURDAY: 0, SUNDAY: 0}, ("saw",), 2),
    "ines": ({SUNDAY: 0}, ("ladder",), 1),
}
WAY_IN = {
    "gate": "The green gate beside the house; leave the drive free.",
    "key_note": "In the blue box by the back door; Marta knows its number.",
    "tap": "At the south-east corner of the house; half a turn is enough.",
    "tools_at": "In the shed. Clean them, and hang them up again.",
    "first_aid": "The white box inside the shed door.",
    "harvest_rule": (
        "Half to whoever picked, half to the shared kitchen. Fallen fruit is free."
    ),
}
CONTACT = {
    "name": "Coordinator on call",
    "phone": "555-0142",  # 555-0100 to 555-0199 are kept for invented people
    "note": "While somebody works here",
}


def offer_the_days(site: Site, now: datetime) -> None:
    """Let the members of a site's orchard offer days, unless somebody did already."""
    if Offered.objects.filter(membership__orchard=site.orchard_id).exists():
        return
    rows = Membership.objects.filter(orchard=site.orchard_id)
    members = {each.person.username: each for each in rows.select_related("person")}
    by = members["marta"]
    for name, (wishes, skills, most_a_week) in PEOPLE_DAYS.items():
        member = members[name]
        offer_weekdays(membership=member, wishes=wishes, now=now)
        limit_help(
            membership=member, most_a_week=most_a_week, most_a_season=None, now=now
        )
        describe_helper(by=by, member=member, facts=HelperFacts(skills=skills), now=now)
    write_way_in(by=by, site=site, values=WAY_IN, now=now)
    add_contact(by=by, site=site, values=CONTACT, now=now)
