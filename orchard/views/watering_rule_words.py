"""The local watering rules in words."""

from django.utils.translation import gettext

from orchard.languages import every_year, weekday_name
from orchard.models import WateringRule


def watering_rule_words(rule: WateringRule) -> str:
    """Return a rule as whoever may not change it reads it."""
    names = ", ".join(weekday_name(int(digit)) for digit in rule.weekdays)
    if names:
        words = gettext("From {start} to {end} water on {days} only{free}{source}.")
    else:
        words = gettext("From {start} to {end} water on no day{free}{source}.")
    return words.format(
        start=every_year(rule.start_month, rule.start_day),
        end=every_year(rule.end_month, rule.end_day),
        days=names,
        free=_free(rule),
        source=f" ({rule.source})" if rule.source else "",
    )


def _free(rule: WateringRule) -> str:
    if rule.spares_hand_watering and rule.spares_containers:
        return gettext("; watering by hand and of pots is free")
    if rule.spares_hand_watering:
        return gettext("; watering by hand is free")
    return gettext("; watering of pots is free") if rule.spares_containers else ""
