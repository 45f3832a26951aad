"""Who pollinates whom, in words."""

from collections.abc import Sequence

from django.utils.translation import gettext, gettext_noop

from care.facts import PlantFacts, Standing
from care.planning.partners import (
    BY_HAND,
    BY_WIND,
    Bloom,
    Ground,
    NotPartner,
    Partner,
    PartnerRow,
    Refusal,
    Verdict,
)
from orchard.catalogue.search import called
from orchard.languages import either, listed
from orchard.units import UnitSystem, format_quantity

_QUOTES = "\N{LEFT SINGLE QUOTATION MARK}{}\N{RIGHT SINGLE QUOTATION MARK}"

_WHY_NOT = {
    Refusal.UNNAMED: gettext_noop(
        "one of the two has no cultivar's name; name it to know"
    ),
    Refusal.SAME_CULTIVAR: gettext_noop("the same cultivar, so no partner"),
    Refusal.NAMED_AGAINST: gettext_noop("known not to suit each other"),
    Refusal.POLLEN_STERILE: gettext_noop("its own pollen is no good"),
    Refusal.FEMALE: gettext_noop("female too, so it gives no pollen"),
    Refusal.SEX_NOT_KNOWN: gettext_noop("nobody said whether it is male or female"),
    Refusal.SAME_FLOWER_TYPE: gettext_noop(
        "its flowers open in the same order, so they miss it"
    ),
    Refusal.BLOOM_APART: gettext_noop("blooms at another time"),
    Refusal.KINDS_DO_NOT_CROSS: gettext_noop(
        "of a kind not to be counted on for this one"
    ),
    Refusal.TOO_FAR: gettext_noop("would suit, but is too far away"),
}
_PLAIN = {
    Verdict.ALONE: gettext_noop("Sets fruit by itself."),
    Verdict.GIVES_POLLEN: gettext_noop("A male: it gives pollen and bears no fruit."),
    Verdict.SEX_NOT_KNOWN: gettext_noop(
        "This kind has male and female plants. Say which this one "
        "is, and its partner can be told."
    ),
    Verdict.NOT_KNOWN: gettext_noop("Whether it needs a partner is not known."),
}


def kind_words(plant: PlantFacts) -> str:
    """Return ``apple, Gala`` of a plant."""
    name = plant.cultivar_name.strip()
    kind = called(plant.species.name)
    return (
        f"{kind} {_QUOTES.format(name)}"
        if name
        else gettext("{kind}, cultivar not named").format(kind=kind)
    )


def partner_words(row: PartnerRow, units: UnitSystem) -> str:
    """Return how one plant fares, and what to do where it lacks something."""
    plain = _PLAIN.get(row.verdict)
    if plain is not None:
        return f"{gettext(plain)}{_by_hand(row)}"
    return f"{_SENTENCES[row.verdict](row, units)}{_by_hand(row)}{_male(row)}"


def other_words(other: NotPartner, units: UnitSystem) -> str:
    """Return who looks like a partner, how far away, and why it is none."""
    where = _distance(other.distance_m, units)
    return f"{_who(other)}{where}: {gettext(_WHY_NOT[other.why])}."


def reach_words(row: PartnerRow, units: UnitSystem) -> str:
    """Return how far a partner may stand, and how well that is known."""
    rule = row.pollination.rule
    near = format_quantity(rule.near_m, "m", units)
    wind = (
        gettext("Wind carries its pollen, not bees.") + " " if _is_by_wind(row) else ""
    )
    if rule.farthest_m is None:
        return wind + gettext(
            "Within {near} is near enough; how far it carries we do not know."
        ).format(near=near)
    farthest = format_quantity(rule.farthest_m, "m", units)
    if rule.farthest_m == rule.near_m:
        return wind + gettext("A partner counts within {near}.").format(near=near)
    return wind + gettext(
        "A partner within {near} is good, within {farthest} poor."
    ).format(near=near, farthest=farthest)


def _is_by_wind(row: PartnerRow) -> bool:
    return row.facts.species.key in BY_WIND


def _partnered(row: PartnerRow, units: UnitSystem) -> str:
    return f"{_given_by(row, units)}."


def _far(row: PartnerRow, units: UnitSystem) -> str:
    return gettext("{given_by}. That is far: it will set less.").format(
        given_by=_given_by(row, units)
    )


def _perhaps(row: PartnerRow, units: UnitSystem) -> str:
    best = row.pollination.partners[0]
    if best.distance_m is None:
        why = gettext("nobody measured how far they stand from each other")
    else:
        why = gettext("how far the wind carries enough is not known")
    return gettext("{given_by}, perhaps: {why}.").format(
        given_by=_given_by(row, units), why=why
    )


def _lacks(row: PartnerRow, units: UnitSystem) -> str:
    if "add_male" in row.needs:
        males = _names(row.suggestions)
        such = gettext(", such as {males}").format(males=males) if males else ""
        return gettext("Needs pollen from a male plant: add one{such}.").format(
            such=such
        )
    if "name_cultivar" in row.needs:
        return gettext(
            "Needs a partner of another cultivar. Name its own first: then it can be "
            "told which."
        )
    return gettext("Needs a partner{within}: {remedy}.").format(
        within=_within(row, units), remedy=_remedy(row)
    )


