"""Why to pot on, to trim roots or to look at them, in words."""

from collections.abc import Callable

from django.utils.translation import gettext

from care.views.reason_words import Teller, Told


def _last(teller: Teller) -> str:
    return " " + gettext("It was last potted on {potted}.").format(
        potted=teller.day("potted_on")
    )


def _sizes(teller: Teller) -> str:
    small = (
        (" " + gettext("Its kind sulks in a pot much too large: small steps."))
        if teller.reason.holds("small_steps")
        else ""
    )
    return (
        " "
        + gettext(
            "The careful rule, 5 cm (2 in) wider, gives {careful}; the bold one, "
            "three times the volume, {bold}."
        ).format(
            careful=teller.amount("careful_l", "L"), bold=teller.amount("bold_l", "L")
        )
        + f"{small}"
    )


def _weight(teller: Teller) -> str:
    return " " + gettext("Soaked it will weigh about {wet_weight}.").format(
        wet_weight=teller.amount("wet_weight_kg", "kg")
    )


def _cramped(teller: Teller) -> str:
    return (
        gettext("On a hot day its crown drinks all that {pot} readily give.").format(
            pot=teller.amount("pot_l", "L")
        )
        + f"{_last(teller)}{_sizes(teller)}{_weight(teller)}"
    )


def _growing(teller: Teller) -> str:
    return (
        gettext(
            "It stands in {pot}; grown, its kind lives in {grown_pot} or more."
        ).format(
            pot=teller.amount("pot_l", "L"), grown_pot=teller.amount("grown_pot_l", "L")
        )
        + f"{_last(teller)}{_sizes(teller)}{_weight(teller)}"
    )


def _trim(teller: Teller) -> str:
    return (
        gettext(
            "Fresh mix in the same pot: {roots_off} to {roots_off_most} of circling "
            "roots off, and the top back by {top_off} to {top_off_most}, in late "
            "winter before it grows."
        ).format(
            roots_off=teller.amount("roots_off_mm", "mm"),
            roots_off_most=teller.amount("roots_off_most_mm", "mm"),
            top_off=teller.amount("top_off_share", "share"),
            top_off_most=teller.amount("top_off_most_share", "share"),
        )
        + f"{_last(teller)}{_weight(teller)}"
    )


def _roots(teller: Teller) -> str:
    low = teller.reason.number("years_between") or 0
    high = teller.reason.number("years_between_most") or 0
    return (
        gettext(
            "Every {low} to {high} years mix has rotted down and roots have filled "
            "the pot."
        ).format(low=f"{low:.0f}", high=f"{high:.0f}")
        + f" {_trim(teller)}"
    )


def _full(teller: Teller) -> str:
    return (
        gettext(
            "On a hot day its crown drinks all that the pot readily gives, and a "
            "larger pot is more than people can move."
        )
        + f" {_trim(teller)}"
    )


def _ask(teller: Teller) -> str:
    del teller
    return gettext(
        "Nobody knows when it was last potted. An unknown past is no reason to cut "
        "roots: look first."
    )


def _numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("pot_l", "L", gettext("the pot now")),
        *teller.told("grown_pot_l", "L", gettext("the least for its kind, grown")),
        *teller.told("wet_weight_kg", "kg", gettext("when soaked, without the plant")),
    )


SENTENCES: dict[str, Callable[[Teller], str]] = {
    "pot_cramped": _cramped,
    "pot_growing": _growing,
    "pot_roots": _roots,
    "pot_full": _full,
    "pot_ask_roots": _ask,
}
NUMBERS: dict[str, Callable[[Teller], tuple[Told, ...]]] = dict.fromkeys(
    ("pot_cramped", "pot_growing", "pot_roots", "pot_full"), _numbers
)
