"""Official warnings that concern a site now: which, and what work they bear on."""

from datetime import datetime, time, timedelta
from enum import StrEnum
from zoneinfo import ZoneInfo

from orchard.models import OfficialWarning, Site


class Concern(StrEnum):
    """What of the weather a warning is about, as far as it changes work here."""

    COLD = "cold"
    HEAT = "heat"
    WIND = "wind"
    THUNDER = "thunder"
    OTHER = "other"


# Words in the names of events, in the order tried: a storm's thunder goes before its
# wind. From memory of the United States service's list of events.
WORDS = (
    (Concern.THUNDER, ("thunder", "tornado", "lightning", "hail")),
    (
        Concern.COLD,
        ("frost", "freez", "cold", "winter", "wind chill", "ice", "snow", "blizzard"),
    ),
    (Concern.HEAT, ("heat",)),
    (Concern.WIND, ("wind", "gale", "hurricane", "tropical storm", "typhoon")),
)
#: Of the common alerting protocol (OASIS, CAP 1.2): these may cost lives or property.
GRAVE = frozenset({"severe", "extreme"})


def concern_of(event: str) -> Concern:
    """Return what an event such as ``Freeze Warning`` is about."""
    name = event.casefold()
    return next(
        (concern for concern, words in WORDS if any(word in name for word in words)),
        Concern.OTHER,
    )


def concerns_work(warning: OfficialWarning) -> bool:
    """Whether people who look after trees should be told of it, not only shown it."""
    is_grave = warning.severity.casefold() in GRAVE
    return is_grave or concern_of(warning.event) is not Concern.OTHER


def site_moment(site: Site, now: datetime) -> datetime:
    """Return the moment at a site; a demonstration has its own day and our clock."""
    local = now.astimezone(ZoneInfo(site.time_zone))
    return datetime.combine(site.today(now), local.time(), local.tzinfo)


def warnings_at(site: Site, moment: datetime) -> list[OfficialWarning]:
    """Return the warnings of today and tomorrow that are not over, first to come first.

    A warning of which two services tell stands once. One whose text ran out before the
    weather it warns of stays: nothing newer has come, and nothing took it back.

    Parameters
    ----------
    moment : datetime
        Aware; of :func:`site_moment`.
    """
    local = moment.astimezone(ZoneInfo(site.time_zone))
    last = datetime.combine(local.date() + timedelta(days=2), time(), local.tzinfo)
    rows = OfficialWarning.objects.filter(
        series__readers__site=site,
        withdrawn_at=None,
        begins_at__lt=last,
        ends_at__gt=moment,
    ).select_related("series")
    once = {row.identifier: row for row in rows.order_by("-begins_at", "-id")}
    return list(reversed(once.values()))
