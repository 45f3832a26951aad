"""Telling those who run a place that its forecast has stopped coming."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from django.urls import reverse
from django.utils.translation import gettext, gettext_noop

from orchard.access import May, may
from orchard.actions.messages import Told, write_message
from orchard.languages import clock, day_and_month, in_language
from orchard.models import Membership, Person, SeriesFetch, Site
from orchard.sources.retold import retold

#: Of a service that is silent for weeks people hear again; no source.
KEEPS = timedelta(days=7)
WHAT_TO_DO = gettext_noop(
    "Until it comes again, look at a forecast elsewhere on cold evenings and type "
    "tonight's lowest on the weather page; cold alarms are only as good as the forecast."
)


def tell_silent(*, fetch: SeriesFetch, now: datetime) -> int:
    """Tell owners and coordinators of every live place that reads a silent series.

    A part of actions. Once a person and silence: it ends with a good answer.

    Returns
    -------
    int
        How many were told who had not been.
    """
    sites = Site.objects.filter(
        readings__series=fetch.series, own_today=None
    ).select_related("orchard")
    told = 0
    for site in sites:
        members = Membership.objects.filter(
            orchard=site.orchard, person__is_active=True
        )
        for member in members.select_related("person"):
            if not may(member.role, May.EDIT):
                continue
            with in_language(member.person.language):
                told += _tell(member.person, site, fetch, now)
    return told


def _tell(person: Person, site: Site, fetch: SeriesFetch, now: datetime) -> bool:
    since = fetch.fetched_at
    message = write_message(
        person=person,
        orchard=site.orchard,
        what=Told.FORECAST_SILENT,
        key=f"forecast/{site.pk}/{since.isoformat() if since else 'never'}",
        why=gettext("You may choose the weather service of {place}.").format(
            place=site.name
        ),
        title=gettext("No forecast comes for {place}").format(place=site.name),
        lines=[_since_words(fetch, site), retold(fetch.error), gettext(WHAT_TO_DO)],
        time_zone=site.time_zone,
        due_at=now,
        until=now + KEEPS,
        path=reverse("weather_sources", args=[site.slug]),
    )
    return message is not None


def _since_words(fetch: SeriesFetch, site: Site) -> str:
    name = fetch.series.name
    if fetch.fetched_at is None:
        return gettext("{service} has not given a good answer yet.").format(
            service=name
        )
    at = fetch.fetched_at.astimezone(ZoneInfo(site.time_zone))
    return gettext("{service} gave its last good answer on {day} at {time}.").format(
        service=name, day=day_and_month(at), time=clock(at)
    )
