"""Who pollinates whom, in words."""

from collections.abc import Sequence

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
from orchard.units import UnitSystem, format_quantity

_QUOTES = "\N{LEFT SINGLE QUOTATION MARK}{}\N{RIGHT SINGLE QUOTATION MARK}"

_WHY_NOT = {
    Refusal.UNNAMED: "one of the two has no cultivar's name; name it to know",
    Refusal.SAME_CULTIVAR: "the same cultivar, so no partner",
    Refusal.NAMED_AGAINST: "known not to suit each other",
    Refusal.POLLEN_STERILE: "its own pollen is no good",
    Refusal.FEMALE: "female too, so it gives no pollen",
    Refusal.SEX_NOT_KNOWN: "nobody said whether it is male or female",
    Refusal.SAME_FLOWER_TYPE: "its flowers open in the same order, so they miss it",
    Refusal.BLOOM_APART: "blooms at another time",
    Refusal.KINDS_DO_NOT_CROSS: "of a kind not to be counted on for this one",
    Refusal.TOO_FAR: "would suit, but is too far away",
}
_PLAIN = {
    Verdict.ALONE: "Sets fruit by itself.",
    Verdict.GIVES_POLLEN: "A male: it gives pollen and bears no fruit.",
    Verdict.SEX_NOT_KNOWN: "This kind has male and female plants. Say which this one "
    "is, and its partner can be told.",
    Verdict.NOT_KNOWN: "Whether it needs a partner is not known.",
}


def kind_words(plant: PlantFacts) -> str:
    """Return ``apple, Gala`` of a plant."""
    name = plant.cultivar_name.strip()
    kind = plant.species.name
    return f"{kind} {_QUOTES.format(name)}" if name else f"{kind}, cultivar not named"


def partner_words(row: PartnerRow, units: UnitSystem) -> str:
    """Return how one plant fares, and what to do where it lacks something."""
    plain = _PLAIN.get(row.verdict)
    if plain is not None:
        return f"{plain}{_by_hand(row)}"
    return f"{_SENTENCES[row.verdict](row, units)}{_by_hand(row)}{_male(row)}"


def other_words(other: NotPartner, units: UnitSystem) -> str:
    """Return who looks like a partner, how far away, and why it is none."""
    where = _distance(other.distance_m, units)
    return f"{_who(other)}{where}: {_WHY_NOT[other.why]}."


def reach_words(row: PartnerRow, units: UnitSystem) -> str:
    """Return how far a partner may stand, and how well that is known."""
    rule = row.pollination.rule
    near = format_quantity(rule.near_m, "m", units)
    wind = "Wind carries its pollen, not bees. " if _is_by_wind(row) else ""
    if rule.farthest_m is None:
        return f"{wind}Within {near} is near enough; how far it carries we do not know."
    farthest = format_quantity(rule.farthest_m, "m", units)
    if rule.farthest_m == rule.near_m:
        return f"{wind}A partner counts within {near}."
    return f"{wind}A partner within {near} is good, within {farthest} poor."


def _is_by_wind(row: PartnerRow) -> bool:
    return row.facts.species.key in BY_WIND


def _partnered(row: PartnerRow, units: UnitSystem) -> str:
    return f"{_given_by(row, units)}."


def _far(row: PartnerRow, units: UnitSystem) -> str:
    return f"{_given_by(row, units)}. That is far: it will set less."


def _perhaps(row: PartnerRow, units: UnitSystem) -> str:
    best = row.pollination.partners[0]
    if best.distance_m is None:
        why = "nobody measured how far they stand from each other"
    else:
        why = "how far the wind carries enough is not known"
    return f"{_given_by(row, units)}, perhaps: {why}."


def _lacks(row: PartnerRow, units: UnitSystem) -> str:
    if "add_male" in row.needs:
        males = _names(row.suggestions)
        such = f", such as {males}" if males else ""
        return f"Needs pollen from a male plant: add one{such}."
    if "name_cultivar" in row.needs:
        return (
            "Needs a partner of another cultivar. Name its own first: then it can be "
            "told which."
        )
    return f"Needs a partner{_within(row, units)}: {_remedy(row)}."


def _lacks_second(row: PartnerRow, units: UnitSystem) -> str:
    return (
        f"{_given_by(row, units)}, but gives no good pollen back. It needs two partners "
        f"that suit each other: {_remedy(row)}."
    )


def _helped(row: PartnerRow, units: UnitSystem) -> str:
    return f"Sets fruit alone, and more with a partner. {_given_by(row, units)}."


def _sets_alone(row: PartnerRow, units: UnitSystem) -> str:
    if row.partner:
        return f"Sets fruit alone, and more with a partner. {_perhaps(row, units)}"
    names = _names(row.suggestions)
    such = f", such as {names}" if names else ""
    return f"Sets fruit alone; more with a partner{_within(row, units)}{such}."


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
        return "add another cultivar that blooms with it, or graft one onto it"
    return f"add {names}, or graft one onto it"


def _names(names: Sequence[str]) -> str:
    *first, last = names or ("",)
    return f"{', '.join(first)} or {last}" if first else last


def _within(row: PartnerRow, units: UnitSystem) -> str:
    rule = row.pollination.rule
    return f" within {format_quantity(rule.farthest_m or rule.near_m, 'm', units)}"


def _given_by(row: PartnerRow, units: UnitSystem) -> str:
    """Return ``Pollen from Fuji by the gate, 8 m away, which blooms with it``."""
    is_pair = row.pollination.is_pollen_sterile and row.verdict in {
        Verdict.PARTNERED,
        Verdict.FAR,
        Verdict.PERHAPS,
    }
    shown = row.pollination.partners[: 2 if is_pair else 1]
    return "Pollen from " + " and ".join(_giver(each, units) for each in shown)


def _giver(partner: Partner, units: UnitSystem) -> str:
    where = _distance(partner.distance_m, units)
    if partner.is_graft and partner.distance_m == 0:
        where = ""
    elif partner.is_to_nearest:
        where = f"{where.removesuffix(' away')} from the nearest of yours of its kind"
    once = ", once it is planted" if partner.standing is Standing.WANTED else ""
    return f"{_who(partner)}{where}{once}, {_bloom(partner)}"


def _bloom(partner: Partner) -> str:
    if partner.ground is Ground.NAMED:
        return "named as its partner"
    if partner.ground is Ground.KINDS:
        return "another kind, which helps in years when both bloom together"
    if partner.bloom is Bloom.MEETS:
        return "which blooms at the same time"
    return "if they bloom together (see whether they do)"


def _who(one: Partner | NotPartner) -> str:
    cultivar = one.cultivar_name.strip()
    if isinstance(one, Partner) and one.is_graft:
        return f"{cultivar} grafted onto {one.name}"
    named = cultivar and cultivar.casefold() not in one.name.casefold()
    name = f"{one.name} ({cultivar})" if named else one.name
    if one.standing is not Standing.NEIGHBOUR:
        return name
    return f"{name.replace('_', ' ')}, a neighbour's tree"


def _distance(distance_m: float | None, units: UnitSystem) -> str:
    if distance_m is None:
        return ", not measured how far away"
    return f", {format_quantity(distance_m, 'm', units)} away"


def _by_hand(row: PartnerRow) -> str:
    if row.facts.species.key not in BY_HAND or row.verdict is Verdict.GIVES_POLLEN:
        return ""
    return " Pollen put on by hand, with a small brush, sets more."


def _male(row: PartnerRow) -> str:
    if not row.pollination.has_crowded_male:
        return ""
    females = row.pollination.females_at_its_male
    return f" That male serves {females} females; one serves about eight."
