"""Every stored number of a task, named for whoever wants all of them."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext, gettext_noop

from care.views.fact_names import FACT_NAMES
from care.views.fact_values import FACT_VALUES
from orchard.languages import day_of_year, localised

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
    ("_days", gettext_noop("days")),
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
    "add": gettext_noop("depth to add"),
    "alarm": gettext_noop("act at or below"),
    "available": gettext_noop("water the soil holds"),
    "balance_settled": gettext_noop("the daily balance has settled"),
    "beyond_cover": gettext_noop("too cold for a cover"),
    "bold": gettext_noop("next pot by the bold rule"),
    "careful": gettext_noop("next pot by the careful rule"),
    "check_new": gettext_noop("feel the soil first"),
    "curve_number": gettext_noop("curve number of runoff"),
    "deficit": gettext_noop("dryness of the air"),
    "depletion_p": gettext_noop("share of the water easily used"),
    "depletion_p_table": gettext_noop("share of the water easily used, in the table"),
    "depletion_p_today": gettext_noop("share of the water easily used, today"),
    "easy": gettext_noop("water easily used"),
    "et0": gettext_noop("reference evapotranspiration of the day"),
    "evening": gettext_noop("minimum by tonight's reading"),
    "extra_margin": gettext_noop("more, as the figure is unchecked"),
    "figure": gettext_noop("figure it goes by"),
    "filled_month": gettext_noop("of the last 30, their temperature filled"),
    "grown_pot": gettext_noop("least pot for its kind, grown"),
    "hot_et0": gettext_noop("evapotranspiration of a hot day"),
    "is_typed": gettext_noop("reading typed by somebody"),
    "kc": gettext_noop("crop coefficient"),
    "kc_end": gettext_noop("crop coefficient, end of the season"),
    "kc_ini": gettext_noop("crop coefficient, start of the season"),
    "kc_mid": gettext_noop("crop coefficient, full leaf"),
    "kc_table_end": gettext_noop("crop coefficient in the table, end"),
    "kc_table_ini": gettext_noop("crop coefficient in the table, start"),
    "kc_table_mid": gettext_noop("crop coefficient in the table, full leaf"),
    "limit_gap": gettext_noop("ground to keep bare round the trunk"),
    "net": gettext_noop("water short on the day"),
    "gross": gettext_noop("water to pour"),
    "pk": gettext_noop("share times coefficient"),
    "pocket": gettext_noop("colder here than the station"),
    "practice": gettext_noop("growers' custom"),
    "rule_by_hand": gettext_noop("the rule spares water by hand"),
    "rule_capacity": gettext_noop("water the soil holds at most"),
    "rule_day": gettext_noop("day the rule leaves"),
    "rule_days_moved": gettext_noop("days from the best day to the allowed one"),
    "rule_forbids": gettext_noop("the rule forbids these days"),
    "rule_late_if_dry": gettext_noop("late by the rule if nobody watered"),
    "rule_latest": gettext_noop("last day without the rule"),
    "rule_moved_from": gettext_noop("best day without the rule"),
    "rule_net_due": gettext_noop("water short on the best day"),
    "rule_next_allowed": gettext_noop("next day the rule allows"),
    "rule_short_from": gettext_noop("likely short of water from"),
    "rule_source": gettext_noop("local watering rule"),
    "rule_use": gettext_noop("what it uses a day until then"),
    "rule_weekdays": gettext_noop("weekdays the rule allows"),
    "spare": gettext_noop("left before it suffers"),
    "store": gettext_noop("water the watered soil holds"),
    "outer_store": gettext_noop("water other soil within reach holds"),
    "splits": gettext_noop("feedings in the season"),
    "split": gettext_noop("number of this feeding"),
    "tmax": gettext_noop("maximum of the day"),
    "tmin": gettext_noop("minimum of the day"),
    "told": gettext_noop("minimum as told"),
    "unhardened": gettext_noop("taken off, as it is not hardened"),
    "worst": gettext_noop("coldest that is possible"),
    "yield_factor": gettext_noop("what its pickings say beside that"),
    "yardstick_low": gettext_noop("by a published table, least"),
    "yardstick_high": gettext_noop("by a published table, most"),
    "yardstick_parts": gettext_noop("parts of the published table"),
    "yardstick_source": gettext_noop("published table"),
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
        _name_words(plain), f"{words} {gettext(unit)}".strip() if is_number else words
    )


def _split_unit(name: str) -> tuple[str, str]:
    for ending, unit in _UNITS:
        if name.endswith(ending) and name != ending[1:]:
            return name.removesuffix(ending), unit
    return name, ""


def _name_words(name: str) -> str:
    if name in _NAMES:
        return gettext(_NAMES[name])
    plain = name.removeprefix("is_")
    return str(FACT_NAMES.get(plain, plain.replace("_", " ")))


def _value_words(value: object) -> str:
    if value is None or value == "":
        return gettext("not known")
    if isinstance(value, bool):
        return gettext("yes") if value else gettext("no")
    if isinstance(value, float):
        return localised(f"{value:.4g}")
    words = str(value)
    if _DAY.fullmatch(words):
        return day_of_year(date.fromisoformat(words))
    return str(FACT_VALUES.get(words, words.replace("_", " ")))
