"""Limits by the address that asks: on guessing secrets, and on telling of trees."""

import ipaddress

from allauth.account.adapter import get_adapter
from django.core.cache import cache
from django.http import HttpRequest

# Secrets of 256 bits cannot be guessed; this keeps the trying from being a load.
# Common practice, no source.
MOST_GUESSES = 20
SECONDS = 60
# One home tells of no more trees than this in an hour. Common practice, no source.
MOST_REPORTS = 5
REPORT_SECONDS = 3600
# One home's devices share this much of their IPv6 address (RFC 6177 and RFC 4291).
IPV6_PREFIX = 64


def may_guess(request: HttpRequest) -> bool:
    """Whether this address has not guessed wrong too often in the last minute."""
    return _count(request, "guesses") < MOST_GUESSES


def count_guess(request: HttpRequest) -> None:
    """Count a secret that nobody knows, whatever the method it came by."""
    _add(request, "guesses", SECONDS)


def may_report(request: HttpRequest) -> bool:
    """Whether this address has not told of too many trees in the last hour."""
    return _count(request, "reports") < MOST_REPORTS


def count_report(request: HttpRequest) -> None:
    """Count what somebody without an account told of a tree."""
    _add(request, "reports", REPORT_SECONDS)


def _count(request: HttpRequest, what: str) -> int:
    number: int = cache.get(_key(request, what), 0)
    return number


def _add(request: HttpRequest, what: str, seconds: int) -> None:
    key = _key(request, what)
    if not cache.add(key, 1, seconds):
        try:
            cache.incr(key)
        except ValueError:  # it ran out between the two
            cache.add(key, 1, seconds)


def _key(request: HttpRequest, what: str) -> str:
    address = ipaddress.ip_address(get_adapter().get_client_ip(request))
    is_long = isinstance(address, ipaddress.IPv6Address)
    prefix = IPV6_PREFIX if is_long else address.max_prefixlen
    network = ipaddress.ip_network((address, prefix), strict=False)
    return f"{what}:{network.network_address}"
