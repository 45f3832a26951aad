"""Metric and US units, converted at the edge: everything inside is SI.

Factors are exact by definition; NIST Special Publication 811 (Thompson and Taylor
2008), appendix B.8, lists them rounded: inch 25.4 mm, foot 0.3048 m, US gallon
3.785 411 784 L (231 cubic inches), avoirdupois pound 453.592 37 g, mile 1609.344 m.
"""

import math
import re
from dataclasses import dataclass
from enum import StrEnum

from django.utils.translation import gettext

from orchard.languages import decimal_sign, localised


class UnitError(ValueError):
    """A text that is no amount in a known unit; the message says what to type."""


class UnitSystem(StrEnum):
    """A member's choice of units."""

    METRIC = "metric"
    US = "us"


class Quantity(StrEnum):
    """What is measured; each has one SI unit inside the program."""

    DEPTH = "depth"  # mm: rain, water, mulch laid
    VOLUME = "volume"  # L: water, pots
    LOOSE_VOLUME = "loose_volume"  # L: mulch, compost, potting mix
    TEMPERATURE = "temperature"  # degC
    TEMPERATURE_STEP = "temperature_step"  # degC from one temperature to another
    LENGTH = "length"  # m: heights, crowns, distances
    DIAMETER = "diameter"  # mm: trunks
    SMALL_MASS = "small_mass"  # g: nitrogen, fertiliser
    MASS = "mass"  # kg: harvests
    SPEED = "speed"  # m/s
    AREA = "area"  # m2


@dataclass(frozen=True, slots=True)
class _Unit:
    """A unit: ``value * factor + offset`` in the base unit of its dimension."""

    label: str
    dimension: str
    factor: float = 1.0
    offset: float = 0.0
    spellings: tuple[str, ...] = ()


_INCH_MM = 25.4
_GALLON_L = 231 * _INCH_MM**3 / 1e6
_POUND_G = 453.59237
_CUBIC_FOOT_L = (12 * _INCH_MM) ** 3 / 1e6

_MM = _Unit("mm", "length", spellings=("mm",))
_CM = _Unit("cm", "length", 10, spellings=("cm",))
_M = _Unit("m", "length", 1000, spellings=("m", "metre", "meter"))
_IN = _Unit("in", "length", _INCH_MM, spellings=("in", "inch", "inche", '"'))
_FT = _Unit("ft", "length", 12 * _INCH_MM, spellings=("ft", "foot", "feet", "'"))
_L = _Unit("L", "volume", spellings=("l", "litre", "liter"))
_ML = _Unit("mL", "volume", 0.001, spellings=("ml",))
_GAL = _Unit("gal", "volume", _GALLON_L, spellings=("gal", "gallon"))
_FL_OZ = _Unit("fl oz", "volume", _GALLON_L / 128, spellings=("floz",))
_CU_FT = _Unit("cu ft", "volume", _CUBIC_FOOT_L, spellings=("cuft", "ft3", "ft³"))
_G = _Unit("g", "mass", spellings=("g", "gram"))
_KG = _Unit("kg", "mass", 1000, spellings=("kg",))
_OZ = _Unit("oz", "mass", _POUND_G / 16, spellings=("oz", "ounce"))
_LB = _Unit("lb", "mass", _POUND_G, spellings=("lb", "pound"))
_CELSIUS = _Unit("°C", "temperature", spellings=("°c", "c"))
_FAHRENHEIT = _Unit("°F", "temperature", 5 / 9, -160 / 9, spellings=("°f", "f"))
_METRES_A_SECOND = _Unit("m/s", "speed", spellings=("m/s",))
_MPH = _Unit("mph", "speed", 1609.344 / 3600, spellings=("mph",))
_KMH = _Unit("km/h", "speed", 1 / 3.6, spellings=("km/h", "kmh"))
_M2 = _Unit("m²", "area", spellings=("m²", "m2"))
_SQ_FT = _Unit("sq ft", "area", (0.012 * _INCH_MM) ** 2, spellings=("sqft", "ft2"))

_ALL = (
    *(_MM, _CM, _M, _IN, _FT, _L, _ML, _GAL, _FL_OZ, _CU_FT, _G, _KG, _OZ, _LB),
    *(_CELSIUS, _FAHRENHEIT, _METRES_A_SECOND, _MPH, _KMH, _M2, _SQ_FT),
)
_BY_SPELLING = {spelling: unit for unit in _ALL for spelling in unit.spellings}

