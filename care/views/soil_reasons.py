"""Why to test soil and to sour it, and why not, in words."""

from collections.abc import Callable

from django.utils.translation import gettext

from care.views.feeding_reasons import measure_words
from care.views.reason_words import Teller, Told, unchecked
from orchard.languages import localised
from orchard.units import UnitSystem, format_quantity

_100_FT2_M2 = 9.290304  # a hundred square feet, as American tables count


def _rate(teller: Teller, name: str) -> str:
    """Return grams on a square metre as the reader's tables count them."""
    rate = teller.reason.number(name)
    if rate is None:
        return gettext("an unknown amount")
    if teller.units is UnitSystem.US:
        return gettext("{rate} on 100 sq ft").format(
            rate=format_quantity(rate * _100_FT2_M2, "g", teller.units)
        )
    return gettext("{rate} on a square metre").format(
        rate=format_quantity(rate, "g", teller.units)
    )


def _range(teller: Teller) -> str:
    low, high = teller.reason.number("ph_min"), teller.reason.number("ph_max")
    if low is None or high is None:
        return gettext("It needs sour soil.")
    return gettext("It needs sour soil, pH {low} to {high}.").format(
        low=localised(f"{low:.1f}"), high=localised(f"{high:.1f}")
    ) + unchecked(teller)


def _test_first(teller: Teller) -> str:
    return f"{_range(teller)} " + gettext(
        "Nobody has said how sour its soil is, and nothing is given before a test: "
        "take a little soil from several spots a spade's blade deep."
    )


def _test_again(teller: Teller) -> str:
    return f"{_range(teller)} " + gettext(
        "Its soil was last tested on {last_test}, and soil drifts: lime in water "
        "and mulch undo sulfur within years."
    ).format(last_test=teller.day("last_test_on"))


def _ask_result(teller: Teller) -> str:
    return gettext(
        "Soil was sent in on {last_test}: enter what the test said, for the site or "
        "for this bed."
    ).format(last_test=teller.day("last_test_on"))


def _retest(teller: Teller) -> str:
    return f"{_range(teller)} " + gettext(
        "Sulfur was given since the last test. It works for about three months: "
        "test before anybody gives more."
    )


def _acidity(teller: Teller) -> str:
    ph, aim = teller.reason.number("ph"), teller.reason.number("aim_ph")
    if ph is None:
        return gettext("Its soil is less sour than it needs.")
    wanted = (
        ""
        if aim is None
        else (
            " "
            + gettext("and should have about {aim}").format(aim=localised(f"{aim:.1f}"))
        )
    )
    return gettext("Its soil has a pH of {ph}{wanted}.").format(
        ph=localised(f"{ph:.1f}"), wanted=wanted
    )


def _difficult(teller: Teller) -> str:
    if not teller.reason.holds("is_difficult"):
        return ""
    return " " + gettext(
        "Above 6.0 sulfur alone is slow and uncertain: much peat or pine bark, or a "
        "pot, serves better."
    )


def _sour_bed(teller: Teller) -> str:
    split = ""
    if teller.reason.holds("is_split"):
        split = " " + gettext(
            "That is two thirds of what it needs: test again in three months."
        )
    return (
        f"{_acidity(teller)} "
        + gettext(
            "Before planting, and only then, sulfur is mixed into the soil a hand "
            "deep, {rate}; it needs three months at the least."
        ).format(rate=_rate(teller, "sulfur_g_per_m2"))
        + measure_words(teller, gettext("The sulfur"))
        + f"{split}{_difficult(teller)}{unchecked(teller)}"
    )


def _sour_planted(teller: Teller) -> str:
    return (
        f"{_acidity(teller)} "
        + gettext(
            "Round a planted bush sulfur is only strewn on the surface, and never "
            "more than {rate} a year."
        ).format(rate=_rate(teller, "limit_g_per_m2"))
        + measure_words(teller, gettext("The sulfur"))
        + f"{_difficult(teller)}{unchecked(teller)}"
    )


def _calcareous(teller: Teller) -> str:
    ph = teller.reason.number("ph")
    at = (
        ""
        if ph is None
        else (" " + gettext("of {ph}").format(ph=localised(f"{ph:.1f}")))
    )
    return gettext(
        "A pH{at} means free lime, which uses up any sulfur a garden can spare. "
        "Grow it in a pot or a raised bed of sour mix instead."
    ).format(at=at) + unchecked(teller)


def _too_late(teller: Teller) -> str:
    return f"{_acidity(teller)} " + gettext(
        "It is to be planted on {planted}, and sulfur needs three months at the "
        "least: plant a season later, or into a raised bed or pot of sour mix."
    ).format(planted=teller.day("planted_on"))


def _sulfur_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        Told(_rate(teller, "sulfur_g_per_m2"), gettext("of sulfur")),
        *teller.told("area_m2", "m²", gettext("of ground")),
    )


SENTENCES: dict[str, Callable[[Teller], str]] = {
    "soil_test_first": _test_first,
    "soil_test_again": _test_again,
    "soil_ask_result": _ask_result,
    "soil_retest": _retest,
    "soil_sour_bed": _sour_bed,
    "soil_sour_planted": _sour_planted,
    "soil_calcareous": _calcareous,
    "soil_too_late": _too_late,
}
NUMBERS: dict[str, Callable[[Teller], tuple[Told, ...]]] = {
    "soil_sour_bed": _sulfur_numbers,
    "soil_sour_planted": _sulfur_numbers,
}
