"""Why to wash salts out of a pot, in words."""

from collections.abc import Callable

from django.utils.translation import gettext, gettext_noop

from care.views.days import count_days
from care.views.reason_words import Teller, Told

HOW = gettext_noop(
    "Pour slowly, in portions, until this much has gone through and out below; that waters "
    "it too. Twice the pot's volume is gardeners' practice; no study was read for it."
)


def _fed(teller: Teller) -> str:
    return (
        gettext(
            "It was fed on {last_feeding}. What its roots leave stays in the pot as "
            "salt and burns them in time."
        ).format(last_feeding=teller.day("last_feeding_on"))
        + f" {gettext(HOW)}"
    )


def _salty(teller: Teller) -> str:
    del teller
    return (
        gettext(
            "The water of this place is salty, hard or softened, and each watering "
            "leaves some of it in the pot."
        )
        + f" {gettext(HOW)}"
    )


def _numbers(teller: Teller) -> tuple[Told, ...]:
    days = teller.reason.number("between_days")
    between = (
        ()
        if days is None
        else (Told(count_days(round(days)), gettext("between two washes")),)
    )
    return (*teller.told("pot_litres", "L", gettext("in the pot")), *between)


SENTENCES: dict[str, Callable[[Teller], str]] = {
    "flush_fed": _fed,
    "flush_salty": _salty,
}
NUMBERS: dict[str, Callable[[Teller], tuple[Told, ...]]] = {
    "flush_fed": _numbers,
    "flush_salty": _numbers,
}
