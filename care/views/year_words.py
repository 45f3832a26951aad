"""The stages of this year for the orchard's species, in words."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from care.facts import Stage
from care.planning.stages_by_species import SpeciesYear, StageSpan
from care.views.days import day_range

SHOWN = {
    Stage.BUD_BREAK: "Buds open",
    Stage.FULL_BLOOM: "Full bloom",
    Stage.HARVEST: "Last picking",
    Stage.LEAF_DROP: "Leaves down",
}
BASIS_WORDS = {"seen": "seen", "heat": "reckoned", "months": "first guess"}


@dataclass(frozen=True, slots=True)
class StageRow:
    """One species: its stages in the order of :data:`SHOWN`, empty where none is."""

    name: str
    stages: tuple[str, ...]

    @property
    def told(self) -> tuple[tuple[str, str], ...]:
        """Each stage's name with its words."""
        return tuple(zip(SHOWN.values(), self.stages, strict=True))


def stage_rows(kinds: Iterable[SpeciesYear], today: date) -> list[StageRow]:
    """Return each species' stages as dates, and what each date rests on."""
    return [
        StageRow(
            kind.name, tuple(_words(kind.stages.get(stage), today) for stage in SHOWN)
        )
        for kind in kinds
    ]


def _words(span: StageSpan | None, today: date) -> str:
    if span is None:
        return ""
    return f"{day_range(span.first, span.last, today)}, {BASIS_WORDS[span.basis]}"
