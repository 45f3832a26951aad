"""Why to shade, in words."""

from collections.abc import Callable

from care.views.reason_words import Teller, Told


def _heat_day(teller: Teller) -> str:
    return (
        f"{teller.amount('maximum_c', '°C')} is expected {teller.on_day('hot_on')}; "
        f"the alarm rings from {teller.amount('alarm_c', '°C')}."
    )


def _heat_pot(teller: Teller) -> str:
    return (
        f"{_heat_day(teller)} Roots in a pot heat through from its sunny side: shade "
        "the pot itself, with cloth, a board or other pots, until the spell is over."
    )


def _heat_fresh(teller: Teller) -> str:
    return (
        f"{_heat_day(teller)} Planted within the year, it lives on a small root ball: "
        "feel the soil at sunrise, water it then if it is dry, and shade its west side."
    )


def _heat_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("maximum_c", "°C", "the hottest expected"),
        *teller.told("alarm_c", "°C", "the alarm"),
    )


SENTENCES: dict[str, Callable[[Teller], str]] = {
    "heat_pot": _heat_pot,
    "heat_fresh": _heat_fresh,
}
NUMBERS: dict[str, Callable[[Teller], tuple[Told, ...]]] = {
    "heat_pot": _heat_numbers,
    "heat_fresh": _heat_numbers,
}
