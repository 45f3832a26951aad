"""The stages of this year for the orchard's species, in words."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext, gettext_noop, pgettext_lazy

from care.facts import Stage
from care.planning.stages_by_species import SpeciesYear, StageSpan
from care.views.days import day_range

SHOWN = {
    Stage.BUD_BREAK: gettext_noop("Buds open"),
    Stage.FULL_BLOOM: gettext_noop("Full bloom"),
    Stage.HARVEST: gettext_noop("Last picking"),
    Stage.LEAF_DROP: gettext_noop("Leaves down"),
}
BASIS_WORDS = {
    "seen": pgettext_lazy("where a stage's day is from", "seen"),
    "heat": pgettext_lazy("where a stage's day is from", "reckoned"),
    "months": pgettext_lazy("where a stage's day is from", "first guess"),
}


@dataclass(frozen=True, slots=True)
class StageRow:
    """One species: its stages in the order of :data:`SHOWN`, empty where none is."""

    name: str
    stages: tuple[str, ...]

    @property
    def told(self) -> tuple[tuple[str, str], ...]:
        """Each stage's name with its words."""
        return tuple(zip(map(gettext, SHOWN.values()), self.stages, strict=True))


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
