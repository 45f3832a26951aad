"""Why to mulch, and why to look at the trunk, in words."""

from collections.abc import Callable

from care.views.reason_words import Teller, Told


def _mulch_thin(teller: Teller) -> str:
    return (
        f"Its mulch has rotted down to about {teller.amount('depth_mm', 'mm')}; below "
        f"{teller.amount('floor_depth_mm', 'mm')} it no longer does its work. "
        f"{_mulch_how(teller)}"
    )


def _mulch_first(teller: Teller) -> str:
    return f"It has no mulch yet. {_mulch_how(teller)}"


def _mulch_how(teller: Teller) -> str:
    return (
        f"Lay {teller.amount('add_mm', 'mm')} over a ring "
        f"{teller.amount('ring_diameter_m', 'm')} across, and leave "
        f"{teller.amount('trunk_gap_mm', 'mm')} bare round the trunk.{_bales(teller)}"
        f"{_schools(teller)}"
    )


def _bales(teller: Teller) -> str:
    bales = teller.reason.number("bales")
    if bales is None:
        return ""
    return f" That is about {bales:.0f} {'bale' if bales == 1 else 'bales'}."


def _schools(teller: Teller) -> str:
    """Return how published advice parts, where it does by much."""
    if not teller.reason.holds("is_citrus"):
        return ""
    return (
        " Advice parts here: the Florida Yards & Neighborhoods workbook has no mulch under "
        "citrus at all, for fear of foot rot; the University of California lays it, off the "
        "trunk. The wide gap is what both can live with."
    )


def _mulch_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("depth_mm", "mm", "deep now, by the reckoning"),
        *teller.told("target_depth_mm", "mm", "wanted"),
        *teller.told("ring_diameter_m", "m", "across the ring"),
    )


def _mulch_ask(teller: Teller) -> str:
    del teller
    return "Nobody has said how deep its mulch is. Push a ruler in and write it down."


def _mulch_look(teller: Teller) -> str:
    gap = teller.amount("limit_gap_mm", "mm")
    seen = teller.reason.day("last_look_on")
    last = f" The last look was on {teller.day('last_look_on')}." if seen else ""
    return (
        f"Mulch against bark rots it: {gap} round the trunk must stay bare; published "
        f"advice runs from {teller.amount('gap_least_mm', 'mm')} to "
        f"{teller.amount('gap_most_mm', 'mm')}.{last}{_schools(teller)}"
    )


def _mulch_near(teller: Teller) -> str:
    return (
        f"Only {teller.amount('found_mm', 'mm')} is bare round the trunk, seen on "
        f"{teller.day('seen_on')}; it should be {teller.amount('limit_mm', 'mm')}. Mulch "
        "against bark rots it."
    )


def _mulch_deep(teller: Teller) -> str:
    return (
        f"The mulch lies {teller.amount('found_mm', 'mm')} deep; more than "
        f"{teller.amount('limit_mm', 'mm')} keeps air from the roots."
    )


def _clear_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("found_mm", "mm", "found"),
        *teller.told("limit_mm", "mm", "the limit"),
    )


SENTENCES: dict[str, Callable[[Teller], str]] = {
    "mulch_thin": _mulch_thin,
    "mulch_first": _mulch_first,
    "mulch_ask_depth": _mulch_ask,
    "mulch_look_at_trunk": _mulch_look,
    "mulch_near_trunk": _mulch_near,
    "mulch_too_deep": _mulch_deep,
}
NUMBERS: dict[str, Callable[[Teller], tuple[Told, ...]]] = {
    "mulch_thin": _mulch_numbers,
    "mulch_first": _mulch_numbers,
    "mulch_near_trunk": _clear_numbers,
    "mulch_too_deep": _clear_numbers,
}
