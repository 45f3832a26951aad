"""The local rules of watering; written with the other facts of a site."""

from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass

from orchard.models import Person, Site, WateringRule

NAMES = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


@dataclass(frozen=True, slots=True)
class RuleValues:
    """One rule as a form has checked it; ``weekdays`` are digits, Monday 0."""

    start_month: int
    start_day: int
    end_month: int
    end_day: int
    weekdays: str = ""
    spares_hand_watering: bool = False
    spares_containers: bool = False
    source: str = ""

    @property
    def words(self) -> str:
        """The rule as the trail tells it."""
        days = ", ".join(NAMES[int(digit)] for digit in self.weekdays) or "no day"
        spared = [
            *(["by hand"] if self.spares_hand_watering else []),
            *(["pots"] if self.spares_containers else []),
        ]
        free = f", free: {' and '.join(spared)}" if spared else ""
        source = f" ({self.source})" if self.source else ""
        return (
            f"{self.start_day}/{self.start_month} to {self.end_day}/{self.end_month}: "
            f"{days}{free}{source}"
        )


def _values(rule: WateringRule) -> RuleValues:
    return RuleValues(
        start_month=rule.start_month,
        start_day=rule.start_day,
        end_month=rule.end_month,
        end_day=rule.end_day,
        weekdays=rule.weekdays,
        spares_hand_watering=rule.spares_hand_watering,
        spares_containers=rule.spares_containers,
        source=rule.source,
    )


def rule_words(rules: Iterable[RuleValues]) -> list[str]:
    """Return rules as the trail tells them, in one order however they came."""
    return sorted(rule.words for rule in set(rules))


def write_watering_rules(
    site: Site, rules: Sequence[RuleValues], person: Person | None
) -> list[str]:
    """Replace a site's rules; return in words what they were. A part of actions.

    What stays keeps who entered it.
    """
    before = {_values(rule): rule for rule in site.watering_rules.all()}
    for values, rule in before.items():
        if values not in rules:
            rule.delete()
    WateringRule.objects.bulk_create(
        WateringRule(site=site, entered_by=person, **asdict(values))
        for values in dict.fromkeys(rules)
        if values not in before
    )
    return rule_words(before)
