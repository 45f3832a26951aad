"""Why to thin, look, pick and wait, in words."""

from collections.abc import Callable

from care.views.reason_words import Teller, Told

RIPE = {
    "picked_green": (
        "Pears are picked mature but green, when one lifts off as it is tilted to the "
        "level, and ripen indoors."
    ),
    "hangs_soft": "It is ripe when it hangs soft from a bent neck; it ripens on the tree only.",
    "tree_ripe": (
        "It ripens on the plant only: wait for full colour, taste one before you pick, "
        "and pick them all."
    ),
    "ripens_off_tree": "It softens off the tree only: pick one, wait a week, then judge.",
    "ground_colour": (
        "Ripe when the ground colour turns from green to yellow and a fruit comes away "
        "with a lift and a twist; red alone says nothing."
    ),
    "ground_colour_soft": (
        "Ripe when the ground colour has lost its green and the flesh gives a little; red "
        "alone says nothing."
    ),
    "taste_first": "Colour says little: taste one. It keeps on the tree, not off it.",
    "falls": "Ripe when husks split and the first fall; gather them before they mould.",
    "colour_and_taste": "Colour, smell and a taste decide.",
}
CAUSES = {
    "spray": "was sprayed on {}{}, and the label's waiting days run",
    "manure": "stands on ground that got raw manure on {}{}, and the waiting days run",
}


def _bloom(teller: Teller) -> str:
    day = teller.day("full_bloom_on")
    if teller.reason.holds("bloom_seen"):
        return f"It was in full bloom on {day}."
    if teller.reason.text("bloom_basis") == "heat":
        return f"Nobody noted its bloom; by this year's warmth it was near {day}."
    return f"Nobody noted its bloom; by the month it may have been near {day}: a first guess."


def _thin_crop(teller: Teller) -> str:
    clusters = {
        1: " and one fruit on a cluster",
        2: " and two fruit on a cluster at most",
    }
    per_cluster = clusters.get(int(teller.reason.number("per_cluster") or 0), "")
    return (
        f"{_bloom(teller)} When the fruit is {teller.amount('fruit_width_mm', 'mm')} "
        f"across, leave {teller.amount('spacing_mm', 'mm')} between them{per_cluster}: "
        "what stays grows larger, limbs do not break, and next year's buds are spared."
    )


def _thin_fresh(teller: Teller) -> str:
    return (
        f"Planted on {teller.day('planted_on')}, it needs its strength for roots and "
        "wood: take off every fruit it has set in its first two years."
    )


def _thin_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("spacing_mm", "mm", "between fruit that stay"),
        *teller.told("spacing_least_mm", "mm", "the least advised"),
        *teller.told("spacing_most_mm", "mm", "the most advised"),
    )


def _ripe(teller: Teller) -> str:
    return RIPE.get(teller.reason.text("sign"), RIPE["colour_and_taste"])


def _harvest(teller: Teller) -> str:
    return (
        f"{_bloom(teller)} Fruit of its kind ripens between "
        f"{teller.day('window_start')} and {teller.day('window_end')}. {_ripe(teller)}"
    )


def _harvest_look(teller: Teller) -> str:
    return (
        f"{_harvest(teller)} Ripe? Write down what you picked. Not yet? Tick the look: "
        "another one follows."
    )


def _harvest_hold(teller: Teller) -> str:
    cause = CAUSES.get(teller.reason.text("cause"), CAUSES["spray"])
    product = teller.reason.text("product")
    named = f" ({product})" if product else ""
    return (
        f"Do not pick before {teller.day('pick_from')}: it "
        f"{cause.format(teller.day('hold_on'), named)}."
    )


def _harvest_numbers(teller: Teller) -> tuple[Told, ...]:
    days = teller.reason.number("bloom_to_harvest_days")
    usual = () if days is None else (Told(f"{days:.0f} days", "from bloom, usually"),)
    basis = "its age" if teller.reason.number("age_share") is not None else "its crown"
    label = f"at most: an orchard tree's, by {basis}"
    if teller.reason.holds("is_potted"):
        label = "at most, in a pot; a third of it is as likely"
    return (
        *usual,
        *teller.told("expected_kg", "kg", label),
        *teller.told("last_year_kg", "kg", "picked the year before"),
    )


SENTENCES: dict[str, Callable[[Teller], str]] = {
    "thin_crop": _thin_crop,
    "thin_fresh": _thin_fresh,
    "harvest_from_bloom": _harvest,
    "harvest_from_model": _harvest_look,
    "harvest_by_month": _harvest_look,
    "harvest_hold": _harvest_hold,
}
NUMBERS: dict[str, Callable[[Teller], tuple[Told, ...]]] = {
    "thin_crop": _thin_numbers,
    "harvest_from_bloom": _harvest_numbers,
    "harvest_from_model": _harvest_numbers,
    "harvest_by_month": _harvest_numbers,
}