_UNITS: dict[Quantity, tuple[_Unit, _Unit]] = {
    Quantity.DEPTH: (_MM, _IN),
    Quantity.VOLUME: (_L, _GAL),
    Quantity.LOOSE_VOLUME: (_L, _CU_FT),
    Quantity.TEMPERATURE: (_CELSIUS, _FAHRENHEIT),
    Quantity.TEMPERATURE_STEP: (_CELSIUS, _FAHRENHEIT),
    Quantity.LENGTH: (_M, _FT),
    Quantity.DIAMETER: (_MM, _IN),
    Quantity.SMALL_MASS: (_G, _OZ),
    Quantity.MASS: (_KG, _LB),
    Quantity.SPEED: (_METRES_A_SECOND, _MPH),
    Quantity.AREA: (_M2, _SQ_FT),
}

#: The units that proposals, tasks and log entries carry.
_QUANTITY_OF_UNIT = {
    "mm": Quantity.DEPTH,
    "L": Quantity.VOLUME,
    "L loose": Quantity.LOOSE_VOLUME,
    "°C": Quantity.TEMPERATURE,
    "m": Quantity.LENGTH,
    "g": Quantity.SMALL_MASS,
    "kg": Quantity.MASS,
    "m/s": Quantity.SPEED,
    "m²": Quantity.AREA,
}

NO_NUMBER = "\N{EN DASH}"
#: Nothing in an orchard is larger; digits beyond would say nothing.
LARGEST_SHOWN = 1e15

#: Below the amount, the smaller unit; from the amount on, the larger one.
_SMALLER = {"L": (0.0995, _ML), "gal": (0.25, _FL_OZ)}
_LARGER = {"g": (999.5, _KG), "oz": (16.0, _LB)}

#: Decimals by amount: below the first number, that many.
_DECIMALS: dict[str, tuple[tuple[float, int], ...]] = {
    "in": ((1, 2), (10, 1)),
    "m": ((1, 2), (10, 1)),
    "oz": ((5, 1),),
    "kg": ((100, 1),),
    "lb": ((100, 1),),
    "mL": (),
    "fl oz": (),
    "°C": ((math.inf, 1),),
    "°F": (),
}
_USUAL_DECIMALS = ((10, 1),)

_NUMBER = r"[-+]?(?:\d+(?:[.,]\d*)?|[.,]\d+)"
#: Groups of thousands, where the decimal sign is the other one.
_THOUSANDS = {
    ".": re.compile(r"[-+]?[1-9]\d{0,2}(,\d{3})+(\.\d+)?", re.ASCII),
    ",": re.compile(r"[-+]?[1-9]\d{0,2}(\.\d{3})+(,\d+)?", re.ASCII),
}


def to_si(value: float, quantity: Quantity, system: UnitSystem) -> float:
    """Return ``value``, given in the unit of ``system``, in the quantity's SI unit."""
    return _convert(value, _unit(quantity, system), _UNITS[quantity][0], quantity)


def from_si(value: float, quantity: Quantity, system: UnitSystem) -> float:
    """Return an SI ``value`` in the unit that ``system`` uses for the quantity."""
    return _convert(value, _UNITS[quantity][0], _unit(quantity, system), quantity)


def unit_label(quantity: Quantity, system: UnitSystem) -> str:
    """Return the unit's sign, such as ``gal``."""
    return _unit(quantity, system).label


def format_quantity(value: float, unit: str, system: UnitSystem) -> str:
    """Return an amount as a person reads it, such as ``4.8 gal``.

    Parameters
    ----------
    value : float
        The amount in ``unit``.
    unit : str
        ``mm``, ``L``, ``L loose`` (mulch and soil, in cubic feet for US members),
        ``g``, ``kg``, ``m``, ``m²``, ``m/s``, ``°C``, ``share`` (shown as percent)
        or ``""``. Any other unit is shown as it stands, unconverted.
    system : UnitSystem
        The reader's units.

    Returns
    -------
    str
        Rounded to what a can, a scale or a gauge can show; a dash for no number.
    """
    if not abs(value) < LARGEST_SHOWN:
        return NO_NUMBER
    if unit == "share":
        return f"{_rounded(100 * value, 0)}%"
    quantity = _QUANTITY_OF_UNIT.get(unit)
    if quantity is None:
        return f"{_rounded(value, 1)} {unit}".strip()
    return _format(value, quantity, system)


def format_temperature(temp_c: float, system: UnitSystem) -> str:
    """Return a temperature: tenths of degC, whole degF."""
    return format_quantity(temp_c, "°C", system)


