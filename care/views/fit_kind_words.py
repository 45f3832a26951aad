"""One kind in full: each factor with its numbers, its sum and its sources."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.translation import gettext, gettext_noop, pgettext

from care.facts.fit import Factor, FitBasis, KindFit, PlaceFit, Topic, Verdict
from care.planning.fit_choice import fruits_alone
from care.planning.fit_site import SiteFit
from care.views.cautions import caution_words
from care.views.days import DASH
from care.views.fit_sums import sum_of
from care.views.fit_terms import CAUTIONS, FIXES, TOPICS, VERDICTS, chill_words
from care.views.fit_words import (
    caution_sentence,
    factor_words,
    fix_words,
    line_words,
    name_words,
)
from care.views.references import Reference, references
from orchard.catalogue.note_words import note_words
from orchard.catalogue.search import called
from orchard.catalogue.species import Species
from orchard.languages import whole
from orchard.units import UnitSystem, format_quantity

ALONE = {
    "yes": gettext_noop("Fruits alone"),
    "partial": gettext_noop("Fruits better with a partner"),
    "no": gettext_noop("Needs a partner"),
}


@dataclass(frozen=True, slots=True)
class FactorSheet:
    """One factor as the page shows it."""

    title: str
    verdict: str
    words: str
    sum: str
    is_unverified: bool
    fixes: tuple[str, ...]
    references: tuple[Reference, ...]


@dataclass(frozen=True, slots=True)
class PlaceSheet:
    """The ground, or a pot."""

    title: str
    verdict: str
    words: str
    fix: str
    factors: tuple[FactorSheet, ...]


@dataclass(frozen=True, slots=True)
class WinterRow:
    """One winter of those a kind is tried in."""

    name: str
    hours: str
    portions: str


@dataclass(frozen=True, slots=True)
class KindSheet:
    """A kind tried at a site."""

    key: str
    species_key: str
    cultivar: str
    name: str
    botanical: str
    alone: str
    places: tuple[PlaceSheet, ...]
    cautions: tuple[str, ...]
    notes: tuple[str, ...]
    winters: tuple[WinterRow, ...]
    minima: str


@dataclass(frozen=True, slots=True)
class CultivarRow:
    """One line of the comparison."""

    key: str
    name: str
    is_this: bool
    chill: str
    met: str
    ground: str
    pot: str


def kind_sheet(
    fit: KindFit, found: SiteFit, species: Species, units: UnitSystem
) -> KindSheet:
    """Return one kind as its page shows it; ``species`` names the sources."""
    basis = None if found.years is None else found.years.basis
    return KindSheet(
        key=fit.key,
        species_key=fit.species.key,
        cultivar="" if fit.cultivar is None else fit.cultivar.name,
        name=name_words(fit),
        botanical=species.botanical_name,
        alone=gettext(ALONE.get(fruits_alone(fit), "")),
        places=tuple(
            _place(fit, title, basis, species, units, in_pot=in_pot)
            for title, in_pot in (
                (gettext("In the ground"), False),
                (gettext("In a pot"), True),
            )
        ),
        cautions=(
            *_danger_words(fit),
            *(caution_sentence(each, units) for each in fit.cautions),
        ),
        notes=tuple(
            note_words(note)
            for note in (species.invasive_note, species.toxicity_note)
            if note
        ),
        winters=_winters(found),
        minima=_minima(found, units),
    )


#: What a way out asks to mind.
DANGERS = {
    "pot_indoors": "lift_pot",
    "pot_shed": "lift_pot",
    "pot_at_bloom": "lift_pot",
    "cover": "no_open_flame",
    "cover_bloom": "no_open_flame",
    "sulfur_soil": "sulfur_dust",
}


def _danger_words(fit: KindFit) -> tuple[str, ...]:
    """Return what to mind in what would help."""
    codes = {
        DANGERS[code]
        for place in (fit.ground, fit.pot)
        for factor in place.factors
        for code in factor.fixes
        if code in DANGERS
    }
    own = tuple(gettext(CAUTIONS[code]) for code in sorted(codes) if code in CAUTIONS)
    return (*caution_words(codes - CAUTIONS.keys()), *own)


def _place(
    fit: KindFit,
    title: str,
    basis: FitBasis | None,
    species: Species,
    units: UnitSystem,
    *,
    in_pot: bool,
) -> PlaceSheet:
    place = fit.place(in_pot=in_pot)
    return PlaceSheet(
        title=title,
        verdict=gettext(VERDICTS[place.verdict]),
        words=_summary(place, units),
        fix=fix_words(place),
        factors=tuple(
            _factor(factor, basis, species, units) for factor in place.factors
        ),
    )


def _summary(place: PlaceFit, units: UnitSystem) -> str:
    words = line_words(place, units)
    if place.verdict is Verdict.GOOD:
        return gettext("Nothing known speaks against it. {words}").format(words=words)
    return words


def _factor(
    factor: Factor, basis: FitBasis | None, species: Species, units: UnitSystem
) -> FactorSheet:
    return FactorSheet(
        title=gettext(TOPICS[factor.topic]),
        verdict=gettext(VERDICTS[factor.verdict]),
        words=factor_words(factor, units),
        sum=sum_of(factor, basis, units),
        is_unverified=factor.is_unverified,
        fixes=tuple(gettext(FIXES[code]) for code in factor.fixes),
        references=references(factor.sources, species) if factor.sources else (),
    )


def _winters(found: SiteFit) -> tuple[WinterRow, ...]:
    years = found.years
    if years is None:
        return ()
    count = years.chill_hours.shape[1]
    names = [
        str(season) if found.site.is_southern else f"{season - 1}/{season % 100:02d}"
        for season in years.basis.seasons
    ] or [
        gettext("Made-up winter {number}").format(number=number)
        for number in range(1, count + 1)
    ]
    return tuple(
        WinterRow(
            name,
            _span(years.chill_hours[:, place]),
            _span(years.portions[:, place]),
        )
        for place, name in enumerate(names)
    )


def _span(values: Iterable[float]) -> str:
    ordered = sorted(round(float(value)) for value in values)
    low, high = whole(ordered[0]), whole(ordered[-1])
    return low if low == high else f"{low}{DASH}{high}"


def _minima(found: SiteFit, units: UnitSystem) -> str:
    if found.years is None:
        return ""
    ordered = sorted(float(value) for value in found.years.minima_c)
    return ", ".join(format_quantity(value, "°C", units) for value in ordered)


def cultivar_rows(fits: Iterable[KindFit], mine: KindFit) -> list[CultivarRow]:
    """Return a species and its cultivars side by side; nothing for one alone."""
    rows = [_row(fit, is_this=fit.key == mine.key) for fit in fits]
    return rows if len(rows) > 1 else []


def _row(fit: KindFit, *, is_this: bool) -> CultivarRow:
    chill = fit.ground.factor(Topic.CHILL)
    need, met = _need(chill)
    return CultivarRow(
        key=fit.key,
        name=called(fit.species.name) if fit.cultivar is None else fit.cultivar.name,
        is_this=is_this,
        chill=need,
        met=met,
        ground=gettext(VERDICTS[fit.ground.verdict]),
        pot=gettext(VERDICTS[fit.pot.verdict]),
    )


def _need(chill: Factor | None) -> tuple[str, str]:
    if chill is None or chill.number("need_least") is None:
        is_none = chill is not None and chill.verdict is Verdict.GOOD
        return (
            pgettext("chill asked for", "none")
            if is_none
            else pgettext("chill asked for", "not known")
        ), ""
    ends = [
        float(value)
        for name in ("need_least", "need_most")
        if isinstance(value := chill.number(name), int | float)
    ]
    need = chill_words(ends, in_portions=chill.number("unit") == "portions")
    if chill.is_unverified:
        need = gettext("{need}, unverified").format(need=need)
    met = [
        float(value)
        for name in ("met_surely", "met_perhaps")
        if isinstance(value := chill.number(name), int | float)
    ]
    total = chill.number("winters")
    return need, gettext("{span} of {count}").format(
        span=_span(met), count=f"{total:.0f}"
    )
