"""Why to weed a ring, cut its edge and guard the trunk, in words."""

from collections.abc import Callable

from care.views.reason_words import Teller, Told


def _weed_how(teller: Teller) -> str:
    last = ""
    if teller.reason.day("last_on"):
        last = f" The ring was last seen to on {teller.day('last_on')}."
    return (
        f"Pull or shallowly hoe a ring {teller.amount('ring_diameter_m', 'm')} "
        f"across.{last}"
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


def _edge(teller: Teller) -> str:
    seen = teller.reason.day("last_on")
    last = f" It was last cut on {teller.day('last_on')}." if seen else ""
    return (
        "Grass creeps back into the ring from its edge. Cut it clean with a spade, a hand "
        f"deep at most, {teller.amount('ring_diameter_m', 'm')} across.{last}"
    )


def _guard_fit(teller: Teller) -> str:
    del teller
    return (
        "Trimmers and mowers kill more young trees than frost does, and animals gnaw bark "
        "in winter: fit a guard of mesh or a split tube, a hand wide of the bark."
    )


def _guard_look(teller: Teller) -> str:
    del teller
    return (
        "A guard that binds strangles the tree, and slugs, ants and borers hide behind a "
        "tight one: loosen it, clear what has gathered, and take it off once bark is rough."
    )


SENTENCES: dict[str, Callable[[Teller], str]] = {
    "weed_young": _weed_young,
    "weed_grass": _weed_grass,
    "weed_edge": _edge,
    "weed_guard_fit": _guard_fit,
    "weed_guard_look": _guard_look,
}
NUMBERS: dict[str, Callable[[Teller], tuple[Told, ...]]] = {
    "weed_young": _weed_numbers,
    "weed_grass": _weed_numbers,
    "weed_edge": _weed_numbers,
}
