"""Why to weed and shade, in words."""

from collections.abc import Callable

from care.views.reason_words import Teller, Told


def _weed_how(teller: Teller) -> str:
    last = ""
    if teller.reason.day("last_on"):
        last = f" The ring was last seen to on {teller.day('last_on')}."
    return (
        f"Pull or shallowly hoe a ring {teller.amount('ring_diameter_m', 'm')} across, "
        f"and cut its edge clean.{last}"
    )


def _weed_young(teller: Teller) -> str:
    return (
        "Grass and weeds take a young tree's water and feed before its own roots "
        f"reach them. {_weed_how(teller)}"
    )


def _weed_grass(teller: Teller) -> str:
    return f"It stands in grass, which drinks from the same soil. {_weed_how(teller)}"


def _weed_numbers(teller: Teller) -> tuple[Told, ...]:
    days = teller.reason.number("between_days")
    between = () if days is None else (Told(f"{days:.0f} days", "between weedings"),)
    return (*between, *teller.told("ring_diameter_m", "m", "across the ring"))


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
    "weed_young": _weed_young,
    "weed_grass": _weed_grass,
    "heat_pot": _heat_pot,
    "heat_fresh": _heat_fresh,
}
NUMBERS: dict[str, Callable[[Teller], tuple[Told, ...]]] = {
    "weed_young": _weed_numbers,
    "weed_grass": _weed_numbers,
    "heat_pot": _heat_numbers,
    "heat_fresh": _heat_numbers,
}
