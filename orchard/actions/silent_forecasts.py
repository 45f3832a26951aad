"""Telling those who run a place that its forecast has stopped coming."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from django.urls import reverse

from orchard.access import May, may
from orchard.actions.messages import Told, write_message
from orchard.models import Membership, SeriesFetch, Site

#: Of a service that is silent for weeks people hear again; no source.
KEEPS = timedelta(days=7)
WHAT_TO_DO = (
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
    since = fetch.fetched_at
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
            message = write_message(
                person=member.person,
                orchard=site.orchard,
                what=Told.FORECAST_SILENT,
                key=f"forecast/{site.pk}/{since.isoformat() if since else 'never'}",
                why=f"You may choose the weather service of {site.name}.",
                title=f"No forecast comes for {site.name}",
                lines=[_since_words(fetch, site), fetch.error, WHAT_TO_DO],
                due_at=now,
                until=now + KEEPS,
                path=reverse("weather_sources", args=[site.slug]),
            )
            told += message is not None
    return told


def _since_words(fetch: SeriesFetch, site: Site) -> str:
    name = fetch.series.name
    if fetch.fetched_at is None:
        return f"{name} has not given a good answer yet."
    at = fetch.fetched_at.astimezone(ZoneInfo(site.time_zone))
    return f"{name} gave its last good answer on {at:%-d %B at %H:%M}."
