"""Why cold asks for work, in words."""

from collections.abc import Callable

from django.utils.translation import gettext, gettext_noop, pgettext_lazy

from care.views.cold_words import (
    about_hours,
    hours_words,
    out_words,
    room_words,
    uncover_words,
    weight_words,
)
from care.views.reason_words import Teller, Told, unchecked
from care.views.stage_words import table_words

SEVERITY = {
    "watch": gettext_noop("A watch: near what it bears, within forecast error."),
    "warning": gettext_noop("A warning: at or below what it bears."),
    "severe": gettext_noop("Severe: far below what it bears."),
}
# As SEVERITY, for buds, whose published temperatures are shares killed.
BUD_SEVERITY = {
    "watch": gettext_noop(
        "A watch: within 1.7 °C (3 °F) of killing a tenth of the buds."
    ),
    "warning": gettext_noop("A warning: it may kill a tenth of the buds or more."),
    "severe": gettext_noop("Severe: it may kill nine of ten buds."),
}


def _source(teller: Teller) -> str:
    """Return who says so: a person, the evening, or a forecast and what was taken off."""
    basis = teller.reason.text("basis")
    if basis == "evening":
        if teller.reason.number("told_c") is None:
            return " " + gettext(
                "This evening's air and dew point say so, by the clear nights you "
                "logged."
            )
        return " " + gettext(
            "This evening's air and dew point say so, by the clear nights you "
            "logged; the forecast was {told}."
        ).format(told=teller.amount("told_c", "°C"))
    pocket = teller.reason.number("pocket_c")
    if pocket:
        return " " + gettext(
            "The forecast says {told}; on cold nights your place was colder than "
            "the forecast or the station, and that is taken off."
        ).format(told=teller.amount("told_c", "°C"))
    return ""


KNOWN = {
    "typed": pgettext_lazy("of a minimum", "typed in"),
    "reading": pgettext_lazy("of a minimum", "read"),
    "evening": pgettext_lazy("of a minimum", "expected"),
    "forecast": pgettext_lazy("of a minimum", "forecast"),
}


def _minimum(teller: Teller) -> str:
    basis = (
        "evening" if teller.reason.number("pocket_c") else teller.reason.text("basis")
    )
    known = KNOWN.get(basis, KNOWN["forecast"])
    return gettext("{minimum} is {known} for the early morning of {cold}").format(
        minimum=teller.amount("minimum_c", "°C"),
        known=known,
        cold=teller.near_day("cold_on"),
    )


def _night(teller: Teller) -> str:
    return gettext(
        "{minimum}; it bears {threshold}, and the alarm rings from {alarm}."
    ).format(
        minimum=_minimum(teller),
        threshold=teller.amount("threshold_c", "°C"),
        alarm=teller.amount("alarm_c", "°C"),
    ) + _source(teller)


def _stage(teller: Teller) -> str:
    stage = teller.reason.text("stage")
    if stage == "by_month":
        return " " + gettext(
            "At this time of year it may be in bloom, which bears less."
        )
    if stage:
        return " " + gettext("At its stage of bud ({stage}) it bears less.").format(
            stage=table_words(stage)
        )
    return ""


def _duration(teller: Teller) -> str:
    hours = teller.reason.number("hours_below")
    if hours is None or hours <= 0:
        return ""
    return " " + gettext("It stays that cold for {hours}.").format(
        hours=about_hours(hours)
    )


def _severity(teller: Teller) -> str:
    is_bud = teller.reason.text("figure") == "bud_stage"
    words = BUD_SEVERITY if is_bud else SEVERITY
    said = gettext(words.get(teller.reason.text("severity"), ""))
    return f" {said}" if said else ""


def _softness(teller: Teller) -> str:
    if not teller.reason.number("unhardened_c"):
        return ""
    return " " + gettext(
        "After two warm weeks citrus is not hardened: it bears some 3 °C (5-6 °F) "
        "less cold than in a cool winter."
    )


def _practice(teller: Teller) -> str:
    if teller.reason.number("practice_c") is None:
        return ""
    if teller.reason.text("figure") == "tender_pot":
        return " " + gettext(
            "Its own figure is not known: that one is what growers use for "
            "frost-tender pots, common practice without a source."
        )
    return " " + gettext(
        "Many growers bring frost-tender pots in below {practice}: common practice "
        "without a source."
    ).format(practice=teller.amount("practice_c", "°C"))


def _cold(teller: Teller) -> str:
    return (
        f"{_night(teller)}{_severity(teller)}{_duration(teller)}{_stage(teller)}"
        f"{_softness(teller)}{_practice(teller)}{unchecked(teller)}"
    )


def _move_in(teller: Teller) -> str:
    reason = teller.reason
    weight = _carried(teller)
    out = out_words(reason, teller.today)
    return f"{_cold(teller)} " + gettext(
        "Bring it {room}.{weight} It is {out}."
    ).format(room=room_words(reason), weight=weight, out=out)


