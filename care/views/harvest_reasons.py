"""Why to thin, look, pick and wait, in words."""

from collections.abc import Callable

from django.utils.translation import gettext, gettext_noop

from care.views.days import count_days
from care.views.reason_words import Teller, Told

RIPE = {
    "picked_green": (
        gettext_noop(
            "Pears are picked mature but green, when one lifts off as it is tilted to the "
            "level, and ripen indoors."
        )
    ),
    "hangs_soft": gettext_noop(
        "It is ripe when it hangs soft from a bent neck; it ripens on the tree only."
    ),
    "tree_ripe": (
        gettext_noop(
            "It ripens on the plant only: wait for full colour, taste one before you pick, "
            "and pick them all."
        )
    ),
    "ripens_off_tree": gettext_noop(
        "It softens off the tree only: pick one, wait a week, then judge."
    ),
    "ground_colour": (
        gettext_noop(
            "Ripe when the ground colour turns from green to yellow and a fruit comes away "
            "with a lift and a twist; red alone says nothing."
        )
    ),
    "ground_colour_soft": (
        gettext_noop(
            "Ripe when the ground colour has lost its green and the flesh gives a little; red "
            "alone says nothing."
        )
    ),
    "taste_first": gettext_noop(
        "Colour says little: taste one. It keeps on the tree, not off it."
    ),
    "falls": gettext_noop(
        "Ripe when husks split and the first fall; gather them before they mould."
    ),
    "colour_and_taste": gettext_noop("Colour, smell and a taste decide."),
}
CAUSES = {
    "spray": gettext_noop(
        "Do not pick before {day}: it was sprayed on {on}{named}, and the label's waiting days run."
    ),
    "manure": gettext_noop(
        "Do not pick before {day}: it stands on ground that got raw manure on {on}{named}, and the waiting days run."
    ),
}


def _bloom(teller: Teller) -> str:
    day = teller.day("full_bloom_on")
    if teller.reason.holds("bloom_seen"):
        return gettext("It was in full bloom on {day}.").format(day=day)
    if teller.reason.text("bloom_basis") == "heat":
        return gettext(
            "Nobody noted its bloom; by this year's warmth it was near {day}."
        ).format(day=day)
    return gettext(
        "Nobody noted its bloom; by the month it may have been near {day}: a first "
        "guess."
    ).format(day=day)


def _thin_crop(teller: Teller) -> str:
    clusters = {
        1: (" " + gettext("and one fruit on a cluster")),
        2: (" " + gettext("and two fruit on a cluster at most")),
    }
    per_cluster = clusters.get(int(teller.reason.number("per_cluster") or 0), "")
    return f"{_bloom(teller)} " + gettext(
        "When the fruit is {fruit_width} across, leave {spacing} between "
        "them{per_cluster}: what stays grows larger, limbs do not break, and next "
        "year's buds are spared."
    ).format(
        fruit_width=teller.amount("fruit_width_mm", "mm"),
        spacing=teller.amount("spacing_mm", "mm"),
        per_cluster=per_cluster,
    )


def _thin_fresh(teller: Teller) -> str:
    return gettext(
        "Planted on {planted}, it needs its strength for roots and wood: take off "
        "every fruit it has set in its first two years."
    ).format(planted=teller.day("planted_on"))


def _thin_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        *teller.told("spacing_mm", "mm", gettext("between fruit that stay")),
        *teller.told("spacing_least_mm", "mm", gettext("the least advised")),
        *teller.told("spacing_most_mm", "mm", gettext("the most advised")),
    )


def _ripe(teller: Teller) -> str:
    return gettext(RIPE.get(teller.reason.text("sign"), RIPE["colour_and_taste"]))


def _harvest(teller: Teller) -> str:
    return (
        f"{_bloom(teller)} "
        + gettext(
            "Fruit of its kind ripens between {window_start} and {window_end}."
        ).format(
            window_start=teller.day("window_start"), window_end=teller.day("window_end")
        )
        + f" {_ripe(teller)}"
    )


def _harvest_look(teller: Teller) -> str:
    return f"{_harvest(teller)} " + gettext(
        "Ripe? Write down what you picked. Not yet? Tick the look: another one follows."
    )


def _harvest_hold(teller: Teller) -> str:
    cause = CAUSES.get(teller.reason.text("cause"), CAUSES["spray"])
    product = teller.reason.text("product")
    named = f" ({product})" if product else ""
    return gettext(cause).format(
        day=teller.day("pick_from"), on=teller.day("hold_on"), named=named
    )


def _harvest_numbers(teller: Teller) -> tuple[Told, ...]:
    days = teller.reason.number("bloom_to_harvest_days")
    usual = (
        ()
        if days is None
        else (Told(count_days(round(days)), gettext("from bloom, usually")),)
    )
    label = gettext("at most: an orchard tree's, by its crown")
    if teller.reason.number("age_share") is not None:
        label = gettext("at most: an orchard tree's, by its age")
    if teller.reason.holds("is_potted"):
        label = gettext("at most, in a pot; a third of it is as likely")
    return (
        *usual,
        *teller.told("expected_kg", "kg", label),
        *teller.told("last_year_kg", "kg", gettext("picked the year before")),
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
