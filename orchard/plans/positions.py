"""A latitude and longitude as phones and maps show them."""

import re

from django.utils.translation import gettext_noop

from orchard.plans.problems import PlanError

_NUMBER = r"[-+]?\d{1,3}(?:[.,]\d+)?"
_POSITION = re.compile(
    rf"(?:geo:)?\s*({_NUMBER})\s*°?\s*([NS])?\s*[,;\s]\s*({_NUMBER})\s*°?\s*([EW])?",
    re.ASCII | re.IGNORECASE,
)
_FARTHEST_DEG = 180.0


def read_position(text: str) -> tuple[float, float]:
    """Return latitude and longitude [deg] of a text such as ``47.45012, -122.31034``.

    Letters for north, south, east and west are read too. Which of the two comes first
    is checked where the place is known.

    Raises
    ------
    PlanError
        It is no position in degrees and their decimals.
    """
    plain = " ".join(text.replace("\N{MINUS SIGN}", "-").split())
    found = _POSITION.fullmatch(plain)
    if found is None:
        message = gettext_noop(
            "“{text}” is no position. Write latitude and longitude in degrees, such as "
            "47.45012, -122.31034."
        )
        raise PlanError(message, text=plain[:60])
    first = _signed(found[1], found[2], "S")
    second = _signed(found[3], found[4], "W")
    if abs(first) > _FARTHEST_DEG or abs(second) > _FARTHEST_DEG:
        message = gettext_noop("“{text}” is nowhere on the earth.")
        raise PlanError(message, text=plain)
    return first, second


def _signed(digits: str, letter: str | None, negative: str) -> float:
    number = float(digits.replace(",", "."))
    return -abs(number) if (letter or "").upper() == negative else number
