"""Why to water, in words."""

from collections.abc import Callable

from care.views.days import count_days
from care.views.reason_words import Teller, Told

LITTLE_L = 0.05
MOMENT = "less than a minute"
LEAST_PERCENT = 5  # learned demand nearer to the usual is not worth a word


def _balance(teller: Teller) -> str:
    spare = teller.reason.number("spare_l")
    usable = teller.amount("readily_available_l", "L")
    daily = teller.amount("litres_per_day", "L")
    if spare is None or spare < LITTLE_L:
        left = f"Nothing is left of the {usable} it may use before it suffers"
    else:
        left = (
            f"Of the {usable} it may use before it suffers, "
            f"{teller.amount('spare_l', 'L')} is left"
        )
    return f"{left}; it drinks about {daily} a day."


def _rain(teller: Teller) -> str:
    if not teller.reason.holds("rain_known"):
        return " The rain of these days is not known."
    rain = teller.reason.number("rain_last_week_l")
    if rain is None or rain < LITTLE_L:
        return " No rain reached its roots in the last week."
    return (
        f" Rain brought it {teller.amount('rain_last_week_l', 'L')} in the last week."
    )


def _rain_to_come(teller: Teller) -> str:
    if teller.reason.day("rain_wait_on") is None:
        return ""
    return (
        f" It could do with water today, but about {teller.amount('rain_wait_mm', 'mm')} "
        f"of rain is likely {teller.near_day('rain_wait_on')}: wait for it."
    )


def _unheard(teller: Teller) -> str:
    days = teller.reason.number("unknown_water_days")
    if days is None or days <= 7:  # noqa: PLR2004 (a week)
        return ""
    return (
        f" Nobody has logged water for {count_days(int(days))}, so feel the soil first."
    )


def _shared(teller: Teller) -> str:
    size = teller.reason.number("clump_size")
    if size is None or size <= 1:
        return ""
    return f" It shares its soil with {int(size) - 1} more: this is its share."


def _learned(teller: Teller) -> str:
    """Say what the soil's answers taught, once it is worth a word."""
    answers = teller.reason.number("demand_answers") or 0
    factor = teller.reason.number("demand_factor") or 1.0
    percent = round(abs(factor - 1) * 100)
    if answers < 1 or percent < LEAST_PERCENT:
        return ""
    more = "more" if factor > 1 else "less"
    return (
        f" From {_count(answers)} it drinks some {percent}% {more} than its crown says."
    )


def _count(answers: float) -> str:
    return "one answer" if answers == 1 else f"{answers:.0f} answers"


def time_words(minutes: float) -> str:
    """Return a time as a person plans it: minutes, quarters of an hour, hours."""
    if minutes < 1:
        return MOMENT
    if minutes < 90:  # noqa: PLR2004 (as people say it)
        whole = round(minutes)
        return "a minute" if whole == 1 else f"{whole} minutes"
    return f"{round(minutes / 30) / 2:g} hours"


def _pouring(teller: Teller) -> str:
    """Say how long the water runs, in how many goes, where the flow was timed."""
    minutes = teller.reason.number("minutes")
    if minutes is None:
        return ""
    by = "your drip line" if teller.reason.text("flow") == "drip" else "your hose"
    cycles = int(teller.reason.number("cycles") or 1)
    if cycles == 1:
        words = time_words(minutes)
        return f" That is {words if words == MOMENT else f'about {words}'} with {by}."
    each = time_words(teller.reason.number("cycle_minutes") or minutes / cycles)
    soak = time_words(teller.reason.number("soak_minutes") or 0)
    days = int(teller.reason.number("spread_days") or 1)
    over = f" over {count_days(days)}" if days > 1 else ""
    return (
        f" With {by} that is {cycles} goes of {each}{over}, "
        f"with {soak} between them to soak in."
    )


def _water(teller: Teller) -> str:
    return (
        _balance(teller)
        + _rain(teller)
        + _rain_to_come(teller)
        + _pouring(teller)
        + _learned(teller)
        + _shared(teller)
        + _unheard(teller)
    )


def _new(teller: Teller) -> str:
    return "Its roots still live in and near the ball it was planted with. " + _water(
        teller
    )


def _check(teller: Teller) -> str:
    days = teller.reason.number("days_since_word") or 0
    depth = teller.amount("finger_depth_mm", "mm")
    return (
        f"Nobody has said anything of this young tree's water for "
        f"{count_days(int(days))}. Push a finger {depth} into the root ball: dry there "
        "means water, damp means leave it."
    )


def _later(teller: Teller) -> str:
    daily = teller.amount("litres_per_day", "L")
    return f"It drinks about {daily} a day; the day firms up as weather comes in."


def _numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("spare_l", "L", "left before it suffers"),
        *teller.told("readily_available_l", "L", "it may use in all"),
        *teller.told("litres_per_day", "L", "it drinks a day"),
    )


def _check_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("missing_l", "L", "short of full, by the reckoning"),
        *teller.told("store_l", "L", "the root ball holds"),
        *teller.told("litres_per_day", "L", "it drinks a day"),
    )


def _short(teller: Teller) -> str:
    return (
        f"{teller.amount('spare_l', 'L')} of the "
        f"{teller.amount('readily_available_l', 'L')} it may use is left."
    )


SENTENCES: dict[str, Callable[[Teller], str]] = {
    "water_pot": _water,
    "water_established": _water,
    "water_new": _new,
    "water_later": _later,
    "check_new": _check,
}
NUMBERS: dict[str, Callable[[Teller], tuple[Told, ...]]] = {
    "water_pot": _numbers,
    "water_established": _numbers,
    "water_new": _numbers,
    "check_new": _check_numbers,
}
SHORT: dict[str, Callable[[Teller], str]] = {
    "water_pot": _short,
    "water_established": _short,
    "water_new": _short,
}
