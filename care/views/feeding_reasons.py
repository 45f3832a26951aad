"""Why to feed, why to ask first, and why to leave a tree unfed, in words."""

from collections.abc import Callable

from django.utils.translation import gettext, gettext_noop, ngettext

from care.views.reason_words import Teller, Told, unchecked
from orchard.units import UnitSystem

STOPS = {
    "frost_free": gettext_noop("growth slows then"),
    "frost_unknown": gettext_noop(
        "later growth may not harden before frost; the usual first frost is not entered"
    ),
    "short_season": gettext_noop("later growth would not harden before frost"),
    "first_frost": gettext_noop("later growth would not harden before the first frost"),
    "species": gettext_noop("the last day published for its kind"),
}
QUARTERS = {0.25: "¼", 0.5: "½", 0.75: "¾"}
HINTS = {
    "maybe_dry": gettext_noop("it has been dry lately"),
    "maybe_wet": gettext_noop("its soil drains slowly or stands wet"),
    "maybe_planting": gettext_noop("it was planted not long ago"),
}


def measure_words(teller: Teller, what: str) -> str:
    """Return an amount of dry product as a person scoops it, or nothing."""
    count, unit = teller.reason.number("measure_count"), teller.reason.text("measure")
    volume_ml = teller.reason.number("volume_ml")
    if count is None or volume_ml is None or not unit:
        return ""
    basis = (
        ""
        if teller.reason.holds("is_density_weighed")
        else (" " + gettext("by a rule of thumb"))
    )
    if teller.units is UnitSystem.METRIC:
        return " " + gettext(
            "{what} fills about {volume} mL{basis}; a scale is better."
        ).format(what=what, volume=f"{volume_ml:.0f}", basis=basis)
    return " " + gettext(
        "{what} fills about {measures}{basis}; a scale is better."
    ).format(what=what, measures=_measures(count, unit), basis=basis)


def _measures(count: float, unit: str) -> str:
    number = _count(count)
    many = 1 if count <= 1 else 2
    if unit == "cup":
        return ngettext("{number} cup", "{number} cups", many).format(number=number)
    if unit == "tablespoon":
        return ngettext("{number} tablespoon", "{number} tablespoons", many).format(
            number=number
        )
    return ngettext("{number} teaspoon", "{number} teaspoons", many).format(
        number=number
    )


def _count(count: float) -> str:
    whole, part = int(count), QUARTERS.get(count % 1, "")
    return f"{whole}{part}" if whole or not part else part


def _feed(teller: Teller) -> str:
    split, splits = teller.reason.number("split"), teller.reason.number("splits")
    part = (
        gettext("Feeding {split} of {splits} this season").format(
            split=f"{split:.0f}", splits=f"{splits:.0f}"
        )
        if split is not None and splits is not None and splits > 1
        else gettext("This season's feeding")
    )
    product = teller.reason.text("product") or gettext("the product")
    return (
        gettext(
            "{part}: {nitrogen} of nitrogen as {product}, for the crown it holds now."
        ).format(part=part, nitrogen=teller.amount("nitrogen_g", "g"), product=product)
        + measure_words(teller, gettext("The product"))
        + f"{_less(teller)}{_last(teller)}{unchecked(teller)}"
    )


def _last(teller: Teller) -> str:
    if not teller.reason.day("stop_on"):
        return ""
    why = gettext(STOPS.get(teller.reason.text("stop_basis"), ""))
    if not why:
        return " " + gettext("Not after {stop}.").format(stop=teller.day("stop_on"))
    return " " + gettext("Not after {stop}: {why}.").format(
        stop=teller.day("stop_on"), why=why
    )


def _less(teller: Teller) -> str:
    """Return what holds the amount down: growth, a soil test, a lost crop."""
    words = ""
    if teller.reason.text("growth") == "in_band":
        words += " " + gettext(
            "Half of it, because it grew {shoot} last year, as it should."
        ).format(shoot=teller.amount("shoot_mm", "mm"))
    if teller.reason.text("soil_test_nitrogen") == "half":
        words += " " + gettext("Half of it by the soil test of {soil_test}.").format(
            soil_test=teller.day("soil_test_on")
        )
    if teller.reason.holds("lost_crop"):
        words += " " + gettext("The crop is lost, so nothing follows this season.")
    return words


def _feed_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("nitrogen_g", "g", gettext("nitrogen this time")),
        *teller.told("season_nitrogen_g", "g", gettext("nitrogen in the whole season")),
        *_yardstick(teller),
        *teller.told("given_nitrogen_g", "g", gettext("nitrogen given so far")),
    )


