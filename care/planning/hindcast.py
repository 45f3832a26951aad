"""How good the plans of earlier Mondays were: told from what was known then, and came.

On every Monday of a site's record the plan's own functions are asked with the weather
cut off at that morning. What came is what the same functions say of the weather that
followed, as if it had been forecast: so the look back judges how well the weather
ahead was imagined, not whether a tree keeps to its model.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from care.planning.ensemble import NEVER, likely_day, soon
from care.planning.frost_outlook import with_record_dates
from care.planning.hindcast_record import DAY, Record, as_it_came, known_on
from care.planning.hindcast_report import (
    ChanceTold,
    Telling,
    day_told,
    report_of,
)
from care.planning.hindcast_seasons import Seasons
from care.planning.hindcast_water import WaterLog, WaterMonday
from care.planning.site_weather import judge_weather

MOST_MONDAYS = 260  # five years, so that an old record takes a minute and no hour


@dataclass(slots=True)
class LookBack:
    """All that was told on some Mondays, each with what came."""

    mondays: list[date] = field(default_factory=list)
    tellings: list[Telling] = field(default_factory=list)
    chances: list[ChanceTold] = field(default_factory=list)


def hindcast(record: Record) -> dict[str, object]:
    """Return the report of a site's record, ready to be stored or printed."""
    mondays = record.mondays[-MOST_MONDAYS:]
    looked = look_back(record, mondays)
    return report_of(looked.tellings, looked.chances, looked.mondays) | {
        "record": {"first": str(record.first), "last": str(record.last)}
    }


def look_back(record: Record, mondays: Sequence[date]) -> LookBack:
    """Return what was told on some Mondays of a record, and what came.

    Parameters
    ----------
    record : Record
    mondays : sequence of datetime.date
        In order. Nothing of a Monday or later goes into what is told on it.
    """
    looked = LookBack()
    whole = as_it_came(record)
    weather = None if whole is None else judge_weather(record.site, whole)
    if whole is None or weather is None:
        return looked
    water, seasons = WaterLog(whole, weather), Seasons(whole)
    for monday in mondays:
        known = known_on(record, monday)
        if known is None or not known.covers(monday):
            continue
        site = with_record_dates(record.site, known, monday)
        looked.mondays.append(monday)
        waterings = water.monday(site, known, monday)
        if waterings is not None:
            _add_waterings(looked, monday, waterings)
        looked.tellings += seasons.monday(site, known, monday)
    return looked


def _add_waterings(looked: LookBack, monday: date, found: WaterMonday) -> None:
    for kind, days in found.told.items():
        came = found.came[kind]
        if came is None:
            continue
        told = likely_day(
            days,
            monday,
            until=monday + timedelta(days=found.reach_days),
            firm_until=monday - DAY,
            members=found.futures.members,
        )
        came_on = None if came == NEVER else monday + timedelta(days=came)
        looked.tellings.append(day_told(kind, monday, told, came_on))
        looked.chances += [
            ChanceTold(monday, chance, came <= within, told.members.past_years)
            for within, chance in soon(days).items()
        ]
