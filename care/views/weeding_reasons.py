"""Why to weed a ring, cut its edge and guard the trunk, in words."""

from collections.abc import Callable

from django.utils.translation import gettext

from care.views.days import count_days
from care.views.reason_words import Teller, Told


def _weed_how(teller: Teller) -> str:
    last = ""
    if teller.reason.day("last_on"):
        last = " " + gettext("The ring was last seen to on {last}.").format(
            last=teller.day("last_on")
        )
    return (
        gettext("Pull or shallowly hoe a ring {ring_diameter} across.").format(
            ring_diameter=teller.amount("ring_diameter_m", "m")
        )
        + f"{last}"
    )


def _weed_young(teller: Teller) -> str:
    return (
        gettext(
            "Grass and weeds take a young tree's water and feed before its own "
            "roots reach them."
        )
        + f" {_weed_how(teller)}"
    )


def _weed_grass(teller: Teller) -> str:
    return (
        gettext("It stands in grass, which drinks from the same soil.")
        + f" {_weed_how(teller)}"
    )


def _weed_numbers(teller: Teller) -> tuple[Told, ...]:
    days = teller.reason.number("between_days")
    between = (
        ()
        if days is None
        else (Told(count_days(round(days)), gettext("between weedings")),)
    )
    return (*between, *teller.told("ring_diameter_m", "m", gettext("across the ring")))


def _edge(teller: Teller) -> str:
    seen = teller.reason.day("last_on")
    last = (
        (" " + gettext("It was last cut on {last}.").format(last=teller.day("last_on")))
        if seen
        else ""
    )
    return (
        gettext(
            "Grass creeps back into the ring from its edge. Cut it clean with a "
            "spade, a hand deep at most, {ring_diameter} across."
        ).format(ring_diameter=teller.amount("ring_diameter_m", "m"))
        + f"{last}"
    )


def _guard_fit(teller: Teller) -> str:
    del teller
    return gettext(
        "Trimmers and mowers kill more young trees than frost does, and animals "
        "gnaw bark in winter: fit a guard of mesh or a split tube, a hand wide of "
        "the bark."
    )


def _guard_look(teller: Teller) -> str:
    del teller
    return gettext(
        "A guard that binds strangles the tree, and slugs, ants and borers hide "
        "behind a tight one: loosen it, clear what has gathered, and take it off "
        "once bark is rough."
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
