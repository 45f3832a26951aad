"""Why heat asks for work, in words."""

from collections.abc import Callable

from care.views.reason_words import Teller, Told


def _day(teller: Teller) -> str:
    if teller.reason.holds("is_dry"):
        alarm = (
            f"the air will be so dry ({_deficit(teller)} short of saturation) that "
            f"leaves lose more than roots bring; that alarms from "
            f"{teller.reason.number('dry_alarm_kpa'):.0f} kPa"
        )
    else:
        alarm = f"the alarm rings from {teller.amount('alarm_c', '°C')}"
    return (
        f"{teller.amount('maximum_c', '°C')} is expected {teller.on_day('hot_on')}; "
        f"{alarm}.{_spell(teller)}"
    )


def _deficit(teller: Teller) -> str:
    deficit = teller.reason.number("deficit_kpa")
    return "an unknown amount" if deficit is None else f"{deficit:.1f} kPa"


def _spell(teller: Teller) -> str:
    days = teller.reason.number("hot_days") or 1
    if days <= 1:
        return ""
    return (
        f" {days:.0f} such days are forecast, up to {teller.amount('hottest_c', '°C')}."
    )


def _pot(teller: Teller) -> str:
    small = (
        " A pot this small heats through within the day: do it first."
        if teller.reason.holds("is_small_pot")
        else ""
    )
    return (
        f"{_day(teller)} Roots in a pot heat through from its sunny side, whose wall can "
        "reach 77 °C (170 °F) in deserts: shade the pot itself, with cloth, a board or "
        f"other pots, until the spell is over.{small}"
    )


def _fresh(teller: Teller) -> str:
    return (
        f"{_day(teller)} Planted within the year, it lives on a small root ball: "
        "feel the soil at sunrise, water it then if it is dry, and shade its west side, "
        "trunk included. Young trees come before all others."
    )


def _bark(teller: Teller) -> str:
    bared = "It is young: its leaves do not shade its trunk yet."
    if teller.reason.day("bared_on"):
        bared = f"Cuts on {teller.day('bared_on')} bared limbs that were shaded before."
    return (
        f"{_day(teller)} {bared} Bark that the afternoon sun reaches burns and lets "
        "borers in: wrap it loosely or paint it with white water paint, half and half "
        "with water, and leave it on through the summer."
    )


def _numbers(teller: Teller) -> tuple[Told, ...]:
    deficit = teller.reason.number("deficit_kpa")
    dry = () if deficit is None else (Told(f"{deficit:.1f} kPa", "the air's thirst"),)
    return (
        *teller.told("maximum_c", "°C", "the hottest expected"),
        *teller.told("alarm_c", "°C", "the alarm"),
        *dry,
    )


SENTENCES: dict[str, Callable[[Teller], str]] = {
    "heat_pot": _pot,
    "heat_fresh": _fresh,
    "heat_bark": _bark,
}
NUMBERS: dict[str, Callable[[Teller], tuple[Told, ...]]] = {
    "heat_pot": _numbers,
    "heat_fresh": _numbers,
    "heat_bark": _numbers,
}
