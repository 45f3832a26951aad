"""Why to feed, mulch, prune and protect, in words."""

from collections.abc import Callable

from care.views.reason_words import Teller, Told

STOPS = {
    "frost_free": "growth slows then",
    "frost_unknown": "later growth may not harden before frost; the usual first frost is not entered",
    "short_season": "later growth would not harden before frost",
    "first_frost": "later growth would not harden before the first frost",
}
OWN_RULES = {
    "fruiting_shoots": "It fruits on last year's shoots: thin and shorten those, by its own rule.",
    "stems": "Keep a few stems of different age, take out the rest.",
    "vine": "A vine is cut back much harder than a tree, by its own rule.",
    "canes": "Take canes that have fruited to the ground.",
}
UNCHECKED = " The figure behind it rests on memory and was not checked."


def _unchecked(teller: Teller) -> str:
    return UNCHECKED if teller.reason.holds("unverified") else ""


def _feed(teller: Teller) -> str:
    split, splits = teller.reason.number("split"), teller.reason.number("splits")
    part = (
        f"Feeding {split:.0f} of {splits:.0f} this season"
        if split is not None and splits is not None and splits > 1
        else "This season's feeding"
    )
    stop = STOPS.get(teller.reason.text("stop_basis"), "")
    last = f" Not after {teller.day('stop_on')}" if teller.reason.day("stop_on") else ""
    why = f": {stop}." if last and stop else ("." if last else "")
    product = teller.reason.text("product") or "the product"
    return (
        f"{part}: {teller.amount('nitrogen_g', 'g')} of nitrogen as {product}, "
        f"for the crown it holds now.{last}{why}{_unchecked(teller)}"
    )


def _feed_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("nitrogen_g", "g", "nitrogen this time"),
        *teller.told("season_nitrogen_g", "g", "nitrogen in the whole season"),
        *teller.told("given_nitrogen_g", "g", "nitrogen given so far"),
    )


def _feed_ask_past(teller: Teller) -> str:
    return (
        f"It was entered on {teller.day('entered_on')}, in mid-season, and nobody said "
        "whether it had been fed before. An unknown past is no reason for a full dose."
    )


def _feed_ask_pot_size(teller: Teller) -> str:
    del teller
    return "The dose for a pot depends on its volume, and that is not entered."


def _feed_ask_crown(teller: Teller) -> str:
    del teller
    return (
        "Neither its age nor the width of its crown is known, and the dose depends on "
        "one of them."
    )


def _mulch_thin(teller: Teller) -> str:
    return (
        f"Its mulch has rotted down to about {teller.amount('depth_mm', 'mm')}; below "
        f"{teller.amount('floor_depth_mm', 'mm')} it no longer does its work. "
        f"{_mulch_how(teller)}"
    )


def _mulch_first(teller: Teller) -> str:
    return f"It has no mulch yet. {_mulch_how(teller)}"


def _mulch_how(teller: Teller) -> str:
    return (
        f"Lay {teller.amount('add_mm', 'mm')} over a ring "
        f"{teller.amount('ring_diameter_m', 'm')} across, and leave "
        f"{teller.amount('trunk_gap_mm', 'mm')} bare round the trunk."
    )


def _mulch_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("depth_mm", "mm", "deep now, by the reckoning"),
        *teller.told("target_depth_mm", "mm", "wanted"),
        *teller.told("ring_diameter_m", "m", "across the ring"),
    )


def _mulch_ask(teller: Teller) -> str:
    del teller
    return "Nobody has said how deep its mulch is. Push a ruler in and write it down."


def _mulch_look(teller: Teller) -> str:
    gap = teller.amount("limit_gap_mm", "mm")
    seen = teller.reason.day("last_look_on")
    last = f" The last look was on {teller.day('last_look_on')}." if seen else ""
    return f"Mulch against bark rots it: {gap} round the trunk must stay bare.{last}"


def _mulch_near(teller: Teller) -> str:
    return (
        f"Only {teller.amount('found_mm', 'mm')} is bare round the trunk, seen on "
        f"{teller.day('seen_on')}; it should be {teller.amount('limit_mm', 'mm')}. Mulch "
        "against bark rots it."
    )


def _mulch_deep(teller: Teller) -> str:
    return (
        f"The mulch lies {teller.amount('found_mm', 'mm')} deep; more than "
        f"{teller.amount('limit_mm', 'mm')} keeps air from the roots."
    )


def _clear_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("found_mm", "mm", "found"),
        *teller.told("limit_mm", "mm", "the limit"),
    )


