"""Why heat asks for work, in words."""

from collections.abc import Callable

from django.utils.translation import gettext

from care.views.reason_words import Teller, Told
from orchard.languages import localised


def _day(teller: Teller) -> str:
    if teller.reason.holds("is_dry"):
        return gettext(
            "{maximum} is expected {hot}; the air will be so dry ({deficit} short "
            "of saturation) that leaves lose more than roots bring; that alarms "
            "from {dry_alarm} kPa."
        ).format(
            maximum=teller.amount("maximum_c", "°C"),
            hot=teller.on_day("hot_on"),
            deficit=_deficit(teller),
            dry_alarm=f"{teller.reason.number('dry_alarm_kpa'):.0f}",
        ) + _spell(teller)
    return gettext("{maximum} is expected {hot}; the alarm rings from {alarm}.").format(
        maximum=teller.amount("maximum_c", "°C"),
        hot=teller.on_day("hot_on"),
        alarm=teller.amount("alarm_c", "°C"),
    ) + _spell(teller)


def _deficit(teller: Teller) -> str:
    deficit = teller.reason.number("deficit_kpa")
    return (
        gettext("an unknown amount")
        if deficit is None
        else localised(
            gettext("{deficit} kPa").format(deficit=localised(f"{deficit:.1f}"))
        )
    )


def _spell(teller: Teller) -> str:
    days = teller.reason.number("hot_days") or 1
    if days <= 1:
        return ""
    return " " + gettext("{days} such days are forecast, up to {hottest}.").format(
        days=f"{days:.0f}", hottest=teller.amount("hottest_c", "°C")
    )


def _pot(teller: Teller) -> str:
    small = (
        (" " + gettext("A pot this small heats through within the day: do it first."))
        if teller.reason.holds("is_small_pot")
        else ""
    )
    return (
        f"{_day(teller)} "
        + gettext(
            "Roots in a pot heat through from its sunny side, whose wall can reach "
            "77 °C (170 °F) in deserts: shade the pot itself, with cloth, a board "
            "or other pots, until the spell is over."
        )
        + f"{small}"
    )


def _fresh(teller: Teller) -> str:
    return f"{_day(teller)} " + gettext(
        "Planted within the year, it lives on a small root ball: feel the soil at "
        "sunrise, water it then if it is dry, and shade its west side, trunk "
        "included. Young trees come before all others."
    )


def _bark(teller: Teller) -> str:
    bared = gettext("It is young: its leaves do not shade its trunk yet.")
    if teller.reason.day("bared_on"):
        bared = gettext("Cuts on {bared} bared limbs that were shaded before.").format(
            bared=teller.day("bared_on")
        )
    return f"{_day(teller)} {bared} " + gettext(
        "Bark that the afternoon sun reaches burns and lets borers in: wrap it "
        "loosely or paint it with white water paint, half and half with water, and "
        "leave it on through the summer."
    )


def _numbers(teller: Teller) -> tuple[Told, ...]:
    deficit = teller.reason.number("deficit_kpa")
    dry = (
        ()
        if deficit is None
        else (
            Told(
                localised(
                    gettext("{deficit} kPa").format(deficit=localised(f"{deficit:.1f}"))
                ),
                gettext("the air's thirst"),
            ),
        )
    )
    return (
        *teller.told("maximum_c", "°C", gettext("the hottest expected")),
        *teller.told("alarm_c", "°C", gettext("the alarm")),
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
