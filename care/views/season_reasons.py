"""Why to weed, shade, thin and pick, in words."""

from collections.abc import Callable

from care.views.reason_words import Teller, Told

RIPE = {
    "picked_green": (
        "Pears are picked mature but green, when one lifts off as it is tilted to the "
        "level, and ripen indoors."
    ),
    "hangs_soft": "It is ripe when it hangs soft from a bent neck; it ripens on the tree only.",
    "tree_ripe": (
        "It ripens on the tree only: wait for full colour, and taste one before you pick."
    ),
    "ripens_off_tree": "It softens off the tree only: pick one, wait a week, then judge.",
    "ground_colour": (
        "Ripe when the ground colour turns from green to yellow and a fruit comes away "
        "with a lift and a twist; red alone says nothing."
    ),
    "ground_colour_soft": (
        "Ripe when the ground colour has lost its green and the flesh gives a little; red "
        "alone says nothing."
    ),
    "taste_first": "Colour says little: taste one. It keeps on the tree, not off it.",
    "falls": "Ripe when husks split and the first fall; gather them before they mould.",
    "colour_and_taste": "Colour, smell and a taste decide.",
}


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


def _bloom(teller: Teller) -> str:
    day = teller.day("full_bloom_on")
    if teller.reason.holds("bloom_seen"):
        return f"It was in full bloom on {day}."
    return f"Nobody noted its bloom; by the month it may have been near {day}: a first guess."


def _thin_crop(teller: Teller) -> str:
    clusters = {
        1: " and one fruit on a cluster",
        2: " and two fruit on a cluster at most",
    }
    per_cluster = clusters.get(int(teller.reason.number("per_cluster") or 0), "")
    return (
        f"{_bloom(teller)} When the fruit is {teller.amount('fruit_width_mm', 'mm')} "
        f"across, leave {teller.amount('spacing_mm', 'mm')} between them{per_cluster}: "
        "what stays grows larger, limbs do not break, and next year's buds are spared."
    )


def _thin_fresh(teller: Teller) -> str:
    return (
        f"Planted on {teller.day('planted_on')}, it needs its strength for roots and "
        "wood: take off every fruit it has set in its first two years."
    )


def _thin_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("spacing_mm", "mm", "between fruit that stay"),
        *teller.told("spacing_least_mm", "mm", "the least advised"),
        *teller.told("spacing_most_mm", "mm", "the most advised"),
    )


def _ripe(teller: Teller) -> str:
    return RIPE.get(teller.reason.text("sign"), RIPE["colour_and_taste"])


def _harvest(teller: Teller) -> str:
    return (
        f"{_bloom(teller)} Fruit of its kind ripens between "
        f"{teller.day('window_start')} and {teller.day('window_end')}. {_ripe(teller)}"
    )


def _harvest_look(teller: Teller) -> str:
    return f"{_harvest(teller)} Not ripe yet? Put the task off instead of ticking it."


def _harvest_numbers(teller: Teller) -> tuple[Told, ...]:
    days = teller.reason.number("bloom_to_harvest_days")
    usual = () if days is None else (Told(f"{days:.0f} days", "from bloom, usually"),)
    return (
        *usual,
        *teller.told("expected_kg", "kg", "at most: an orchard tree's, by its crown"),
    )


SENTENCES: dict[str, Callable[[Teller], str]] = {
    "weed_young": _weed_young,
    "weed_grass": _weed_grass,
    "heat_pot": _heat_pot,
    "heat_fresh": _heat_fresh,
    "thin_crop": _thin_crop,
    "thin_fresh": _thin_fresh,
    "harvest_from_bloom": _harvest,
    "harvest_by_month": _harvest_look,
}
NUMBERS: dict[str, Callable[[Teller], tuple[Told, ...]]] = {
    "weed_young": _weed_numbers,
    "weed_grass": _weed_numbers,
    "heat_pot": _heat_numbers,
    "heat_fresh": _heat_numbers,
    "thin_crop": _thin_numbers,
    "harvest_from_bloom": _harvest_numbers,
    "harvest_by_month": _harvest_numbers,
}
