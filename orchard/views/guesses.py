"""How often an address may guess at secret addresses, counted in the cache."""

import ipaddress

from allauth.account.adapter import get_adapter
from django.core.cache import cache
from django.http import HttpRequest

MOST_GUESSES = 20
WINDOW_S = 60
# A home's or a phone's whole network shares the first half of its IPv6 address.
IPV6_PREFIX = 64


def guesses_too_often(request: HttpRequest, at: str) -> bool:
    """Whether this visitor named too many ``at`` that do not exist within a minute."""
    return int(cache.get(_key(request, at), 0)) >= MOST_GUESSES


def count_guess(request: HttpRequest, at: str) -> None:
    """Remember that this visitor named one that does not exist."""
    key = _key(request, at)
    cache.add(key, 0, WINDOW_S)
    try:
        cache.incr(key)
    except ValueError:  # the minute ended between the two lines
        cache.set(key, 1, WINDOW_S)


def _key(request: HttpRequest, at: str) -> str:
    address = ipaddress.ip_address(get_adapter().get_client_ip(request))
    if address.version == 4:  # noqa: PLR2004 (the protocol's own number)
        return f"guess:{at}:{address}"
    network = ipaddress.ip_network((address, IPV6_PREFIX), strict=False)
    return f"guess:{at}:{network.network_address}"
