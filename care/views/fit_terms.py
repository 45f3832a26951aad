"""The words of verdicts, and what numbers of a factor look like in them."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext, gettext_noop

from care.facts.fit import Factor, Topic, Verdict
from care.views.days import DASH
from orchard.languages import localised, whole
from orchard.units import (
    Quantity,
    UnitSystem,
    format_quantity,
    from_si,
    unit_label,
)

VERDICTS = {
    Verdict.GOOD: gettext_noop("Fits well"),
    Verdict.FAIR: gettext_noop("Fits, with care"),
    Verdict.POOR: gettext_noop("Fits poorly"),
    Verdict.NO: gettext_noop("Does not fit"),
    Verdict.UNKNOWN: gettext_noop("Not known yet"),
}
TOPICS = {
    Topic.CHILL: gettext_noop("Winter chill"),
    Topic.COLD: gettext_noop("Coldest nights"),
    Topic.BLOOM_FROST: gettext_noop("Frost at bloom"),
    Topic.HEAT: gettext_noop("Heat"),
    Topic.SOIL: gettext_noop("Soil"),
    Topic.SPACE: gettext_noop("Room"),
    Topic.POT: gettext_noop("Life in a pot"),
}
FIXES = {
    "low_chill_cultivar": gettext_noop("Choose a cultivar that asks for less chill."),
    "other_cultivar": gettext_noop(
        "Choose a cultivar, or a kind, that asks for less chill."
    ),
    "pot_indoors": gettext_noop("Grow it in a pot that comes indoors on cold nights."),
    "pot_shed": gettext_noop(
        "Bring the pot into an unheated shed on such nights, not into a heated room: it needs its chill."
    ),
    "pot_at_bloom": gettext_noop("Carry the pot to shelter when frost comes at bloom."),
    "warm_wall": gettext_noop("Plant it against a wall that faces the sun."),
    "cover": gettext_noop("Cover it down to the ground on the coldest nights."),
    "late_cultivar": gettext_noop("Choose a cultivar that blooms late."),
    "cover_bloom": gettext_noop("Keep covers ready for frost at bloom."),
    "lime_soil": gettext_noop(
        "Have lime worked in before planting, as a soil laboratory advises."
    ),
    "sulfur_soil": gettext_noop(
        "Sulfur worked in well before planting makes soil more acid, as a soil laboratory advises."
    ),
    "pot_own_mix": gettext_noop("In a pot it has a mix of its own."),
    "keep_small": gettext_noop("Keep it small with cuts, or choose a dwarfing stock."),
    "plant_in_ground": gettext_noop("Plant it in the ground instead."),
}
CAUTIONS = {
    "lift_pot": gettext_noop(
        "A grown pot is too heavy for one: two people or a dolly, backs straight, not on steps."
    ),
    "prune_in_dry_summer": gettext_noop(
        "Winters are wet here: prune it in dry summer weather, six weeks before rain."
    ),
    "prune_stone_dry": gettext_noop(
        "Winters are wet here: cut it in dry weather only, for wet cuts let disease in."
    ),
    "leaf_curl": gettext_noop(
        "Rain at bud break brings leaf curl: choose a cultivar that resists it, or grow it under eaves."
    ),
    "blossom_rot": gettext_noop(
        "Rain at bloom makes blossom rot: leave air between branches."
    ),
    "flowers_rot": gettext_noop(
        "Rain at bloom makes flowers rot, and little fruit sets."
    ),
    "fruit_splits": gettext_noop("Rain at harvest splits the fruit: pick before it."),
    "fruit_rots": gettext_noop(
        "Rain at harvest makes fruit rot: pick early and often."
    ),
}


@dataclass(frozen=True, slots=True)
class FactorTeller:
    """A factor and its reader's units."""

    factor: Factor
    units: UnitSystem

    def number(self, name: str) -> float:
        """Return a number of the factor, 0 where it carries none."""
        value = self.factor.number(name)
        return float(value) if isinstance(value, int | float) else 0.0

    def count(self, name: str) -> str:
        """Return a whole number."""
        return whole(self.number(name))

    def amount(self, name: str, unit: str) -> str:
        """Return an amount in the reader's units."""
        return format_quantity(self.number(name), unit, self.units)

    def night(self, name: str) -> str:
        """Return a temperature."""
        return self.amount(name, "°C")

    def step(self, step_c: float) -> str:
        """Return how much warmer or colder."""
        value = from_si(step_c, Quantity.TEMPERATURE_STEP, self.units)
        return f"{localised(f'{value:.1f}')} {unit_label(Quantity.TEMPERATURE_STEP, self.units)}"

    def of(self, low: str, high: str, total: str) -> str:
        """Return such as 26 to 28 of 30."""
        return gettext("{span} of {count}").format(
            span=_span(self.number(low), self.number(high)), count=self.count(total)
        )

    def chill(self, *names: str) -> str:
        """Return hours, or portions, of chill."""
        return chill_words(
            [self.number(name) for name in names],
            in_portions=self.factor.number("unit") == "portions",
        )

    def has(self, name: str) -> bool:
        """Whether the factor carries a number."""
        return self.factor.number(name) is not None


def said(words: str) -> Callable[[FactorTeller], str]:
    """Return what says a marked text, whatever the factor."""

    def say(it: FactorTeller) -> str:
        del it
        return gettext(words)

    return say


def chill_words(ends: Sequence[float], *, in_portions: bool) -> str:
    """Return hours, or portions, such as ``800 hours``."""
    span = _span(*ends)
    if in_portions:
        return gettext("{span} portions").format(span=span)
    return gettext("{span} hours").format(span=span)


def _span(*ends: float) -> str:
    low, high = whole(min(ends)), whole(max(ends))
    return low if low == high else f"{low}{DASH}{high}"
