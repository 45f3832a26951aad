"""What blooms that people saw taught of one species' spring."""

from dataclasses import dataclass
from datetime import date

from care.facts import TreeFacts
from care.planning.gather import Records, by_tree
from care.planning.seen_stages import seen_blooms
from care.planning.stages import FARTHEST_FROM_MONTHS_DAYS, bloom_lessons, site_year
from care.science.phenology import bloom_degree_hours

__all__ = ["FARTHEST_FROM_MONTHS_DAYS", "LearnedBloom", "learned_bloom"]


@dataclass(frozen=True, slots=True)
class LearnedBloom:
    """The warmth from rest to full bloom, as blooms that were seen have it.

    ``usual_hours`` is what the plan takes without them, ``None`` where it knows none.
    ``is_own`` tells that the tree itself was seen, and not others of its kind alone.
    """

    degree_hours: float
    usual_hours: float | None
    blooms: int
    since: date
    is_own: bool


def learned_bloom(records: Records, tree: TreeFacts) -> LearnedBloom | None:
    """Return what blooms of a tree, or else of its kind, taught; ``None`` without any."""
    year = site_year(records.site, records.weather, records.today)
    observations = by_tree(records.observations)
    kind = [one for one in records.trees if one.species.key == tree.species.key]
    seen = {
        one.id: seen_blooms(year, one, observations.get(one.id, ())) for one in kind
    }
    teachers = [seen[tree.id]] if seen[tree.id] else list(seen.values())
    lessons = bloom_lessons(year, tree.species, teachers)
    if not lessons:
        return None
    days = [day for each in teachers for day in each.values()]
    return LearnedBloom(
        degree_hours=sum(lessons) / len(lessons),
        usual_hours=bloom_degree_hours(tree.species),
        blooms=len(lessons),
        since=min(days),
        is_own=bool(seen[tree.id]),
    )
