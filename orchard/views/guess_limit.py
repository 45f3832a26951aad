"""A limit on guessing secrets in addresses and cookies, by the guesser's address."""

import ipaddress

from allauth.account.adapter import get_adapter
from django.core.cache import cache
from django.http import HttpRequest

# Secrets of 256 bits cannot be guessed; this keeps the trying from being a load.
# Common practice, no source.
MOST_GUESSES = 20
SECONDS = 60
# One home's devices share this much of their IPv6 address (RFC 6177 and RFC 4291).
IPV6_PREFIX = 64


def may_guess(request: HttpRequest) -> bool:
    """Whether this address has not guessed wrong too often in the last minute."""
    wrong: int = cache.get(_key(request), 0)
    return wrong < MOST_GUESSES


def count_guess(request: HttpRequest) -> None:
    """Count a secret that nobody knows, whatever the method it came by."""
    key = _key(request)
    if not cache.add(key, 1, SECONDS):
        try:
            cache.incr(key)
        except ValueError:  # it ran out between the two
            cache.add(key, 1, SECONDS)


def _key(request: HttpRequest) -> str:
    address = ipaddress.ip_address(get_adapter().get_client_ip(request))
    is_long = isinstance(address, ipaddress.IPv6Address)
    prefix = IPV6_PREFIX if is_long else address.max_prefixlen
    network = ipaddress.ip_network((address, prefix), strict=False)
    return f"guesses:{network.network_address}"
