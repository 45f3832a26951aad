"""Why to look a tree over just now, in words."""

from collections.abc import Callable

from django.utils.translation import gettext, gettext_noop, ngettext, pgettext_lazy

from care.views.days import WEEK
from care.views.reason_words import Teller, Told

STAGES = {
    "dormant": gettext_noop("It stands bare: what winters on it can be seen."),
    "bud_swell": gettext_noop("Its buds swell about now."),
    "bloom": gettext_noop("It blooms about now."),
    "fruitlet": gettext_noop("Petals have fallen and young fruit is at risk."),
    "summer": gettext_noop("It is in full growth."),
    "ripening": gettext_noop("Its fruit is about to ripen."),
    "after_harvest": gettext_noop(
        "Its fruit is picked: what stays behind carries trouble into next year."
    ),
}
GROUPS = {
    "pome": pgettext_lazy("looked at by one list", "apples, pears and quinces"),
    "stone": pgettext_lazy("looked at by one list", "plums, apricots and almonds"),
    "peach": pgettext_lazy("looked at by one list", "peaches and nectarines"),
    "cherry": pgettext_lazy("looked at by one list", "cherries"),
    "citrus": pgettext_lazy("looked at by one list", "citrus"),
    "berry": pgettext_lazy("looked at by one list", "berries"),
    "tropical": pgettext_lazy("looked at by one list", "tropical fruits"),
    "nut": pgettext_lazy("looked at by one list", "nuts"),
    "fig": pgettext_lazy("looked at by one list", "figs"),
    "other": pgettext_lazy("looked at by one list", "other fruits"),
}


def _company(teller: Teller) -> str:
    number = teller.reason.number("neighbours") or 0
    if not number:
        return ""
    kinds = GROUPS.get(teller.reason.text("group"), GROUPS["other"])
    words = ngettext(
        "One walk does for the other one of its place, as {kinds} go by one list.",
        "One walk does for the other {number} of its place, as {kinds} go by one list.",
        round(number),
    )
    return " " + words.format(number=f"{number:.0f}", kinds=kinds)


def _pace(teller: Teller) -> str:
    every = teller.reason.number("every_days")
    if every is None:
        return ""
    if every <= WEEK:
        return " " + gettext("This is looked at every week in this part of the year.")
    return " " + gettext("This is looked at once a month in this part of the year.")


def _look(teller: Teller) -> str:
    wet = (
        (
            " "
            + gettext(
                "The rains have set in, so diseases of leaf and fruit are likelier."
            )
        )
        if teller.reason.holds("is_wet")
        else ""
    )
    return (
        f"{gettext(STAGES.get(teller.reason.text('stage'), STAGES['summer']))}{_company(teller)}{_pace(teller)}{wet} "
        + gettext(
            "Name what you find before you act; up to {tolerated_leaf} of the "
            "leaves is no harm to a healthy tree, and picking off, cutting out and "
            "clearing up come first."
        ).format(tolerated_leaf=teller.amount("tolerated_leaf_share", "share"))
    )


def _numbers(teller: Teller) -> tuple[Told, ...]:
    trees = 1 + (teller.reason.number("neighbours") or 0)
    return (Told(f"{trees:.0f}", gettext("trees in this walk")),) if trees > 1 else ()


SENTENCES: dict[str, Callable[[Teller], str]] = {"inspect_look": _look}
NUMBERS: dict[str, Callable[[Teller], tuple[Told, ...]]] = {"inspect_look": _numbers}
