"""The sum behind a verdict, with its numbers, in the reader's units."""

from collections.abc import Callable

from django.utils.text import capfirst
from django.utils.translation import gettext

from care.facts.fit import Factor, FitBasis, Topic
from care.views.fit_terms import FactorTeller
from care.views.fit_words import basis_words
from orchard.languages import localised
from orchard.units import UnitSystem

UNVERIFIED_MARGIN_C = 2.0  # as of care.science.cold_limits


def sum_of(factor: Factor, basis: FitBasis | None, units: UnitSystem) -> str:
    """Return the sum of a factor, empty where nothing was reckoned.

    Parameters
    ----------
    factor : Factor
    basis : FitBasis or None
        Which years lie behind it.
    units : UnitSystem
    """
    teller = FactorTeller(factor, units)
    write = _SUMS.get(factor.topic)
    if write is None or not factor.numbers:
        return ""
    return write(teller, basis)


def _years(basis: FitBasis | None) -> str:
    return "" if basis is None else basis_words(basis)


def _chill(it: FactorTeller, basis: FitBasis | None) -> str:
    years = _years(basis)
    unit = "portions" if it.factor.number("unit") == "portions" else "hours"
    total = it.number("winters")
    surely, perhaps = it.number("met_surely"), it.number("met_perhaps")
    how = (
        gettext("Chill portions of the Dynamic model")
        if unit == "portions"
        else gettext("Hours of 0 to 7.2 °C (32 to 45 °F)")
    )
    season = gettext("November to March, in the south from May to September")
    return gettext(
        "Share of winters = winters with {need_least} or more ÷ winters = "
        "{surely} ÷ {total} = {slower_share} by the slower night curve, {perhaps} "
        "÷ {total} = {quicker_share} by the quicker. Good from 0.9, no below 0.5: "
        "bounds of our own. {how}, {season}; {years}."
    ).format(
        need_least=it.chill("need_least"),
        surely=f"{surely:.0f}",
        total=f"{total:.0f}",
        slower_share=localised(f"{surely / total:.2f}"),
        perhaps=f"{perhaps:.0f}",
        quicker_share=localised(f"{perhaps / total:.2f}"),
        how=how,
        season=season,
        years=years,
    )


def _cold(it: FactorTeller, basis: FitBasis | None) -> str:
    if not it.has("share"):
        return ""
    in_pot = it.has("bears_pot_c")
    total = it.number("years")
    words = [
        gettext(
            "Share of years = years whose coldest night reached {night} ÷ years = "
            "{count} ÷ {total} = {share}. Coldest to reckon with in thirty years: "
            "{reckoned}."
        ).format(
            night=it.night("bears_pot_c" if in_pot else "tried_c"),
            count=f"{it.number('share') * total:.0f}",
            total=f"{total:.0f}",
            share=localised(f"{it.number('share'):.2f}"),
            reckoned=it.night("reckoned_c"),
        )
    ]
    if it.factor.is_unverified and not in_pot:
        margin = it.step(UNVERIFIED_MARGIN_C)
        words.append(
            gettext(
                "An unverified figure is taken {margin} warmer, and excludes nothing."
            ).format(margin=margin)
        )
    if not in_pot:
        words.append(gettext("Poor above 0.1, no from 0.5: bounds of our own."))
    if it.has("zone") and it.has("zone_min") and it.has("zone_max"):
        zones = [it.factor.number(name) for name in ("zone_min", "zone_max", "zone")]
        words.append(
            gettext(
                "Grown in hardiness zones {zone_min} to {zone_max}; here {zone}."
            ).format(zone_min=zones[0], zone_max=zones[1], zone=zones[2])
        )
    if basis is not None and not basis.seasons:
        words.append(gettext("Made-up nights were lowered by what they are too mild."))
    return f"{' '.join(words)} {capfirst(_years(basis))}."


def _bloom(it: FactorTeller, basis: FitBasis | None) -> str:
    total = it.number("springs")
    killing = it.number("killing")
    return gettext(
        "Share of springs = springs with a night of {bears} or colder "
        "within 7 days of full bloom ÷ springs = {killing} ÷ {total} = "
        "{share}. Good up to 0.2, poor above 0.5: bounds of our own. "
        "{years}."
    ).format(
        bears=it.night("bears_c"),
        killing=f"{killing:.0f}",
        total=f"{total:.0f}",
        share=localised(f"{it.number('share'):.2f}"),
        years=capfirst(_years(basis)),
    )


def _space(it: FactorTeller, basis: FitBasis | None) -> str:
    del basis
    return gettext(
        "Widest circle inside the free area, less buildings and grown "
        "crowns: {room}; grown crown: {spread}."
    ).format(room=it.amount("room_m", "m"), spread=it.amount("spread_m", "m"))


_SUMS: dict[Topic, Callable[[FactorTeller, FitBasis | None], str]] = {
    Topic.CHILL: _chill,
    Topic.COLD: _cold,
    Topic.BLOOM_FROST: _bloom,
    Topic.SPACE: _space,
}
