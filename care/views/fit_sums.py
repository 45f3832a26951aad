"""The sum behind a verdict, with its numbers, in the reader's units."""

from collections.abc import Callable

from care.facts.fit import Factor, Topic
from care.views.fit_terms import FactorTeller
from orchard.units import UnitSystem

UNVERIFIED_MARGIN_C = 2.0  # as of care.science.cold_limits


def sum_of(factor: Factor, years: str, units: UnitSystem) -> str:
    """Return the sum of a factor, empty where nothing was reckoned.

    Parameters
    ----------
    factor : Factor
    years : str
        Which years lie behind it, in words.
    units : UnitSystem
    """
    teller = FactorTeller(factor, units)
    write = _SUMS.get(factor.topic)
    if write is None or not factor.numbers:
        return ""
    return write(teller, years)


def _chill(it: FactorTeller, years: str) -> str:
    unit = "portions" if it.factor.number("unit") == "portions" else "hours"
    total = it.number("winters")
    surely, perhaps = it.number("met_surely"), it.number("met_perhaps")
    how = (
        "Chill portions of the Dynamic model"
        if unit == "portions"
        else "Hours of 0 to 7.2 °C (32 to 45 °F)"
    )
    season = "November to March, in the south from May to September"
    return (
        f"Share of winters = winters with {it.chill('need_least')} or more ÷ winters = "
        f"{surely:.0f} ÷ {total:.0f} = {surely / total:.2f} by the slower night curve, "
        f"{perhaps:.0f} ÷ {total:.0f} = {perhaps / total:.2f} by the quicker. Good from "
        f"0.9, no below 0.5: bounds of our own. {how}, {season}; {years}."
    )


def _cold(it: FactorTeller, years: str) -> str:
    if not it.has("share"):
        return ""
    in_pot = it.has("bears_pot_c")
    total = it.number("years")
    words = [
        f"Share of years = years whose coldest night reached "
        f"{it.night('bears_pot_c' if in_pot else 'tried_c')} ÷ years = "
        f"{it.number('share') * total:.0f} ÷ {total:.0f} = {it.number('share'):.2f}. "
        f"Coldest to reckon with in thirty years: {it.night('reckoned_c')}."
    ]
    if it.factor.is_unverified and not in_pot:
        margin = it.step(UNVERIFIED_MARGIN_C)
        words.append(
            f"An unverified figure is taken {margin} warmer, and excludes nothing."
        )
    if not in_pot:
        words.append("Poor above 0.1, no from 0.5: bounds of our own.")
    if it.has("zone") and it.has("zone_min") and it.has("zone_max"):
        zones = [it.factor.number(name) for name in ("zone_min", "zone_max", "zone")]
        words.append(
            f"Grown in hardiness zones {zones[0]} to {zones[1]}; here {zones[2]}."
        )
    if "made-up" in years:
        words.append("Made-up nights were lowered by what they are too mild.")
    return f"{' '.join(words)} {years.capitalize()}."


def _bloom(it: FactorTeller, years: str) -> str:
    total = it.number("springs")
    killing = it.number("killing")
    return (
        f"Share of springs = springs with a night of {it.night('bears_c')} or colder "
        f"within 7 days of full bloom ÷ springs = {killing:.0f} ÷ {total:.0f} = "
        f"{it.number('share'):.2f}. Good up to 0.2, poor above 0.5: bounds of our own. "
        f"{years.capitalize()}."
    )


def _space(it: FactorTeller, years: str) -> str:
    del years
    return (
        f"Widest circle inside the free area, less buildings and grown crowns: "
        f"{it.amount('room_m', 'm')}; grown crown: {it.amount('spread_m', 'm')}."
    )


_SUMS: dict[Topic, Callable[[FactorTeller, str], str]] = {
    Topic.CHILL: _chill,
    Topic.COLD: _cold,
    Topic.BLOOM_FROST: _bloom,
    Topic.SPACE: _space,
}
