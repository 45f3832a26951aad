"""Why to look a tree over just now, in words."""

from collections.abc import Callable

from care.views.reason_words import Teller, Told

STAGES = {
    "dormant": "It stands bare: what winters on it can be seen.",
    "bud_swell": "Its buds swell about now.",
    "bloom": "It blooms about now.",
    "fruitlet": "Petals have fallen and young fruit is at risk.",
    "summer": "It is in full growth.",
    "ripening": "Its fruit is about to ripen.",
    "after_harvest": "Its fruit is picked: what stays behind carries trouble into next year.",
}
GROUPS = {
    "pome": "apples, pears and quinces",
    "stone": "plums, apricots and almonds",
    "peach": "peaches and nectarines",
    "cherry": "cherries",
    "citrus": "citrus",
    "berry": "berries",
    "tropical": "tropical fruits",
    "nut": "nuts",
    "fig": "figs",
    "other": "other fruits",
}


def _company(teller: Teller) -> str:
    number = teller.reason.number("neighbours") or 0
    if not number:
        return ""
    kinds = GROUPS.get(teller.reason.text("group"), GROUPS["other"])
    more = "the other one" if number == 1 else f"the other {number:.0f}"
    return f" One walk does for {more} of its place, as {kinds} go by one list."


def _pace(teller: Teller) -> str:
    every = teller.reason.number("every_days")
    if every is None:
        return ""
    pace = "every week" if every <= 7 else "once a month"  # noqa: PLR2004 (a week)
    return f" This is looked at {pace} in this part of the year."


def _look(teller: Teller) -> str:
    wet = (
        " The rains have set in, so diseases of leaf and fruit are likelier."
        if teller.reason.holds("is_wet")
        else ""
    )
    return (
        f"{STAGES.get(teller.reason.text('stage'), STAGES['summer'])}{_company(teller)}"
        f"{_pace(teller)}{wet} Name what you find before you act; up to "
        f"{teller.amount('tolerated_leaf_share', 'share')} of the leaves is no harm to a "
        "healthy tree, and picking off, cutting out and clearing up come first."
    )


def _numbers(teller: Teller) -> tuple[Told, ...]:
    trees = 1 + (teller.reason.number("neighbours") or 0)
    return (Told(f"{trees:.0f}", "trees in this walk"),) if trees > 1 else ()


SENTENCES: dict[str, Callable[[Teller], str]] = {"inspect_look": _look}
NUMBERS: dict[str, Callable[[Teller], tuple[Told, ...]]] = {"inspect_look": _numbers}
