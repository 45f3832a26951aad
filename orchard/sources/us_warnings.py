"""Warnings of the National Weather Service that are in force at a place.

The active alerts of its interface (weather.gov/documentation/services-web-api), in
the fields of the Common Alerting Protocol (OASIS CAP 1.2), with the service's own
event codes (Valid Time Event Code, NWS Instruction 10-1703). The weather comes from
``onset`` until ``ends``, or until ``expires`` where no end is named; ``expires``
itself is only how long the message counts.

Kept are those that harm trees or people outdoors: frost, freeze, cold, heat, wind,
thunderstorms, hail, tornadoes, tropical storms, floods, ice and snow. Left out are
those about the sea, the air, fire, avalanches, roads and missing people, and
all tests, drills, cancelled and ended ones. A newer message takes the place of those
it names.
"""

import re
from datetime import datetime, timedelta

from orchard.sources.answered_json import (
    Fields,
    as_fields,
    as_list,
    list_of,
    moment,
    read_fields,
    text_of,
)
from orchard.sources.arriving import Ask, AskedPlace, IssuedWarning, strange_answer

ADDRESS = "https://api.weather.gov/alerts/active?point="
MOST_WARNINGS = 200
#: What our own record of a warning can hold, in letters.
LONGEST = {
    "identifier": 200,
    "event": 80,
    "headline": 400,
    "text": 6000,
    "instruction": 4000,
    "severity": 20,
    "sender": 120,
    "area": 400,
}
_KEPT = re.compile(
    r"\b(frost|freeze|freezing|cold|chill|heat|winds?|windstorm|thunderstorm"
    r"|lightning|hail|tornado|hurricane|typhoon|tropical|flood|ice|snow|winter"
    r"|blizzard)\b"
)
#: Weather of the sea and the coast, which wear some of the same names.
_OTHER = re.compile(
    r"\b(marine|gale|seas?|surf|craft|spray|rip|lake wind|hurricane force|fire|beach"
    r"|brisk)\b"
)
#: ``/O.NEW.KSEW.FZ.W.0003.261127T0600Z-261127T1600Z/``: class, action, office, …
_VTEC = re.compile(r"/[OTEX]\.(?P<action>[A-Z]{3})\.", re.ASCII)
_OVER = frozenset({"CAN", "EXP"})
#: A message that names no end nor expiry counts this long.
_UNSAID = timedelta(hours=24)


def fetch_warnings(place: AskedPlace, ask: Ask) -> tuple[IssuedWarning, ...]:
    """Ask for the warnings in force at a place."""
    return parse_warnings(ask(address(place), is_main=False), place.now)


def address(place: AskedPlace) -> str:
    """Return what is asked for."""
    return ADDRESS + point(place)


def point(place: AskedPlace) -> str:
    """Return ``latitude,longitude`` without zeros at the end.

    The service sends every other way of writing it elsewhere.
    """
    return ",".join(
        f"{round(degrees, 4) + 0.0:.4f}".rstrip("0").rstrip(".")
        for degrees in (place.latitude_deg, place.longitude_deg)
    )


def parse_warnings(body: bytes, now: datetime) -> tuple[IssuedWarning, ...]:
    """Return the warnings that count at ``now`` or later, the next one first.

    Raises
    ------
    SourceError
        For an answer of another form.
    """
    features = list_of(read_fields(body), "features")
    if len(features) > MOST_WARNINGS:
        message = f"it has {len(features)} warnings"
        raise strange_answer(message)
    alerts = [
        as_fields(as_fields(feature, "a warning").get("properties"), "a warning")
        for feature in features
    ]
    actual = [alert for alert in alerts if text_of(alert, "status") == "Actual"]
    replaced = {name for alert in actual for name in _replaced(alert)}
    found: dict[str, IssuedWarning] = {}
    for alert in actual:
        identifier = text_of(alert, "id")
        if identifier in replaced or _is_over(alert) or not matters(alert):
            continue
        warning = _warning(alert, now)
        if warning.ends_at > now:
            found[warning.identifier] = warning
    return tuple(sorted(found.values(), key=lambda each: each.begins_at))


def matters(alert: Fields) -> bool:
    """Whether a warning is about what harms trees or people outdoors."""
    event = text_of(alert, "event").casefold()
    return bool(_KEPT.search(event)) and not _OTHER.search(event)


def _replaced(alert: Fields) -> list[str]:
    """Return the messages that an update or a cancelling takes the place of."""
    if text_of(alert, "messageType") not in {"Update", "Cancel"}:
        return []
    references = as_list(alert.get("references") or [], "“references”")
    return [
        text_of(as_fields(reference, "a reference"), "identifier")
        for reference in references
    ]


def _is_over(alert: Fields) -> bool:
    """Whether it says itself that it is cancelled or over."""
    if text_of(alert, "messageType") == "Cancel":
        return True
    parameters = as_fields(alert.get("parameters") or {}, "“parameters”")
    codes = as_list(parameters.get("VTEC") or [], "“VTEC”")
    actions = {
        match["action"]
        for code in codes
        if isinstance(code, str) and (match := _VTEC.match(code))
    }
    return bool(actions) and actions <= _OVER


def _warning(alert: Fields, now: datetime) -> IssuedWarning:
    sent_at = _time(alert, "sent") or now
    begins_at = _time(alert, "onset") or _time(alert, "effective") or sent_at
    expires_at = _time(alert, "expires")
    ends_at = _time(alert, "ends") or expires_at or begins_at + _UNSAID
    texts = {
        "identifier": text_of(alert, "id"),
        "event": text_of(alert, "event"),
        "headline": text_of(alert, "headline"),
        "text": text_of(alert, "description"),
        "instruction": text_of(alert, "instruction"),
        "severity": text_of(alert, "severity"),
        "sender": text_of(alert, "senderName") or text_of(alert, "sender"),
        "area": text_of(alert, "areaDesc"),
    }
    if not texts["identifier"]:
        message = "a warning has no “id”"
        raise strange_answer(message)
    return IssuedWarning(
        sent_at=sent_at,
        begins_at=begins_at,
        ends_at=max(ends_at, begins_at),
        expires_at=expires_at or ends_at,
        **{name: _cut(text, LONGEST[name]) for name, text in texts.items()},
    )


def _time(alert: Fields, name: str) -> datetime | None:
    text = text_of(alert, name)
    return moment(text, f"“{name}”") if text else None


def _cut(text: str, most: int) -> str:
    """Return a text as it can be kept: no marks that no page can show, not too long."""
    plain = "".join(
        letter if letter == "\n" or letter.isprintable() else " "
        for letter in text.replace("\0", "")
        if not "\ud800" <= letter <= "\udfff"
    )
    return plain if len(plain) <= most else plain[: most - 1] + "…"
