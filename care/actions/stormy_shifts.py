"""Shifts that an official warning of today calls off without asking."""

from datetime import datetime

from django.db import transaction

from care.actions.shift_changes import cancel_shift, overruled
from care.models import Shift
from care.planning.shift_times import ends_at
from care.planning.shift_weather import calls_of
from orchard.models import Site
from orchard.sources.official_warnings import Concern, site_moment

WHY = {
    Concern.THUNDER: "Nobody works under trees in a thunderstorm.",
    Concern.HEAT: "Nobody works outdoors in such heat.",
}


@transaction.atomic
def call_off_dangerous(*, site: Site, now: datetime) -> int:
    """Cancel today's shifts that an official warning forbids; return how many.

    Only published ones that have not begun and are not over, and only where the warning
    holds during their hours; all else is proposed to who arranges them. One that a
    person let take place after all is left to them.
    """
    rows = Shift.objects.filter(
        site=site,
        day=site.today(now),
        status=Shift.Status.PUBLISHED,
        begun_at=None,
    ).select_related("site__orchard")
    moment = site_moment(site, now)
    shifts = [shift for shift in rows if ends_at(shift, site) > moment]
    if not shifts:
        return 0
    found = calls_of(site, shifts, {}, now)
    number = 0
    for shift in shifts:
        sure = next((call for call in found[shift.pk] if call.is_sure), None)
        if sure is not None:
            why = f"Official warning: {sure.event}. {WHY[sure.concern]}"[:120]
            if why not in overruled(shift):
                number += cancel_shift(shift=shift, why=why, person=None, now=now)
    return number
