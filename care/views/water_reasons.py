"""Why to water, in words."""

from collections.abc import Callable

from django.utils.translation import gettext, gettext_noop, ngettext

from care.views.days import count_days
from care.views.reason_words import Teller, Told
from orchard.languages import localised

LITTLE_L = 0.05
MOMENT = gettext_noop("less than a minute")
LEAST_PERCENT = 5  # learned demand nearer to the usual is not worth a word


def _balance(teller: Teller) -> str:
    spare = teller.reason.number("spare_l")
    usable = teller.amount("readily_available_l", "L")
    daily = teller.amount("litres_per_day", "L")
    if spare is None or spare < LITTLE_L:
        return gettext(
            "Nothing is left of the {usable} it may use before it suffers; it "
            "drinks about {daily} a day."
        ).format(usable=usable, daily=daily)
    return gettext(
        "Of the {usable} it may use before it suffers, {spare} is left; it drinks "
        "about {daily} a day."
    ).format(usable=usable, spare=teller.amount("spare_l", "L"), daily=daily)


def _rain(teller: Teller) -> str:
    if not teller.reason.holds("rain_known"):
        return " " + gettext("The rain of these days is not known.")
    rain = teller.reason.number("rain_last_week_l")
    if rain is None or rain < LITTLE_L:
        return " " + gettext("No rain reached its roots in the last week.")
    return " " + gettext("Rain brought it {rain_last_week} in the last week.").format(
        rain_last_week=teller.amount("rain_last_week_l", "L")
    )


def _rain_to_come(teller: Teller) -> str:
    if teller.reason.day("rain_wait_on") is None:
        return ""
    return " " + gettext(
        "It could do with water today, but about {rain_wait} of rain is likely "
        "{day}: wait for it."
    ).format(
        rain_wait=teller.amount("rain_wait_mm", "mm"),
        day=teller.near_day("rain_wait_on"),
    )


def _unheard(teller: Teller) -> str:
    days = teller.reason.number("unknown_water_days")
    if days is None or days <= 7:  # noqa: PLR2004 (a week)
        return ""
    return " " + gettext(
        "Nobody has logged water for {days}, so feel the soil first."
    ).format(days=count_days(int(days)))


def _shared(teller: Teller) -> str:
    size = teller.reason.number("clump_size")
    if size is None or size <= 1:
        return ""
    others = int(size) - 1
    words = ngettext(
        "It shares its soil with {number} more: this is its share.",
        "It shares its soil with {number} more: this is its share.",
        others,
    )
    return " " + words.format(number=others)


def _learned(teller: Teller) -> str:
    """Say what the soil's answers taught, once it is worth a word."""
    answers = teller.reason.number("demand_answers") or 0
    factor = teller.reason.number("demand_factor") or 1.0
    percent = round(abs(factor - 1) * 100)
    if answers < 1 or percent < LEAST_PERCENT:
        return ""
    words = (
        ngettext(
            "From one answer it drinks some {percent}% more than its crown says.",
            "From {number} answers it drinks some {percent}% more than its crown says.",
            round(answers),
        )
        if factor > 1
        else ngettext(
            "From one answer it drinks some {percent}% less than its crown says.",
            "From {number} answers it drinks some {percent}% less than its crown says.",
            round(answers),
        )
    )
    return " " + words.format(number=f"{answers:.0f}", percent=percent)


def time_words(minutes: float) -> str:
    """Return a time as a person plans it: minutes, quarters of an hour, hours."""
    if minutes < 1:
        return gettext(MOMENT)
    if minutes < 90:  # noqa: PLR2004 (as people say it)
        whole = round(minutes)
        return ngettext("a minute", "{number} minutes", whole).format(number=whole)
    number = localised(f"{round(minutes / 30) / 2:g}")
    return gettext("{number} hours").format(number=number)


def _pouring(teller: Teller) -> str:
    """Say how long the water runs, in how many goes, where the flow was timed."""
    minutes = teller.reason.number("minutes")
    if minutes is None:
        return ""
    by = (
        gettext("your drip line")
        if teller.reason.text("flow") == "drip"
        else gettext("your hose")
    )
    cycles = int(teller.reason.number("cycles") or 1)
    if cycles == 1:
        words = time_words(minutes)
        if minutes < 1:
            return " " + gettext("That is {words} with {by}.").format(
                words=words, by=by
            )
        return " " + gettext("That is about {words} with {by}.").format(
            words=words, by=by
        )
    each = time_words(teller.reason.number("cycle_minutes") or minutes / cycles)
    soak = time_words(teller.reason.number("soak_minutes") or 0)
    days = int(teller.reason.number("spread_days") or 1)
    over = (
        (" " + gettext("over {days}").format(days=count_days(days))) if days > 1 else ""
    )
    return " " + gettext(
        "With {by} that is {cycles} goes of {each}{over}, with {soak} between them "
        "to soak in."
    ).format(by=by, cycles=cycles, each=each, over=over, soak=soak)


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
    words = gettext("Its roots still live in and near the ball it was planted with.")
    return f"{words} {_water(teller)}"


def _check(teller: Teller) -> str:
    days = teller.reason.number("days_since_word") or 0
    depth = teller.amount("finger_depth_mm", "mm")
    return gettext(
        "Nobody has said anything of this young tree's water for {days}. Push a "
        "finger {depth} into the root ball: dry there means water, damp means leave "
        "it."
    ).format(days=count_days(int(days)), depth=depth)


def _later(teller: Teller) -> str:
    daily = teller.amount("litres_per_day", "L")
    return gettext(
        "It drinks about {daily} a day; the day firms up as weather comes in."
    ).format(daily=daily)


def _numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("spare_l", "L", gettext("left before it suffers")),
        *teller.told("readily_available_l", "L", gettext("it may use in all")),
        *teller.told("litres_per_day", "L", gettext("it drinks a day")),
    )


def _check_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("missing_l", "L", gettext("short of full, by the reckoning")),
        *teller.told("store_l", "L", gettext("the root ball holds")),
        *teller.told("litres_per_day", "L", gettext("it drinks a day")),
    )


def _short(teller: Teller) -> str:
    return gettext("{spare} of the {readily_available} it may use is left.").format(
        spare=teller.amount("spare_l", "L"),
        readily_available=teller.amount("readily_available_l", "L"),
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
