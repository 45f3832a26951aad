"""Why to feed, why to ask first, and why to leave a tree unfed, in words."""

from collections.abc import Callable

from care.views.reason_words import Teller, Told, unchecked
from orchard.units import UnitSystem

STOPS = {
    "frost_free": "growth slows then",
    "frost_unknown": "later growth may not harden before frost; the usual first frost is not entered",
    "short_season": "later growth would not harden before frost",
    "first_frost": "later growth would not harden before the first frost",
    "species": "the last day published for its kind",
}
QUARTERS = {0.25: "¼", 0.5: "½", 0.75: "¾"}
HINTS = {
    "maybe_dry": "it has been dry lately",
    "maybe_wet": "its soil drains slowly or stands wet",
    "maybe_planting": "it was planted not long ago",
}


def measure_words(teller: Teller, what: str) -> str:
    """Return an amount of dry product as a person scoops it, or nothing."""
    count, unit = teller.reason.number("measure_count"), teller.reason.text("measure")
    volume_ml = teller.reason.number("volume_ml")
    if count is None or volume_ml is None or not unit:
        return ""
    basis = "" if teller.reason.holds("is_density_weighed") else " by a rule of thumb"
    if teller.units is UnitSystem.METRIC:
        return f" {what} fills about {volume_ml:.0f} mL{basis}; a scale is better."
    units = unit if count <= 1 else f"{unit}s"
    return f" {what} fills about {_count(count)} {units}{basis}; a scale is better."


def _count(count: float) -> str:
    whole, part = int(count), QUARTERS.get(count % 1, "")
    return f"{whole}{part}" if whole or not part else part


def _feed(teller: Teller) -> str:
    split, splits = teller.reason.number("split"), teller.reason.number("splits")
    part = (
        f"Feeding {split:.0f} of {splits:.0f} this season"
        if split is not None and splits is not None and splits > 1
        else "This season's feeding"
    )
    product = teller.reason.text("product") or "the product"
    return (
        f"{part}: {teller.amount('nitrogen_g', 'g')} of nitrogen as {product}, "
        f"for the crown it holds now.{measure_words(teller, 'The product')}{_less(teller)}"
        f"{_last(teller)}{unchecked(teller)}"
    )


def _last(teller: Teller) -> str:
    if not teller.reason.day("stop_on"):
        return ""
    why = STOPS.get(teller.reason.text("stop_basis"), "")
    return f" Not after {teller.day('stop_on')}{': ' if why else ''}{why}."


def _less(teller: Teller) -> str:
    """Return what holds the amount down: growth, a soil test, a lost crop."""
    words = ""
    if teller.reason.text("growth") == "in_band":
        words += f" Half of it, because it grew {teller.amount('shoot_mm', 'mm')} last year, as it should."
    if teller.reason.text("soil_test_nitrogen") == "half":
        words += f" Half of it by the soil test of {teller.day('soil_test_on')}."
    if teller.reason.holds("lost_crop"):
        words += " The crop is lost, so nothing follows this season."
    return words


def _feed_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("nitrogen_g", "g", "nitrogen this time"),
        *teller.told("season_nitrogen_g", "g", "nitrogen in the whole season"),
        *_yardstick(teller),
        *teller.told("given_nitrogen_g", "g", "nitrogen given so far"),
    )


def _yardstick(teller: Teller) -> tuple[Told, ...]:
    """Return the published range as one number, where there is one."""
    low = teller.reason.number("yardstick_low_g")
    high = teller.reason.number("yardstick_high_g")
    if low is None or high is None:
        return ()
    words = teller.amount("yardstick_low_g", "g")
    if high > low:
        words = f"{words} to {teller.amount('yardstick_high_g', 'g')}"
    return (Told(words, "a year, by a published table for its age or trunk"),)


def _ask_past(teller: Teller) -> str:
    return (
        f"It was entered on {teller.day('entered_on')}, in mid-season, and nobody said "
        "whether it had been fed before. An unknown past is no reason for a full dose."
    )


def _ask_pot_size(teller: Teller) -> str:
    del teller
    return "The dose for a pot depends on its volume, and that is not entered."


def _ask_crown(teller: Teller) -> str:
    del teller
    return (
        "Neither its age nor the width of its crown is known, and the dose depends on "
        "one of them."
    )


def _shoots(teller: Teller) -> str:
    return (
        f"Its new shoots grew {teller.amount('shoot_mm', 'mm')}; its kind should grow "
        f"{teller.amount('band_low_mm', 'mm')} to {teller.amount('band_high_mm', 'mm')}"
    )


def _ask_short_shoots(teller: Teller) -> str:
    hints = [words for name, words in HINTS.items() if teller.reason.holds(name)]
    hint = f" The records say: {'; '.join(hints)}." if hints else ""
    return (
        f"{_shoots(teller)}. Drought, wet roots or a slow start after planting hold "
        f"shoots back too, and feed cures none of them.{hint} Look first: tick this if "
        "you find no such cause, and the feeding follows; else leave it out and say so."
    )


def _ask_first_growth(teller: Teller) -> str:
    return (
        f"Planted on {teller.day('planted_on')}, it is fed only once its shoots have "
        f"grown {teller.amount('needed_mm', 'mm')}: measure them and write it down."
    )


def _near_water(teller: Teller) -> str:
    return (
        f"It stands {teller.amount('water_distance_m', 'm')} from water, and the local "
        f"rule forbids feeding within {teller.amount('water_setback_m', 'm')}."
    )


def _blackout(teller: Teller) -> str:
    del teller
    return (
        "The local rule, as entered for this place, forbids feeding on every day on which "
        "it would be fed this season."
    )


def _by_soil_test(teller: Teller) -> str:
    return (
        f"The soil test of {teller.day('soil_test_on')} advises no nitrogen, and a test "
        "goes before any table by age."
    )


def _pruned(teller: Teller) -> str:
    return (
        f"More than {teller.amount('limit_share', 'share')} of its crown was cut this "
        "season: it will grow strongly without feed."
    )


def _grown(teller: Teller) -> str:
    return f"{_shoots(teller)}. More feed would grow wood instead of fruit."


def _other_cause(teller: Teller) -> str:
    return f"{_shoots(teller)}, but not for want of feed: put the cause right first."


def _gauge_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("shoot_mm", "mm", "grew last"),
        *teller.told("band_low_mm", "mm", "below it hungry"),
        *teller.told("band_high_mm", "mm", "above it fed enough"),
    )


def _water_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("water_distance_m", "m", "from water"),
        *teller.told("water_setback_m", "m", "kept free by the local rule"),
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