def _carried(teller: Teller) -> str:
    weight = weight_words(teller.reason, teller.units)
    return f" {weight[0].upper()}{weight[1:]}." if weight else ""


def _cover(teller: Teller) -> str:
    holds = " " + gettext(
        "A light row cover holds 1 to 3 °C (2-5 °F), a medium one 3 to 4.5 °C (6-8 °F)."
    )
    if teller.reason.holds("beyond_cover"):
        holds += " " + gettext(
            "This night may be too cold for either: cover it all the same."
        )
    off = uncover_words(teller.reason, teller.today)
    return f"{_cold(teller)}{holds} " + gettext("Open the cover {off}.").format(off=off)


def _tall(teller: Teller) -> str:
    return f"{_cold(teller)} " + gettext(
        "It is too tall to cover safely: moist soil helps a little."
    )


def _group(teller: Teller) -> str:
    return (
        f"{_night(teller)} "
        + gettext(
            "It may stay outdoors: stand it close to the other pots, on the ground, "
            "against a wall that faces the sun."
        )
        + f"{_carried(teller)}{unchecked(teller)}"
    )


def _out(teller: Teller) -> str:
    return (
        gettext(
            "The coldest night until {nights_to} is {minimum}; it bears {threshold}."
        ).format(
            nights_to=teller.near_day("nights_to"),
            minimum=teller.amount("minimum_c", "°C"),
            threshold=teller.amount("threshold_c", "°C"),
        )
        + f"{_carried(teller)}{unchecked(teller)}"
    )


def _out_chill(teller: Teller) -> str:
    return f"{_out(teller)} " + gettext(
        "In a heated room it loses the winter rest it needs."
    )


def _pick_ripe(teller: Teller) -> str:
    needed = hours_words(teller.reason.number("hours_needed") or 0.0)
    known = _duration(teller) or (
        " " + gettext("How long it stays that cold is not known.")
    )
    return gettext(
        "{minimum}.{source} Ripe fruit freezes on the tree at {threshold} for "
        "{needed}.{known} Pick what is ripe before that night; unripe fruit gains "
        "nothing by it."
    ).format(
        minimum=_minimum(teller),
        source=_source(teller),
        threshold=teller.amount("threshold_c", "°C"),
        needed=needed,
        known=known,
    )


def _ready_soil(teller: Teller) -> str:
    return f"{_night(teller)} " + gettext(
        "Moist bare soil takes up warmth by day and gives it back at night: water "
        "it 15 to 20 cm (6-8 in) deep a day or two ahead, and write that down as a "
        "watering. Leave clay alone that is moist already."
    )


def _uncover(teller: Teller) -> str:
    return gettext(
        "It was covered {covered}, and no night past {warm} asks for it. Under a "
        "cover the sun cooks leaves: take it off once it is above freezing, and put "
        "pulled-back mulch back."
    ).format(covered=teller.on_day("covered_on"), warm=teller.near_day("warm_on"))


def _look_at_damage(teller: Teller) -> str:
    return gettext(
        "It had {minimum} {frozen}, and its wood bears {threshold}. Growth starts "
        "near {growth}: only new shoots tell live wood from dead. Do not prune, and "
        "feed lightly if at all, before {no_pruning_until}."
    ).format(
        minimum=teller.amount("minimum_c", "°C"),
        frozen=teller.on_day("frozen_on"),
        threshold=teller.amount("threshold_c", "°C"),
        growth=teller.day("growth_on"),
        no_pruning_until=teller.day("no_pruning_until"),
    )


def _numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("minimum_c", "°C", gettext("the coldest expected")),
        *teller.told("threshold_c", "°C", gettext("it bears")),
        *teller.told("alarm_c", "°C", gettext("the alarm, margins added")),
    )


def _fruit_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("minimum_c", "°C", gettext("the coldest expected")),
        *teller.told("threshold_c", "°C", gettext("freezes ripe fruit")),
    )


def _damage_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("minimum_c", "°C", gettext("it had")),
        *teller.told("threshold_c", "°C", gettext("its wood bears")),
    )


SENTENCES: dict[str, Callable[[Teller], str]] = {
    "cold_move_in": _move_in,
    "cold_cover": _cover,
    "cold_too_tall_to_cover": _tall,
    "cold_group": _group,
    "cold_move_out": _out,
    "cold_move_out_for_chill": _out_chill,
    "freeze_pick_ripe": _pick_ripe,
    "freeze_ready_soil": _ready_soil,
    "freeze_uncover": _uncover,
    "freeze_look_at_damage": _look_at_damage,
}
NUMBERS: dict[str, Callable[[Teller], tuple[Told, ...]]] = {
    "cold_move_in": _numbers,
    "cold_cover": _numbers,
    "cold_too_tall_to_cover": _numbers,
    "cold_group": _numbers,
    "cold_move_out": _numbers,
    "cold_move_out_for_chill": _numbers,
    "freeze_pick_ripe": _fruit_numbers,
    "freeze_ready_soil": _numbers,
    "freeze_look_at_damage": _damage_numbers,
}
