"""When winter has brought enough for the orchard's own trees, in words."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext, gettext_noop

from care.facts import SpeciesFacts
from care.planning.chill_needs import NeedOutlook, need_outlook
from care.planning.ensemble import LikelyDay
from care.planning.winter import WinterOutlook
from care.views.days import DASH, day_range, short_day
from care.views.likely_words import capitalised, likely_day_words
from care.views.tree_lines import QUOTES
from orchard.catalogue.search import called
from orchard.languages import whole

OF_ONE = {
    "need least": gettext_noop("if it needs least"),
    "need most": gettext_noop("if it needs most"),
}
OF_SEVERAL = {
    "need least": gettext_noop("cultivars that need least"),
    "need most": gettext_noop("cultivars that need most"),
}


@dataclass(frozen=True, slots=True)
class NeedRow:
    """One need of one species: of the cultivars that ask least, or most."""

    name: str
    need: str
    now: str
    past: str


@dataclass(frozen=True, slots=True)
class SpeciesNeed:
    """What a species' cultivars ask for [h of 0 to 7.2 degC]; ``which`` of them."""

    species: SpeciesFacts
    which: str
    hours: float

    @property
    def name(self) -> str:
        """The species or cultivar, and which of its figures."""
        return f"{self.kind}, {self.whose}" if self.which else self.kind

    @property
    def kind(self) -> str:
        """The species, with its cultivar where the need is that one's."""
        cultivar = self.species.chill_of
        name = called(self.species.name)
        return f"{name} {QUOTES.format(cultivar)}" if cultivar else name

    @property
    def whose(self) -> str:
        """Which cultivars, or which end of a cultivar's range; empty with one need."""
        if self.species.chill_of and self.which:
            return gettext(OF_ONE[self.which])
        return gettext(OF_SEVERAL[self.which]) if self.which else ""


def needs_of(kinds: Iterable[SpeciesFacts]) -> list[SpeciesNeed]:
    """Return the needs of some trees' species by name, those of least need first.

    A tree whose cultivar is known has a need of its own. Species without a figure, and
    those that keep their leaves, have none; each need is told once.
    """
    ordered = sorted(kinds, key=lambda kind: (kind.name, kind.chill_of))
    told = {
        (need.name, need.hours): need for species in ordered for need in _needs(species)
    }
    return list(told.values())


def need_rows(
    outlook: WinterOutlook,
    needs: Iterable[SpeciesNeed],
    enough: Mapping[float, LikelyDay],
    today: date,
) -> list[NeedRow]:
    """Return a row for each need of the orchard's species.

    Parameters
    ----------
    outlook : WinterOutlook
    needs : iterable of SpeciesNeed
    enough : mapping of float to LikelyDay
        When this winter meets them, by their hours; empty where nothing tells.
    today : datetime.date
    """
    return [_row(need, outlook, enough.get(need.hours), today) for need in needs]


def _row(
    need: SpeciesNeed, outlook: WinterOutlook, likely: LikelyDay | None, today: date
) -> NeedRow:
    found = need_outlook(outlook, need.hours)
    is_unverified = "chill_hours_min" in need.species.unverified
    hours = whole(need.hours)
    return NeedRow(
        name=need.name,
        need=gettext("{hours}, unverified").format(hours=hours)
        if is_unverified
        else hours,
        now=_now(found, outlook, likely, today),
        past=_past(found),
    )


def _needs(species: SpeciesFacts) -> list[SpeciesNeed]:
    least, most = species.chill_hours_min, species.chill_hours_max
    if species.leaf != "deciduous" or not least:
        return []
    if most is None or most == least:
        return [SpeciesNeed(species, "", least)]
    return [
        SpeciesNeed(species, "need least", least),
        SpeciesNeed(species, "need most", most),
    ]


def _now(
    found: NeedOutlook,
    outlook: WinterOutlook,
    likely: LikelyDay | None,
    today: date,
) -> str:
    winter = outlook.latest
    if not winter.is_told:
        return gettext("Unknown")
    if found.met_first is not None and found.met_surely is not None:
        return gettext("Enough since {day_range}").format(
            day_range=day_range(found.met_first, found.met_surely, today)
        )
    if found.met_first is not None:
        return gettext("Perhaps enough since {met_first}").format(
            met_first=short_day(found.met_first, today)
        )
    if winter.is_over:
        return gettext("Not enough last winter")
    if likely is None:
        return gettext("Not yet")
    return capitalised(likely_day_words(likely, today, since="since"))


def _past(found: NeedOutlook) -> str:
    if not found.winters:
        return gettext("None on record")
    low, high = found.met_at_least, found.met_at_most
    span = f"{low}" if low == high else f"{low}{DASH}{high}"
    return gettext("{span} of {winters}").format(span=span, winters=found.winters)
