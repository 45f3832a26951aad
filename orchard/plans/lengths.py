"""Lengths as a tape shows them: metres and centimetres, or feet and inches."""

import re

from django.utils.translation import gettext

from orchard.languages import localised, whole
from orchard.units import Quantity, UnitError, UnitSystem, parse_number, parse_quantity

FOOT_M = 0.3048
INCHES_PER_FOOT = 12
#: From here on a length is said in whole metres or feet, and in km or miles [m].
FAR_M, VERY_FAR_M = 100.0, 10_000.0
MILE_M = 1609.344
_SIGNS = str.maketrans(
    {
        "\N{PRIME}": "'",
        "\N{RIGHT SINGLE QUOTATION MARK}": "'",
        "\N{LEFT SINGLE QUOTATION MARK}": "'",
        "\N{DOUBLE PRIME}": '"',
        "\N{RIGHT DOUBLE QUOTATION MARK}": '"',
        "\N{LEFT DOUBLE QUOTATION MARK}": '"',
        "\N{MINUS SIGN}": "-",
    }
)
_FEET_AND_INCHES = re.compile(
    r"(?P<feet>\d+)\s*(?:'|ft\.?|feet|foot)\s*"
    r"(?P<inches>\d+(?:[.,]\d+)?)?(?:\s+(?P<over>\d+)/(?P<under>[1-9]\d*))?"
    r"\s*(?:\"|''|in\.?|inch(?:es)?)?",
    re.ASCII | re.IGNORECASE,
)


def read_length(text: str, units: UnitSystem) -> float:
    """Return the metres of a typed length: ``3.45``, ``12'4"``, ``5 ft 3 1/2 in``.

    A bare number is in the unit of ``units``; whoever writes a unit is taken at their
    word.

    Raises
    ------
    UnitError
        It is no length; the message says what to type.
    """
    plain = " ".join(text.translate(_SIGNS).split())
    found = _FEET_AND_INCHES.fullmatch(plain)
    if found is None:
        return parse_quantity(plain, Quantity.LENGTH, units)
    inches = parse_number(found["inches"] or "0")
    if found["over"]:
        inches += int(found["over"]) / int(found["under"])
    if inches >= INCHES_PER_FOOT:
        message = gettext("“{plain}” has {inches} inches; twelve are a foot.").format(
            plain=plain, inches=localised(f"{inches:g}")
        )
        raise UnitError(message)
    return (int(found["feet"]) + inches / INCHES_PER_FOOT) * FOOT_M


def length_words(length_m: float, units: UnitSystem) -> str:
    """Return a length as a tape shows it: ``3.45 m``, ``12'4"``; far ones rounded."""
    if abs(length_m) >= VERY_FAR_M:
        unit_m, unit = (MILE_M, "mi") if units is UnitSystem.US else (1000.0, "km")
        return f"{whole(length_m / unit_m)} {unit}"
    if units is UnitSystem.US:
        return _feet_words(length_m)
    decimals = 0 if abs(length_m) >= FAR_M else 2
    shown = f"{length_m:.{decimals}f}"
    if decimals:
        shown = shown.rstrip("0").rstrip(".")
    return f"{'0' if shown == '-0' else localised(shown)} m"


def _feet_words(length_m: float) -> str:
    if abs(length_m) >= FAR_M:
        return f"{length_m / FOOT_M:.0f} ft"
    inches = round(abs(length_m) / FOOT_M * INCHES_PER_FOOT)
    sign = "-" if length_m < 0 and inches else ""
    feet, rest = divmod(inches, INCHES_PER_FOOT)
    if not feet:
        return f"{sign}{rest} in"
    return f"{sign}{feet}'{rest}\"" if rest else f"{sign}{feet} ft"
