"""Official warnings, quoted as they were issued; what is ours stands apart."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from django.utils.translation import gettext, gettext_noop

from care.views.days import when_day
from orchard.languages import clock
from orchard.models import OfficialWarning, Site
from orchard.sources.official_warnings import Concern, concern_of

#: What a warning means for work here: ours, and said as ours.
OURS = {
    Concern.COLD: "",
    Concern.HEAT: (
        gettext_noop(
            "Work early or late only, drink water, rest in the shade, and nobody works alone."
        )
    ),
    Concern.WIND: gettext_noop(
        "No ladders, and no cover that is not pegged down on every side."
    ),
    Concern.THUNDER: (
        gettext_noop(
            "At the first thunder go indoors or into a car: no ladders, no poles, nobody "
            "under trees. Peg covers down before."
        )
    ),
    Concern.OTHER: "",
}
#: Concerns that people outdoors are warned of, members or not.
FOR_PEOPLE = frozenset({Concern.HEAT, Concern.WIND, Concern.THUNDER})


@dataclass(frozen=True, slots=True)
class Quoted:
    """One official warning as a page shows it; the first four are the service's own."""

    event: str
    headline: str
    text: str
    instruction: str
    source: str
    area: str
    when: str
    note: str
    ours: str

    @property
    def line(self) -> str:
        """It in one paragraph, for a message."""
        quoted = f"“{self.headline or self.event}”"
        told = gettext("Official: {quoted} {source}, {when}.").format(
            quoted=quoted, source=self.source, when=self.when
        )
        if self.area:
            told = gettext("Official: {quoted} {source}, {when}, for {area}.").format(
                quoted=quoted, source=self.source, when=self.when, area=self.area
            )
        if self.instruction and len(self.instruction) <= SHORT_TEXT:
            told += " " + gettext("They say: “{instruction}”").format(
                instruction=self.instruction
            )
        return " ".join(part for part in (told, self.note) if part)


SHORT_TEXT = 400


def quoted(warning: OfficialWarning, site: Site, moment: datetime) -> Quoted:
    """Return a warning in the service's words, its times by the site's clock."""
    sender = warning.sender or warning.series.name
    return Quoted(
        event=warning.event,
        headline=warning.headline,
        text=warning.text,
        instruction=warning.instruction,
        source=gettext("Issued by {sender}, {sent_at}").format(
            sender=sender, sent_at=_clock(warning.sent_at, site, moment)
        ),
        area=warning.area,
        when=(
            gettext("in force from {begins_at} to {ends_at}").format(
                begins_at=_clock(warning.begins_at, site, moment),
                ends_at=_clock(warning.ends_at, site, moment),
            )
        ),
        note=_note(warning, site, moment),
        ours=gettext(OURS[concern_of(warning.event)]),
    )


def _note(warning: OfficialWarning, site: Site, moment: datetime) -> str:
    if warning.expires_at > moment:
        return ""
    since = _clock(warning.expires_at, site, moment)
    return gettext(
        "This text was meant to be replaced {since}, and nothing newer came: look "
        "for one."
    ).format(since=since)


def quoted_all(
    warnings: Iterable[OfficialWarning], site: Site, moment: datetime
) -> tuple[Quoted, ...]:
    """Return warnings in the service's words."""
    return tuple(quoted(warning, site, moment) for warning in warnings)


def for_people(warnings: Iterable[OfficialWarning]) -> list[OfficialWarning]:
    """Return the warnings of weather that is dangerous to people at work outdoors."""
    return [one for one in warnings if concern_of(one.event) in FOR_PEOPLE]


def _clock(at: datetime, site: Site, moment: datetime) -> str:
    zone = ZoneInfo(site.time_zone)
    local = at.astimezone(zone)
    day = when_day(local.date(), moment.astimezone(zone).date())
    return f"{day} {clock(local)}"
