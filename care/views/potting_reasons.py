"""Why to pot on, to trim roots or to look at them, in words."""

from collections.abc import Callable

from care.views.reason_words import Teller, Told


def _last(teller: Teller) -> str:
    return f" It was last potted on {teller.day('potted_on')}."


def _sizes(teller: Teller) -> str:
    small = (
        " Its kind sulks in a pot much too large: small steps."
        if teller.reason.holds("small_steps")
        else ""
    )
    return (
        f" The careful rule, 5 cm (2 in) wider, gives {teller.amount('careful_l', 'L')}; the bold "
        f"one, three times the volume, {teller.amount('bold_l', 'L')}.{small}"
    )


def _weight(teller: Teller) -> str:
    return f" Soaked it will weigh about {teller.amount('wet_weight_kg', 'kg')}."


def _cramped(teller: Teller) -> str:
    return (
        f"On a hot day its crown drinks all that {teller.amount('pot_l', 'L')} readily "
        f"give.{_last(teller)}{_sizes(teller)}{_weight(teller)}"
    )


def _growing(teller: Teller) -> str:
    return (
        f"It stands in {teller.amount('pot_l', 'L')}; grown, its kind lives in "
        f"{teller.amount('grown_pot_l', 'L')} or more.{_last(teller)}{_sizes(teller)}"
        f"{_weight(teller)}"
    )


def _trim(teller: Teller) -> str:
    return (
        f"Fresh mix in the same pot: {teller.amount('roots_off_mm', 'mm')} to "
        f"{teller.amount('roots_off_most_mm', 'mm')} of circling roots off, and the top "
        f"back by {teller.amount('top_off_share', 'share')} to "
        f"{teller.amount('top_off_most_share', 'share')}, in late winter before it grows."
        f"{_last(teller)}{_weight(teller)}"
    )


def _roots(teller: Teller) -> str:
    low = teller.reason.number("years_between") or 0
    high = teller.reason.number("years_between_most") or 0
    return (
        f"Every {low:.0f} to {high:.0f} years mix has rotted down and roots have filled "
        f"the pot. {_trim(teller)}"
    )


def _full(teller: Teller) -> str:
    return (
        "On a hot day its crown drinks all that the pot readily gives, and a larger pot "
        f"is more than people can move. {_trim(teller)}"
    )


def _ask(teller: Teller) -> str:
    del teller
    return (
        "Nobody knows when it was last potted. An unknown past is no reason to cut roots: "
        "look first."
    )


def _numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("pot_l", "L", "the pot now"),
        *teller.told("grown_pot_l", "L", "the least for its kind, grown"),
        *teller.told("wet_weight_kg", "kg", "when soaked, without the plant"),
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