def _prune(teller: Teller) -> str:
    why = teller.reason.text("why").rstrip(".")
    why = f" {why}." if why else ""
    held = ""
    if teller.reason.day("held_until"):
        cause = "heat" if teller.reason.text("held_by") == "heat" else "severe cold"
        held = f" It waits until {teller.day('held_until')} because of {cause}."
    return (
        f"Its time for cuts runs from {teller.day('window_start')} to "
        f"{teller.day('window_end')}.{why}{held}{_unchecked(teller)}"
    )


def _prune_share(teller: Teller) -> str:
    return f"{_prune(teller)} Never more than this share of the crown in one season."


def _prune_formative(teller: Teller) -> str:
    return f"{_prune(teller)} In its first year only what shapes it comes off."


def _prune_own(teller: Teller) -> str:
    rule = OWN_RULES.get(teller.reason.text("own_rule"), "")
    return f"{_prune(teller)} {rule}".strip()


def _prune_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("limit_share", "share", "of the crown at most in a season"),
        *teller.told("height_m", "m", "high when last measured"),
        *teller.told("height_target_m", "m", "high is the aim"),
    )


def _prune_ask(teller: Teller) -> str:
    return (
        f"It was entered on {teller.day('entered_on')}, and nobody said whether it had "
        "been pruned this season. An unknown past is no reason for a second quarter."
    )


def _prune_wires(teller: Teller) -> str:
    return (
        "It grows near wires. Nobody but the network's own or another qualified crew "
        f"works within {teller.amount('keep_away_m', 'm')} of them."
    )


def _cold_night(teller: Teller) -> str:
    known = "typed in" if teller.reason.holds("is_typed") else "forecast"
    return (
        f"{teller.amount('minimum_c', '°C')} is {known} for the early morning of "
        f"{teller.near_day('cold_on')}; it bears {teller.amount('threshold_c', '°C')}, "
        f"and the alarm rings from {teller.amount('alarm_c', '°C')}."
    )


def _cold(teller: Teller) -> str:
    stage = teller.reason.text("stage")
    bloom = ""
    if stage == "by_month":
        bloom = " At this time of year it may be in bloom, which bears less."
    elif stage:
        bloom = f" At the stage seen ({stage.replace('_', ' ')}) it bears less."
    return f"{_cold_night(teller)}{bloom}{_unchecked(teller)}"


def _cold_tall(teller: Teller) -> str:
    return f"{_cold(teller)} It is too tall to cover safely: moist soil helps a little."


def _cold_out(teller: Teller) -> str:
    return (
        f"The coldest night until {teller.near_day('nights_to')} is "
        f"{teller.amount('minimum_c', '°C')}; it bears "
        f"{teller.amount('threshold_c', '°C')}.{_unchecked(teller)}"
    )


def _cold_out_chill(teller: Teller) -> str:
    return f"{_cold_out(teller)} In a heated room it loses the winter rest it needs."


def _cold_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("minimum_c", "°C", "the coldest expected"),
        *teller.told("threshold_c", "°C", "it bears"),
        *teller.told("alarm_c", "°C", "the alarm, margins added"),
    )


SENTENCES: dict[str, Callable[[Teller], str]] = {
    "feed_split": _feed,
    "feed_ask_past": _feed_ask_past,
    "feed_ask_pot_size": _feed_ask_pot_size,
    "feed_ask_crown": _feed_ask_crown,
    "mulch_thin": _mulch_thin,
    "mulch_first": _mulch_first,
    "mulch_ask_depth": _mulch_ask,
    "mulch_look_at_trunk": _mulch_look,
    "mulch_near_trunk": _mulch_near,
    "mulch_too_deep": _mulch_deep,
    "prune_window": _prune_share,
    "prune_light": _prune_share,
    "prune_formative": _prune_formative,
    "prune_own_rule": _prune_own,
    "prune_ask_past": _prune_ask,
    "prune_near_wires": _prune_wires,
    "cold_move_in": _cold,
    "cold_cover": _cold,
    "cold_too_tall_to_cover": _cold_tall,
    "cold_move_out": _cold_out,
    "cold_move_out_for_chill": _cold_out_chill,
}
NUMBERS: dict[str, Callable[[Teller], tuple[Told, ...]]] = {
    "feed_split": _feed_numbers,
    "mulch_thin": _mulch_numbers,
    "mulch_first": _mulch_numbers,
    "mulch_near_trunk": _clear_numbers,
    "mulch_too_deep": _clear_numbers,
    "prune_window": _prune_numbers,
    "prune_light": _prune_numbers,
    "prune_formative": _prune_numbers,
    "prune_own_rule": _prune_numbers,
    "cold_move_in": _cold_numbers,
    "cold_cover": _cold_numbers,
    "cold_too_tall_to_cover": _cold_numbers,
    "cold_move_out": _cold_numbers,
    "cold_move_out_for_chill": _cold_numbers,
}