def _lacks_second(row: PartnerRow, units: UnitSystem) -> str:
    return gettext(
        "{given_by}, but gives no good pollen back. It needs two partners "
        "that suit each other: {remedy}."
    ).format(given_by=_given_by(row, units), remedy=_remedy(row))


def _helped(row: PartnerRow, units: UnitSystem) -> str:
    return gettext("Sets fruit alone, and more with a partner. {given_by}.").format(
        given_by=_given_by(row, units)
    )


def _sets_alone(row: PartnerRow, units: UnitSystem) -> str:
    if row.partner:
        more = gettext("Sets fruit alone, and more with a partner.")
        return f"{more} {_perhaps(row, units)}"
    names = _names(row.suggestions)
    such = gettext(", such as {names}").format(names=names) if names else ""
    return gettext("Sets fruit alone; more with a partner{within}{such}.").format(
        within=_within(row, units), such=such
    )


_SENTENCES = {
    Verdict.PARTNERED: _partnered,
    Verdict.FAR: _far,
    Verdict.PERHAPS: _perhaps,
    Verdict.LACKS: _lacks,
    Verdict.LACKS_SECOND: _lacks_second,
    Verdict.HELPED: _helped,
    Verdict.SETS_ALONE: _sets_alone,
}


def _remedy(row: PartnerRow) -> str:
    names = _names(row.suggestions)
    if not names:
        return gettext("add another cultivar that blooms with it, or graft one onto it")
    return gettext("add {names}, or graft one onto it").format(names=names)


def _names(names: Sequence[str]) -> str:
    return either(names)


def _within(row: PartnerRow, units: UnitSystem) -> str:
    rule = row.pollination.rule
    return gettext(" within {distance}").format(
        distance=format_quantity(rule.farthest_m or rule.near_m, "m", units)
    )


def _given_by(row: PartnerRow, units: UnitSystem) -> str:
    """Return ``Pollen from Fuji by the gate, 8 m away, which blooms with it``."""
    is_pair = row.pollination.is_pollen_sterile and row.verdict in {
        Verdict.PARTNERED,
        Verdict.FAR,
        Verdict.PERHAPS,
    }
    shown = row.pollination.partners[: 2 if is_pair else 1]
    return gettext("Pollen from {givers}").format(
        givers=listed([_giver(each, units) for each in shown])
    )


def _giver(partner: Partner, units: UnitSystem) -> str:
    where = _distance(partner.distance_m, units)
    if partner.is_graft and partner.distance_m == 0:
        where = ""
    elif partner.is_to_nearest:
        where = _distance_to_nearest(partner.distance_m, units)
    once = (
        gettext(", once it is planted") if partner.standing is Standing.WANTED else ""
    )
    return f"{_who(partner)}{where}{once}, {_bloom(partner)}"


def _bloom(partner: Partner) -> str:
    if partner.ground is Ground.NAMED:
        return gettext("named as its partner")
    if partner.ground is Ground.KINDS:
        return gettext("another kind, which helps in years when both bloom together")
    if partner.bloom is Bloom.MEETS:
        return gettext("which blooms at the same time")
    return gettext("if they bloom together (see whether they do)")


def _who(one: Partner | NotPartner) -> str:
    cultivar = one.cultivar_name.strip()
    if isinstance(one, Partner) and one.is_graft:
        return gettext("{cultivar} grafted onto {name}").format(
            cultivar=cultivar, name=one.name
        )
    named = cultivar and cultivar.casefold() not in one.name.casefold()
    name = f"{one.name} ({cultivar})" if named else one.name
    if one.standing is not Standing.NEIGHBOUR:
        return name
    return gettext("{name}, a neighbour's tree").format(name=name.replace("_", " "))


def _distance(distance_m: float | None, units: UnitSystem) -> str:
    if distance_m is None:
        return gettext(", not measured how far away")
    return gettext(", {distance} away").format(
        distance=format_quantity(distance_m, "m", units)
    )


def _distance_to_nearest(distance_m: float | None, units: UnitSystem) -> str:
    if distance_m is None:
        return gettext(", not measured how far from the nearest of yours of its kind")
    return gettext(", {distance} from the nearest of yours of its kind").format(
        distance=format_quantity(distance_m, "m", units)
    )


def _by_hand(row: PartnerRow) -> str:
    if row.facts.species.key not in BY_HAND or row.verdict is Verdict.GIVES_POLLEN:
        return ""
    return gettext(" Pollen put on by hand, with a small brush, sets more.")


def _male(row: PartnerRow) -> str:
    if not row.pollination.has_crowded_male:
        return ""
    females = row.pollination.females_at_its_male
    return gettext(
        " That male serves {females} females; one serves about eight."
    ).format(females=females)
