"""A limit on guessing secrets in addresses and cookies, by the guesser's address."""

from allauth.account.adapter import get_adapter
from django.core.cache import cache
from django.http import HttpRequest

# Secrets of 256 bits cannot be guessed; this keeps the trying from being a load.
# Common practice, no source.
MOST_GUESSES = 20
SECONDS = 60


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
    return f"helper-guesses:{get_adapter().get_client_ip(request)}"
