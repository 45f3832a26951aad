"""When one tree likely blooms, ripens and has had enough chill, in words."""

from collections.abc import Mapping
from datetime import date

from django.utils.translation import gettext

from care.planning.ensemble import LikelyDay
from care.planning.gather import Records
from care.planning.season_ahead import tree_ahead
from care.views.chill_need_words import SpeciesNeed, needs_of
from care.views.likely_words import capitalised, likely_day_words, members_words


def tree_ahead_rows(records: Records, tree_id: int) -> list[tuple[str, str]]:
    """Return label and words of what is known to come of a tree.

    Parameters
    ----------
    records : Records
        Of its site.
    tree_id : int
    """
    mine = [tree.species for tree in records.trees if tree.id == tree_id]
    needs, today = needs_of(mine), records.today
    ahead = tree_ahead(records, tree_id, [need.hours for need in needs])
    if ahead is None:
        return []
    rows = [
        (gettext("Enough chill"), enough_words(needs, ahead.enough, today)),
        (gettext("Full bloom"), _told(ahead.full_bloom, today)),
        (gettext("First ripe"), _told(ahead.harvest_begins, today)),
    ]
    return [(label, words) for label, words in rows if words]


def enough_words(
    needs: list[SpeciesNeed], enough: Mapping[float, LikelyDay], today: date
) -> str:
    """Return since when, or by when, a species' cultivars have had enough chill."""
    told = [
        (need.whose, likely_day_words(enough[need.hours], today, since="since"))
        for need in needs
        if need.hours in enough
    ]
    words = "; ".join(f"{whose}: {day}" if whose else day for whose, day in told)
    return f"{capitalised(words)}." if words else ""


def _told(likely: LikelyDay | None, today: date) -> str:
    words = capitalised(likely_day_words(likely, today))
    if likely is None or likely.is_firm:
        return f"{words}." if words else ""
    return f"{words} ({members_words(likely.members)})."
