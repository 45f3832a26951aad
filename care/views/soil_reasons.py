"""Why to test soil and to sour it, and why not, in words."""

from collections.abc import Callable

from care.views.feeding_reasons import measure_words
from care.views.reason_words import Teller, Told, unchecked
from orchard.units import UnitSystem, format_quantity

_100_FT2_M2 = 9.290304  # a hundred square feet, as American tables count


def _rate(teller: Teller, name: str) -> str:
    """Return grams on a square metre as the reader's tables count them."""
    rate = teller.reason.number(name)
    if rate is None:
        return "an unknown amount"
    if teller.units is UnitSystem.US:
        return f"{format_quantity(rate * _100_FT2_M2, 'g', teller.units)} on 100 sq ft"
    return f"{format_quantity(rate, 'g', teller.units)} on a square metre"


def _range(teller: Teller) -> str:
    low, high = teller.reason.number("ph_min"), teller.reason.number("ph_max")
    if low is None or high is None:
        return "It needs sour soil."
    return f"It needs sour soil, pH {low:.1f} to {high:.1f}.{unchecked(teller)}"


def _test_first(teller: Teller) -> str:
    return (
        f"{_range(teller)} Nobody has said how sour its soil is, and nothing is given "
        "before a test: take a little soil from several spots a spade's blade deep."
    )


def _test_again(teller: Teller) -> str:
    return (
        f"{_range(teller)} Its soil was last tested on {teller.day('last_test_on')}, and "
        "soil drifts: lime in water and mulch undo sulfur within years."
    )


def _ask_result(teller: Teller) -> str:
    return (
        f"Soil was sent in on {teller.day('last_test_on')}: enter what the test said, for "
        "the site or for this bed."
    )


def _retest(teller: Teller) -> str:
    return (
        f"{_range(teller)} Sulfur was given since the last test. It works for about three "
        "months: test before anybody gives more."
    )


def _acidity(teller: Teller) -> str:
    ph, aim = teller.reason.number("ph"), teller.reason.number("aim_ph")
    if ph is None:
        return "Its soil is less sour than it needs."
    wanted = "" if aim is None else f" and should have about {aim:.1f}"
    return f"Its soil has a pH of {ph:.1f}{wanted}."


def _difficult(teller: Teller) -> str:
    if not teller.reason.holds("is_difficult"):
        return ""
    return (
        " Above 6.0 sulfur alone is slow and uncertain: much peat or pine bark, or a pot, "
        "serves better."
    )


def _sour_bed(teller: Teller) -> str:
    split = ""
    if teller.reason.holds("is_split"):
        split = " That is two thirds of what it needs: test again in three months."
    return (
        f"{_acidity(teller)} Before planting, and only then, sulfur is mixed into the soil a "
        f"hand deep, {_rate(teller, 'sulfur_g_per_m2')}; it needs "
        f"three months at the least.{measure_words(teller, 'The sulfur')}{split}"
        f"{_difficult(teller)}{unchecked(teller)}"
    )


def _sour_planted(teller: Teller) -> str:
    return (
        f"{_acidity(teller)} Round a planted bush sulfur is only strewn on the surface, and "
        f"never more than {_rate(teller, 'limit_g_per_m2')} a year."
        f"{measure_words(teller, 'The sulfur')}{_difficult(teller)}{unchecked(teller)}"
    )


def _calcareous(teller: Teller) -> str:
    ph = teller.reason.number("ph")
    at = "" if ph is None else f" of {ph:.1f}"
    return (
        f"A pH{at} means free lime, which uses up any sulfur a garden can spare. Grow it "
        f"in a pot or a raised bed of sour mix instead.{unchecked(teller)}"
    )


def _too_late(teller: Teller) -> str:
    return (
        f"{_acidity(teller)} It is to be planted on {teller.day('planted_on')}, and sulfur "
        "needs three months at the least: plant a season later, or into a raised bed or "
        "pot of sour mix."
    )


def _sulfur_numbers(teller: Teller) -> tuple[Told, ...]:
    return (
        Told(_rate(teller, "sulfur_g_per_m2"), "of sulfur"),
        *teller.told("area_m2", "m²", "of ground"),
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