def format_length_mm(length_mm: float, system: UnitSystem) -> str:
    """Return a depth of rain, water or mulch, or a trunk's width."""
    return format_quantity(length_mm, "mm", system)


def format_metres(length_m: float, system: UnitSystem) -> str:
    """Return a height, a width or a distance."""
    return format_quantity(length_m, "m", system)


def parse_number(
    text: str,
    system: UnitSystem = UnitSystem.METRIC,
    *,
    largest: float = math.inf,
) -> float:
    """Return the number a person typed; a comma may be the decimal sign.

    ``1,200`` is twelve hundred in US units and refused in metric ones, where it
    could as well be 1.2. In a language whose decimal sign is the comma, ``1,200`` is
    1.2, and ``1.200`` is refused. Where nothing is over ``largest``, as in degrees of
    latitude, what would be is 1.2.

    Raises
    ------
    UnitError
        When the text is no number.
    """
    plain = text.strip().replace("\N{MINUS SIGN}", "-")
    decimal = decimal_sign()
    between = "." if decimal == "," else ","
    if _THOUSANDS[decimal].fullmatch(plain):
        is_sure = system is UnitSystem.US and decimal == "."
        if not is_sure and plain.count(between) == 1 and decimal not in plain:
            joined = plain.replace(between, "")
            if abs(float(joined)) > largest:
                return float(plain.replace(",", "."))
            pointed = plain.replace(between, decimal)
            words = gettext("“{text}” can be read two ways: write {one} or {other}.")
            message = words.format(text=plain, one=joined, other=pointed)
            raise UnitError(message)
        plain = plain.replace(between, "")
    if not re.fullmatch(_NUMBER, plain, re.ASCII):
        message = gettext("“{text}” is not a number.").format(text=_shown(text))
        raise UnitError(message)
    number = float(plain.replace(",", "."))
    if not math.isfinite(number):
        message = gettext("“{text}” is too large.").format(text=_shown(text))
        raise UnitError(message)
    return number


def parse_quantity(text: str, quantity: Quantity, system: UnitSystem) -> float:
    """Return the SI value of a typed amount, such as ``15 gal`` or ``18,5``.

    Without a unit, the unit of ``system`` is meant; with one, that unit.

    Raises
    ------
    UnitError
        For no number or a unit that does not measure the quantity.
    """
    plain = text.strip().replace("\N{MINUS SIGN}", "-")
    number = re.match(r"[-+\d.,]*", plain, re.ASCII)
    digits = number.group() if number else ""
    spelling = "".join(plain[len(digits) :].split()).casefold().rstrip(".")
    value = parse_number(digits or text, system)
    if not spelling:
        return to_si(value, quantity, system)
    unit = _BY_SPELLING.get(spelling) or _BY_SPELLING.get(spelling.removesuffix("s"))
    si_unit, us_unit = _UNITS[quantity]
    if unit is None or unit.dimension != si_unit.dimension:
        message = gettext("“{text}”: write a number, {one} or {other}.").format(
            text=_shown(text), one=si_unit.label, other=us_unit.label
        )
        raise UnitError(message)
    return _convert(value, unit, si_unit, quantity)


def _unit(quantity: Quantity, system: UnitSystem) -> _Unit:
    return _UNITS[quantity][system is UnitSystem.US]


def _convert(value: float, old: _Unit, new: _Unit, quantity: Quantity) -> float:
    if old == new:
        return value
    if quantity is Quantity.TEMPERATURE_STEP:
        return value * old.factor / new.factor
    return (value * old.factor + old.offset - new.offset) / new.factor


def _format(value: float, quantity: Quantity, system: UnitSystem) -> str:
    unit = _handy_unit(abs(from_si(value, quantity, system)), _unit(quantity, system))
    number = _convert(value, _UNITS[quantity][0], unit, quantity)
    steps = _DECIMALS.get(unit.label, _USUAL_DECIMALS)
    decimals = next((places for limit, places in steps if abs(number) < limit), 0)
    return f"{_rounded(number, decimals)} {unit.label}"


def _handy_unit(size: float, unit: _Unit) -> _Unit:
    """Return the unit in which an amount of ``size`` units is easiest to measure."""
    small_limit, smaller = _SMALLER.get(unit.label, (0.0, unit))
    large_limit, larger = _LARGER.get(unit.label, (math.inf, unit))
    if 0 < size < small_limit:
        return smaller
    return larger if size >= large_limit else unit


def _rounded(number: float, decimals: int) -> str:
    text = f"{number:.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else localised(text)


def _shown(text: str) -> str:
    return text.strip()[:40]
