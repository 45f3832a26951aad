"""Why to wash salts out of a pot, in words."""

from collections.abc import Callable

from care.views.reason_words import Teller, Told

HOW = (
    "Pour slowly, in portions, until this much has gone through and out below; that waters "
    "it too. Twice the pot's volume is gardeners' practice; no study was read for it."
)


def _fed(teller: Teller) -> str:
    return (
        f"It was fed on {teller.day('last_feeding_on')}. What its roots leave stays in the "
        f"pot as salt and burns them in time. {HOW}"
    )


def _salty(teller: Teller) -> str:
    del teller
    return (
        "The water of this place is salty, hard or softened, and each watering leaves some "
        f"of it in the pot. {HOW}"
    )


def _numbers(teller: Teller) -> tuple[Told, ...]:
    days = teller.reason.number("between_days")
    between = () if days is None else (Told(f"{days:.0f} days", "between two washes"),)
    return (*teller.told("pot_litres", "L", "in the pot"), *between)


SENTENCES: dict[str, Callable[[Teller], str]] = {
    "flush_fed": _fed,
    "flush_salty": _salty,
}
NUMBERS: dict[str, Callable[[Teller], tuple[Told, ...]]] = {
    "flush_fed": _numbers,
    "flush_salty": _numbers,
}