def _yardstick(teller: Teller) -> tuple[Told, ...]:
    """Return the published range as one number, where there is one."""
    low = teller.reason.number("yardstick_low_g")
    high = teller.reason.number("yardstick_high_g")
    if low is None or high is None:
        return ()
    words = teller.amount("yardstick_low_g", "g")
    if high > low:
        words = gettext("{words} to {yardstick_high}").format(
            words=words, yardstick_high=teller.amount("yardstick_high_g", "g")
        )
    return (Told(words, gettext("a year, by a published table for its age or trunk")),)


def _ask_past(teller: Teller) -> str:
    return gettext(
        "It was entered on {entered}, in mid-season, and nobody said whether it had "
        "been fed before. An unknown past is no reason for a full dose."
    ).format(entered=teller.day("entered_on"))


def _ask_pot_size(teller: Teller) -> str:
    del teller
    return gettext("The dose for a pot depends on its volume, and that is not entered.")


def _ask_crown(teller: Teller) -> str:
    del teller
    return gettext(
        "Neither its age nor the width of its crown is known, and the dose depends "
        "on one of them."
    )


def _shoots(teller: Teller) -> str:
    return gettext(
        "Its new shoots grew {shoot}; its kind should grow {band_low} to {band_high}"
    ).format(
        shoot=teller.amount("shoot_mm", "mm"),
        band_low=teller.amount("band_low_mm", "mm"),
        band_high=teller.amount("band_high_mm", "mm"),
    )


def _ask_short_shoots(teller: Teller) -> str:
    hints = [
        gettext(words) for name, words in HINTS.items() if teller.reason.holds(name)
    ]
    hint = (
        (" " + gettext("The records say: {items}.").format(items="; ".join(hints)))
        if hints
        else ""
    )
    return gettext(
        "{shoots}. Drought, wet roots or a slow start after planting hold shoots "
        "back too, and feed cures none of them.{hint} Look first: tick this if you "
        "find no such cause, and the feeding follows; else leave it out and say so."
    ).format(shoots=_shoots(teller), hint=hint)


def _ask_first_growth(teller: Teller) -> str:
    return gettext(
        "Planted on {planted}, it is fed only once its shoots have grown {needed}: "
        "measure them and write it down."
    ).format(planted=teller.day("planted_on"), needed=teller.amount("needed_mm", "mm"))


def _near_water(teller: Teller) -> str:
    return gettext(
        "It stands {water_distance} from water, and the local rule forbids feeding "
        "within {water_setback}."
    ).format(
        water_distance=teller.amount("water_distance_m", "m"),
        water_setback=teller.amount("water_setback_m", "m"),
    )


def _blackout(teller: Teller) -> str:
    del teller
    return gettext(
        "The local rule, as entered for this place, forbids feeding on every day on "
        "which it would be fed this season."
    )


def _by_soil_test(teller: Teller) -> str:
    return gettext(
        "The soil test of {soil_test} advises no nitrogen, and a test goes before "
        "any table by age."
    ).format(soil_test=teller.day("soil_test_on"))


def _pruned(teller: Teller) -> str:
    return gettext(
        "More than {limit} of its crown was cut this season: it will grow strongly "
        "without feed."
    ).format(limit=teller.amount("limit_share", "share"))


def _grown(teller: Teller) -> str:
    return gettext("{shoots}. More feed would grow wood instead of fruit.").format(
        shoots=_shoots(teller)
    )


def _other_cause(teller: Teller) -> str:
    return gettext(
        "{shoots}, but not for want of feed: put the cause right first."
    ).format(shoots=_shoots(teller))


def _gauge_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("shoot_mm", "mm", gettext("grew last")),
        *teller.told("band_low_mm", "mm", gettext("below it hungry")),
        *teller.told("band_high_mm", "mm", gettext("above it fed enough")),
    )


def _water_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("water_distance_m", "m", gettext("from water")),
        *teller.told("water_setback_m", "m", gettext("kept free by the local rule")),
    )


SENTENCES: dict[str, Callable[[Teller], str]] = {
    "feed_split": _feed,
    "feed_ask_past": _ask_past,
    "feed_ask_pot_size": _ask_pot_size,
    "feed_ask_crown": _ask_crown,
    "feed_ask_short_shoots": _ask_short_shoots,
    "feed_ask_first_growth": _ask_first_growth,
    "feed_rest_near_water": _near_water,
    "feed_rest_blackout": _blackout,
    "feed_rest_soil_test": _by_soil_test,
    "feed_rest_pruned": _pruned,
    "feed_rest_growth": _grown,
    "feed_rest_cause": _other_cause,
}
NUMBERS: dict[str, Callable[[Teller], tuple[Told, ...]]] = {
    "feed_split": _feed_numbers,
    "feed_ask_short_shoots": _gauge_numbers,
    "feed_rest_near_water": _water_numbers,
    "feed_rest_growth": _gauge_numbers,
    "feed_rest_cause": _gauge_numbers,
}
