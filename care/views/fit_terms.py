"""The words of verdicts, and what numbers of a factor look like in them."""

from dataclasses import dataclass

from care.facts.fit import Factor, Topic, Verdict
from care.views.days import DASH
from orchard.units import (
    Quantity,
    UnitSystem,
    format_quantity,
    from_si,
    unit_label,
)

VERDICTS = {
    Verdict.GOOD: "Fits well",
    Verdict.FAIR: "Fits, with care",
    Verdict.POOR: "Fits poorly",
    Verdict.NO: "Does not fit",
    Verdict.UNKNOWN: "Not known yet",
}
TOPICS = {
    Topic.CHILL: "Winter chill",
    Topic.COLD: "Coldest nights",
    Topic.BLOOM_FROST: "Frost at bloom",
    Topic.HEAT: "Heat",
    Topic.SOIL: "Soil",
    Topic.SPACE: "Room",
    Topic.POT: "Life in a pot",
}
FIXES = {
    "low_chill_cultivar": "Choose a cultivar that asks for less chill.",
    "other_cultivar": "Choose a cultivar, or a kind, that asks for less chill.",
    "pot_indoors": "Grow it in a pot that comes indoors on cold nights.",
    "pot_shed": "Bring the pot into an unheated shed on such nights, not into a heated room: it needs its chill.",
    "pot_at_bloom": "Carry the pot to shelter when frost comes at bloom.",
    "warm_wall": "Plant it against a wall that faces the sun.",
    "cover": "Cover it down to the ground on the coldest nights.",
    "late_cultivar": "Choose a cultivar that blooms late.",
    "cover_bloom": "Keep covers ready for frost at bloom.",
    "lime_soil": "Have lime worked in before planting, as a soil laboratory advises.",
    "sulfur_soil": "Sulfur worked in well before planting makes soil more acid, as a soil laboratory advises.",
    "pot_own_mix": "In a pot it has a mix of its own.",
    "keep_small": "Keep it small with cuts, or choose a dwarfing stock.",
    "plant_in_ground": "Plant it in the ground instead.",
}
CAUTIONS = {
    "lift_pot": "A grown pot is too heavy for one: two people or a dolly, backs straight, not on steps.",
    "prune_in_dry_summer": "Winters are wet here: prune it in dry summer weather, six weeks before rain.",
    "prune_stone_dry": "Winters are wet here: cut it in dry weather only, for wet cuts let disease in.",
    "leaf_curl": "Rain at bud break brings leaf curl: choose a cultivar that resists it, or grow it under eaves.",
    "blossom_rot": "Rain at bloom makes blossom rot: leave air between branches.",
    "flowers_rot": "Rain at bloom makes flowers rot, and little fruit sets.",
    "fruit_splits": "Rain at harvest splits the fruit: pick before it.",
    "fruit_rots": "Rain at harvest makes fruit rot: pick early and often.",
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
        return f"{self.number(name):,.0f}"

    def amount(self, name: str, unit: str) -> str:
        """Return an amount in the reader's units."""
        return format_quantity(self.number(name), unit, self.units)

    def night(self, name: str) -> str:
        """Return a temperature."""
        return self.amount(name, "°C")

    def step(self, step_c: float) -> str:
        """Return how much warmer or colder."""
        value = from_si(step_c, Quantity.TEMPERATURE_STEP, self.units)
        return f"{value:.1f} {unit_label(Quantity.TEMPERATURE_STEP, self.units)}"

    def of(self, low: str, high: str, total: str) -> str:
        """Return such as 26 to 28 of 30."""
        return f"{_span(self.number(low), self.number(high))} of {self.count(total)}"

    def chill(self, *names: str) -> str:
        """Return hours, or portions, of chill."""
        unit = "portions" if self.factor.number("unit") == "portions" else "hours"
        return f"{_span(*(self.number(name) for name in names))} {unit}"

    def has(self, name: str) -> bool:
        """Whether the factor carries a number."""
        return self.factor.number(name) is not None


def _span(*ends: float) -> str:
    low, high = f"{min(ends):,.0f}", f"{max(ends):,.0f}"
    return low if low == high else f"{low}{DASH}{high}"
