"""What was kept of a service's or a station's trouble, in the language of its reader.

Trouble is kept when it happens, in English, by a job or a station that reads no
language; whoever looks at it later may read another one.
"""

import functools
import re
from collections.abc import Iterable

from django.utils.translation import gettext, gettext_noop

#: The sentences that are kept, as the modules beside this one write them.
KEPT = (
    gettext_noop("The service answered with a web page instead of weather."),
    gettext_noop("The service did not understand what it was asked (400)."),
    gettext_noop("The service wants an account (401), which this program has not."),
    gettext_noop(
        "The service refuses to answer (403). Most often it wants to know whom it "
        "serves: whoever runs this server must set ORCHARD_CONTACT to an address that "
        "is read."
    ),
    gettext_noop("The service does not cover this place (404)."),
    gettext_noop("The service has ended here (410)."),
    gettext_noop("The service does not cover this place (422)."),
    gettext_noop("The service sends on to {where} ({status}), which is not followed."),
    gettext_noop("The service has been asked too often and wants to be left alone."),
    gettext_noop("The service has trouble of its own ({status})."),
    gettext_noop("The service answered strangely ({status})."),
    gettext_noop(
        "The service calls the way it is asked old; it may end soon. "
        "A newer version of this program will ask in the new way."
    ),
    gettext_noop(
        "This program stumbled over the service's answer. Whoever runs this server "
        "finds the details in its log."
    ),
    gettext_noop("The service's newest forecast is {days} days old."),
    gettext_noop("The weather service's answer cannot be read: {what}."),
    gettext_noop("The official warnings could not be read this time."),
    gettext_noop("The forecast is for a point {away_km} km away."),
    gettext_noop("The forecast is for a point {higher_m} m higher."),
    gettext_noop("The forecast is for a point {higher_m} m lower."),
    gettext_noop("The certificate of {host} is not valid: {problem}."),
    gettext_noop("{host} did not answer within {seconds} seconds."),
    gettext_noop("No safe connection to {host} could be made."),
    gettext_noop("The answer of {host} is broken."),
    gettext_noop("The connection to {host} broke off."),
    gettext_noop("{host} has no address."),
    gettext_noop("{host} is not at a public address of the network; it was not asked."),
    gettext_noop("The name {host} cannot be looked up: is this machine online?"),
    gettext_noop("{host} cannot be reached."),
    gettext_noop("{host} packed its answer in a way nobody asked for."),
    gettext_noop("The answer of {host} is far too large for weather."),
    gettext_noop("The station sent no weather, such as {names}."),
    gettext_noop("The station sent no time (dateutc)."),
    gettext_noop("Its time, “{text}”, is none; write it as 2025-07-02 14:05:00."),
    gettext_noop(
        "Its clock is {long} ahead: it says {at} UTC. Set the station's clock and time "
        "zone."
    ),
    gettext_noop(
        "Its clock is {long} behind: it says {at} UTC. Set the station's clock; "
        "readings older than 2 days are not taken."
    ),
    gettext_noop("{name}: “{text}” is not a number."),
    gettext_noop("{name}: {plain} cannot be below zero."),
)
#: What stands for the name of a host or of a field.
_WORD = r"[\w.-]+"


def retold(words: str, templates: Iterable[str] = KEPT) -> str:
    """Return English sentences in the reader's language; what is not known stays.

    ``templates`` are what the sentences were written by, marked for translation.
    """
    for template in templates:
        words = _pattern(template).sub(functools.partial(_said, template), words)
    return words


def _said(template: str, found: re.Match[str]) -> str:
    return gettext(template).format(**found.groupdict())


@functools.cache
def _pattern(template: str) -> re.Pattern[str]:
    """Return what finds a sentence with anything in its gaps."""
    parts = re.split(r"\{(\w+)\}", template)
    gaps = [
        f"(?P<{name}>{_WORD if name in {'host', 'name'} else '.+?'})"
        for name in parts[1::2]
    ]
    fixed = [re.escape(text) for text in parts[::2]]
    pairs = zip(fixed, [*gaps, ""], strict=True)
    return re.compile("".join(text + gap for text, gap in pairs))
