"""Why to mulch, and why to look at the trunk, in words."""

from collections.abc import Callable

from django.utils.translation import gettext, ngettext

from care.views.reason_words import Teller, Told


def _mulch_thin(teller: Teller) -> str:
    return (
        gettext(
            "Its mulch has rotted down to about {depth}; below {floor_depth} it no "
            "longer does its work."
        ).format(
            depth=teller.amount("depth_mm", "mm"),
            floor_depth=teller.amount("floor_depth_mm", "mm"),
        )
        + f" {_mulch_how(teller)}"
    )


def _mulch_first(teller: Teller) -> str:
    return gettext("It has no mulch yet.") + f" {_mulch_how(teller)}"


def _mulch_how(teller: Teller) -> str:
    return (
        gettext(
            "Lay {add} over a ring {ring_diameter} across, and leave {trunk_gap} "
            "bare round the trunk."
        ).format(
            add=teller.amount("add_mm", "mm"),
            ring_diameter=teller.amount("ring_diameter_m", "m"),
            trunk_gap=teller.amount("trunk_gap_mm", "mm"),
        )
        + f"{_bales(teller)}{_schools(teller)}"
    )


def _bales(teller: Teller) -> str:
    bales = teller.reason.number("bales")
    if bales is None:
        return ""
    words = ngettext(
        "That is about {number} bale.", "That is about {number} bales.", round(bales)
    )
    return " " + words.format(number=f"{bales:.0f}")


def _schools(teller: Teller) -> str:
    """Return how published advice parts, where it does by much."""
    if not teller.reason.holds("is_citrus"):
        return ""
    return " " + gettext(
        "Advice parts here: the Florida Yards & Neighborhoods workbook has no mulch "
        "under citrus at all, for fear of foot rot; the University of California "
        "lays it, off the trunk. The wide gap is what both can live with."
    )


def _mulch_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("depth_mm", "mm", gettext("deep now, by the reckoning")),
        *teller.told("target_depth_mm", "mm", gettext("wanted")),
        *teller.told("ring_diameter_m", "m", gettext("across the ring")),
    )


def _mulch_ask(teller: Teller) -> str:
    del teller
    return gettext(
        "Nobody has said how deep its mulch is. Push a ruler in and write it down."
    )


def _mulch_look(teller: Teller) -> str:
    gap = teller.amount("limit_gap_mm", "mm")
    seen = teller.reason.day("last_look_on")
    last = (
        (
            " "
            + gettext("The last look was on {last_look}.").format(
                last_look=teller.day("last_look_on")
            )
        )
        if seen
        else ""
    )
    return (
        gettext(
            "Mulch against bark rots it: {gap} round the trunk must stay bare; "
            "published advice runs from {gap_least} to {gap_most}."
        ).format(
            gap=gap,
            gap_least=teller.amount("gap_least_mm", "mm"),
            gap_most=teller.amount("gap_most_mm", "mm"),
        )
        + f"{last}{_schools(teller)}"
    )


def _mulch_near(teller: Teller) -> str:
    return gettext(
        "Only {found} is bare round the trunk, seen on {seen}; it should be "
        "{limit}. Mulch against bark rots it."
    ).format(
        found=teller.amount("found_mm", "mm"),
        seen=teller.day("seen_on"),
        limit=teller.amount("limit_mm", "mm"),
    )


def _mulch_deep(teller: Teller) -> str:
    return gettext(
        "The mulch lies {found} deep; more than {limit} keeps air from the roots."
    ).format(
        found=teller.amount("found_mm", "mm"), limit=teller.amount("limit_mm", "mm")
    )


def _clear_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("found_mm", "mm", gettext("found")),
        *teller.told("limit_mm", "mm", gettext("the limit")),
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
