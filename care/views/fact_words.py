"""Every stored number of a task, named for whoever wants all of them."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

#: The fact that holds codes of a list, which has a place of its own on the page.
CHECKS = "checks"

# Longest ending first, so that g_per_m2 is not read as m2.
_UNITS = (
    ("_litres_per_day", "L/day"),
    ("_g_per_ml", "g/mL"),
    ("_kg_per_l", "kg/L"),
    ("_g_per_m2", "g/m²"),
    ("_mm_per_m", "mm/m"),
    ("_percent", "%"),
    ("_seconds", "s"),
    ("_minutes", "min"),
    ("_litres", "L"),
    ("_days", "days"),
    ("_hours", "h"),
    ("_deg", "°"),
    ("_kpa", "kPa"),
    ("_kg", "kg"),
    ("_kv", "kV"),
    ("_m2", "m²"),
    ("_mm", "mm"),
    ("_ml", "mL"),
    ("_ms", "m/s"),
    ("_l", "L"),
    ("_c", "°C"),
    ("_g", "g"),
    ("_m", "m"),
)
# Names that their short form alone would not tell.
_NAMES = {
    "add": "depth to add",
    "alarm": "act at or below",
    "available": "water the soil holds",
    "balance_settled": "the daily balance has settled",
    "beyond_cover": "too cold for a cover",
    "bold": "next pot by the bold rule",
    "careful": "next pot by the careful rule",
    "check_new": "feel the soil first",
    "curve_number": "curve number of runoff",
    "deficit": "dryness of the air",
    "depletion_p": "share of the water easily used",
    "depletion_p_table": "share of the water easily used, in the table",
    "depletion_p_today": "share of the water easily used, today",
    "easy": "water easily used",
    "et0": "reference evapotranspiration of the day",
    "evening": "minimum by tonight's reading",
    "extra_margin": "more, as the figure is unchecked",
    "figure": "figure it goes by",
    "filled_month": "of the last 30, their temperature filled",
    "grown_pot": "least pot for its kind, grown",
    "hot_et0": "evapotranspiration of a hot day",
    "is_typed": "reading typed by somebody",
    "kc": "crop coefficient",
    "kc_end": "crop coefficient, end of the season",
    "kc_ini": "crop coefficient, start of the season",
    "kc_mid": "crop coefficient, full leaf",
    "kc_table_end": "crop coefficient in the table, end",
    "kc_table_ini": "crop coefficient in the table, start",
    "kc_table_mid": "crop coefficient in the table, full leaf",
    "limit_gap": "ground to keep bare round the trunk",
    "net": "water short on the day",
    "gross": "water to pour",
    "pk": "share times coefficient",
    "pocket": "colder here than the station",
    "practice": "growers' custom",
    "rule_by_hand": "the rule spares water by hand",
    "rule_capacity": "water the soil holds at most",
    "rule_day": "day the rule leaves",
    "rule_days_moved": "days from the best day to the allowed one",
    "rule_forbids": "the rule forbids these days",
    "rule_late_if_dry": "late by the rule if nobody watered",
    "rule_latest": "last day without the rule",
    "rule_moved_from": "best day without the rule",
    "rule_net_due": "water short on the best day",
    "rule_next_allowed": "next day the rule allows",
    "rule_short_from": "likely short of water from",
    "rule_source": "local watering rule",
    "rule_use": "what it uses a day until then",
    "rule_weekdays": "weekdays the rule allows",
    "spare": "left before it suffers",
    "store": "water the watered soil holds",
    "outer_store": "water other soil within reach holds",
    "splits": "feedings in the season",
    "split": "number of this feeding",
    "tmax": "maximum of the day",
    "tmin": "minimum of the day",
    "told": "minimum as told",
    "unhardened": "taken off, as it is not hardened",
    "worst": "coldest that is possible",
    "yield_factor": "what its pickings say beside that",
    "yardstick_low": "by a published table, least",
    "yardstick_high": "by a published table, most",
    "yardstick_parts": "parts of the published table",
    "yardstick_source": "published table",
}
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")


@dataclass(frozen=True, slots=True)
class FactRow:
    """One intermediate number of the working, in SI units."""

    name: str
    value: str


def fact_rows(facts: Iterable[tuple[str, object]]) -> tuple[FactRow, ...]:
    """Return every stored fact for the reader who wants all of them."""
    return tuple(_row(name, value) for name, value in facts if name != CHECKS)


def _row(name: str, value: object) -> FactRow:
    plain, unit = _split_unit(name)
    words = _value_words(value)
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    return FactRow(
        _name_words(plain), f"{words} {unit}".strip() if is_number else words
    )


def _split_unit(name: str) -> tuple[str, str]:
    for ending, unit in _UNITS:
        if name.endswith(ending) and name != ending[1:]:
            return name.removesuffix(ending), unit
    return name, ""


def _name_words(name: str) -> str:
    if name in _NAMES:
        return _NAMES[name]
    return name.removeprefix("is_").replace("_", " ")


def _value_words(value: object) -> str:
    if value is None or value == "":
        return "not known"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:.4g}"
    words = str(value)
    if _DAY.fullmatch(words):
        day = date.fromisoformat(words)
        return f"{day.day} {day:%B %Y}"
    return words.replace("_", " ")
