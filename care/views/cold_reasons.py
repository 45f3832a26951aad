"""Why cold asks for work, in words."""

from collections.abc import Callable

from care.views.cold_words import (
    about_hours,
    hours_words,
    out_words,
    room_words,
    uncover_words,
    weight_words,
)
from care.views.reason_words import Teller, Told, unchecked

SEVERITY = {
    "watch": "A watch: near what it bears, within forecast error.",
    "warning": "A warning: at or below what it bears.",
    "severe": "Severe: far below what it bears.",
}
# As SEVERITY, for buds, whose published temperatures are shares killed.
BUD_SEVERITY = {
    "watch": "A watch: within 1.7 °C (3 °F) of killing a tenth of the buds.",
    "warning": "A warning: it may kill a tenth of the buds or more.",
    "severe": "Severe: it may kill nine of ten buds.",
}


def _source(teller: Teller) -> str:
    """Return who says so: a person, the evening, or a forecast and what was taken off."""
    basis = teller.reason.text("basis")
    if basis == "evening":
        words = (
            " This evening's air and dew point say so, by the clear nights you logged"
        )
        if teller.reason.number("told_c") is None:
            return f"{words}."
        return f"{words}; the forecast was {teller.amount('told_c', '°C')}."
    pocket = teller.reason.number("pocket_c")
    if pocket:
        return (
            f" The forecast says {teller.amount('told_c', '°C')}; on cold nights your "
            "place was colder than the forecast or the station, and that is taken off."
        )
    return ""


KNOWN = {
    "typed": "typed in",
    "reading": "read",
    "evening": "expected",
    "forecast": "forecast",
}


def _minimum(teller: Teller) -> str:
    basis = (
        "evening" if teller.reason.number("pocket_c") else teller.reason.text("basis")
    )
    known = KNOWN.get(basis, "forecast")
    return (
        f"{teller.amount('minimum_c', '°C')} is {known} for the early morning of "
        f"{teller.near_day('cold_on')}"
    )


def _night(teller: Teller) -> str:
    return (
        f"{_minimum(teller)}; it bears {teller.amount('threshold_c', '°C')}, "
        f"and the alarm rings from {teller.amount('alarm_c', '°C')}."
        f"{_source(teller)}"
    )


def _stage(teller: Teller) -> str:
    stage = teller.reason.text("stage")
    if stage == "by_month":
        return " At this time of year it may be in bloom, which bears less."
    if stage:
        return f" At its stage of bud ({stage.replace('_', ' ')}) it bears less."
    return ""


def _duration(teller: Teller) -> str:
    hours = teller.reason.number("hours_below")
    if hours is None or hours <= 0:
        return ""
    return f" It stays that cold for {about_hours(hours)}."


def _severity(teller: Teller) -> str:
    is_bud = teller.reason.text("figure") == "bud_stage"
    words = BUD_SEVERITY if is_bud else SEVERITY
    said = words.get(teller.reason.text("severity"), "")
    return f" {said}" if said else ""


def _softness(teller: Teller) -> str:
    if not teller.reason.number("unhardened_c"):
        return ""
    return (
        " After two warm weeks citrus is not hardened: it bears some 3 °C (5-6 °F) less "
        "cold than in a cool winter."
    )


def _practice(teller: Teller) -> str:
    if teller.reason.number("practice_c") is None:
        return ""
    if teller.reason.text("figure") == "tender_pot":
        return (
            " Its own figure is not known: that one is what growers use for frost-tender "
            "pots, common practice without a source."
        )
    return (
        " Many growers bring frost-tender pots in below "
        f"{teller.amount('practice_c', '°C')}: common practice without a source."
    )


def _cold(teller: Teller) -> str:
    return (
        f"{_night(teller)}{_severity(teller)}{_duration(teller)}{_stage(teller)}"
        f"{_softness(teller)}{_practice(teller)}{unchecked(teller)}"
    )


def _move_in(teller: Teller) -> str:
    reason = teller.reason
    weight = _carried(teller)
    out = out_words(reason, teller.today)
    return f"{_cold(teller)} Bring it {room_words(reason)}.{weight} It is {out}."


def _carried(teller: Teller) -> str:
    weight = weight_words(teller.reason, teller.units)
    return f" {weight[0].upper()}{weight[1:]}." if weight else ""


def _cover(teller: Teller) -> str:
    holds = " A light row cover holds 1 to 3 °C (2-5 °F), a medium one 3 to 4.5 °C (6-8 °F)."
    if teller.reason.holds("beyond_cover"):
        holds += " This night may be too cold for either: cover it all the same."
    off = uncover_words(teller.reason, teller.today)
    return f"{_cold(teller)}{holds} Open the cover {off}."


def _tall(teller: Teller) -> str:
    return f"{_cold(teller)} It is too tall to cover safely: moist soil helps a little."


def _group(teller: Teller) -> str:
    return (
        f"{_night(teller)} It may stay outdoors: stand it close to the other pots, on "
        f"the ground, against a wall that faces the sun.{_carried(teller)}{unchecked(teller)}"
    )


def _out(teller: Teller) -> str:
    return (
        f"The coldest night until {teller.near_day('nights_to')} is "
        f"{teller.amount('minimum_c', '°C')}; it bears "
        f"{teller.amount('threshold_c', '°C')}.{_carried(teller)}{unchecked(teller)}"
    )


def _out_chill(teller: Teller) -> str:
    return f"{_out(teller)} In a heated room it loses the winter rest it needs."


def _pick_ripe(teller: Teller) -> str:
    needed = hours_words(teller.reason.number("hours_needed") or 0.0)
    known = _duration(teller) or " How long it stays that cold is not known."
    return (
        f"{_minimum(teller)}.{_source(teller)} Ripe fruit freezes on the tree at "
        f"{teller.amount('threshold_c', '°C')} for {needed}.{known} "
        "Pick what is ripe before that night; unripe fruit gains nothing by it."
    )


def _ready_soil(teller: Teller) -> str:
    return (
        f"{_night(teller)} Moist bare soil takes up warmth by day and gives it back at "
        "night: water it 15 to 20 cm (6-8 in) deep a day or two ahead, and write that "
        "down as a watering. Leave clay alone that is moist already."
    )


def _uncover(teller: Teller) -> str:
    return (
        f"It was covered {teller.on_day('covered_on')}, and no night past "
        f"{teller.near_day('warm_on')} asks for it. Under a cover the sun cooks leaves: "
        "take it off once it is above freezing, and put pulled-back mulch back."
    )


def _look_at_damage(teller: Teller) -> str:
    return (
        f"It had {teller.amount('minimum_c', '°C')} {teller.on_day('frozen_on')}, and "
        f"its wood bears {teller.amount('threshold_c', '°C')}. Growth starts near "
        f"{teller.day('growth_on')}: only new shoots tell live wood from dead. Do not "
        f"prune, and feed lightly if at all, before {teller.day('no_pruning_until')}."
    )


def _numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("minimum_c", "°C", "the coldest expected"),
        *teller.told("threshold_c", "°C", "it bears"),
        *teller.told("alarm_c", "°C", "the alarm, margins added"),
    )


def _fruit_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("minimum_c", "°C", "the coldest expected"),
        *teller.told("threshold_c", "°C", "freezes ripe fruit"),
    )


def _damage_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("minimum_c", "°C", "it had"),
        *teller.told("threshold_c", "°C", "its wood bears"),
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
