"""The local watering rules in words."""

from calendar import day_name, month_name

from orchard.models import WateringRule


def watering_rule_words(rule: WateringRule) -> str:
    """Return a rule as whoever may not change it reads it."""
    names = [day_name[int(digit)] for digit in rule.weekdays]
    days = f"on {', '.join(names)} only" if names else "on no day"
    spared = [
        *(["by hand"] if rule.spares_hand_watering else []),
        *(["of pots"] if rule.spares_containers else []),
    ]
    free = f"; watering {' and '.join(spared)} is free" if spared else ""
    source = f" ({rule.source})" if rule.source else ""
    return (
        f"From {rule.start_day} {month_name[rule.start_month]} to {rule.end_day} "
        f"{month_name[rule.end_month]} water {days}{free}{source}."
    )
