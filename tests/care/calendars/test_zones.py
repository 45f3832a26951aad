"""Time zones written as rules, beside the data base of time zones they come from.

The data base is read through the standard library; the rules through another one.
"""

import io
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import icalendar
import pytest
from dateutil.tz import tzical

from care.calendars.zones import time_zone

YEARS = (2025, 2026)
# By rule, by none, by half an hour, by the first Sunday, from -11 to +14 hours.
ZONES = [
    "Pacific/Pago_Pago",
    "Pacific/Honolulu",
    "America/Anchorage",
    "America/Los_Angeles",
    "America/Denver",
    "America/Phoenix",
    "America/Chicago",
    "America/New_York",
    "America/Halifax",
    "America/St_Johns",
    "America/Bogota",
    "America/Sao_Paulo",
    "America/Havana",
    "America/Asuncion",
    "Atlantic/Azores",
    "UTC",
    "Atlantic/Reykjavik",
    "Europe/Lisbon",
    "Europe/London",
    "Europe/Dublin",
    "Europe/Oslo",
    "Europe/Athens",
    "Europe/Istanbul",
    "Asia/Nicosia",
    "Africa/Lagos",
    "Africa/Nairobi",
    "Africa/Johannesburg",
    "Asia/Beirut",
    "Asia/Dubai",
    "Asia/Kolkata",
    "Asia/Kathmandu",
    "Asia/Tokyo",
    "Australia/Perth",
    "Australia/Adelaide",
    "Australia/Sydney",
    "Australia/Lord_Howe",
    "Pacific/Auckland",
    "Pacific/Chatham",
    "Pacific/Tongatapu",
    "Pacific/Kiritimati",
]


def read(name):
    """Return the zone as a program reads it that knows nothing but the file."""
    calendar = icalendar.Calendar()
    calendar.add_component(time_zone(name, *YEARS))
    return tzical(io.StringIO(calendar.to_ical().decode())).get(name)


def moments(name):
    """Return each change of the clocks of the years, and noons, with an hour round."""
    zone, hour = ZoneInfo(name), timedelta(hours=1)
    found = [datetime(year, month, 15, 12) for year in YEARS for month in range(1, 13)]  # noqa: DTZ001
    start = datetime(YEARS[0], 1, 1, tzinfo=UTC)

    def offset(hours):
        return (start + hours * hour).astimezone(zone).utcoffset()

    for day in range(365 * len(YEARS)):
        first = 24 * day
        if offset(first) == offset(first + 24):
            continue
        for number in range(first, first + 24):
            if offset(number) != offset(number + 1):
                edge = (start + number * hour).astimezone(zone).replace(tzinfo=None)
                found += [edge + count * hour for count in (-2, 2, 3)]
    return found


def is_clear(local, zone):
    first, second = (local.replace(tzinfo=zone, fold=fold) for fold in (0, 1))
    return first.utcoffset() == second.utcoffset()


@pytest.mark.parametrize("name", ZONES)
def test_rules_tell_the_same_moment_as_the_data_base(name):
    zone, ours = ZoneInfo(name), read(name)
    checked = [local for local in moments(name) if is_clear(local, zone)]
    assert len(checked) >= 24
    for local in checked:
        assert local.replace(tzinfo=ours).utcoffset() == (
            local.replace(tzinfo=zone).utcoffset()
        ), local


def test_forty_zones_and_those_with_summer_time_are_tried():
    assert len(ZONES) == 40
    changing = [name for name in ZONES if len(moments(name)) > 24]
    assert len(changing) >= 18


def test_a_zone_is_two_rules_and_no_table_of_dates():
    written = time_zone("Pacific/Auckland", 2026, 2026).to_ical().decode()
    # New Zealand Time Order 2007: daylight time from the last Sunday of September to
    # the first Sunday of April; from memory.
    assert written.count("RRULE") == 2
    assert "BYDAY=-1SU;BYMONTH=9" in written
    assert "BYDAY=1SU;BYMONTH=4" in written
    assert "RDATE" not in written
    assert len(written) < 500


def test_a_zone_without_summer_time_has_one_rule_that_changes_nothing():
    written = time_zone("Asia/Kolkata", 2026, 2027).to_ical().decode()
    assert "RRULE" not in written
    assert written.count("+0530") == 2


@pytest.mark.parametrize("name", ["Africa/Casablanca", "Asia/Gaza"])
def test_clocks_that_follow_the_moon_have_no_rule(name):
    assert time_zone(name, 2026, 2026) is None


def test_a_day_that_is_no_weekday_of_its_month_has_a_rule_for_single_years_at_most():
    # Chile: the first Sunday from 2 September on, 8 September in 2024 (IANA, ditto).
    assert time_zone("America/Santiago", 2025, 2026) is None
    one_year = time_zone("America/Santiago", 2026, 2026).to_ical().decode()
    assert "BYDAY=1SU;BYMONTH=9" in one_year


def test_a_zone_that_gave_summer_time_up_is_told_from_the_year_after():
    # Paraguay stayed on summer time in October 2024 (IANA time zone data base,
    # "southamerica").
    assert time_zone("America/Asuncion", 2024, 2024) is None
    assert "RRULE" not in time_zone("America/Asuncion", 2025, 2025).to_ical().decode()


def test_a_year_in_which_a_law_changed_has_no_rule():
    # Turkey stayed on summer time in 2016 (IANA time zone data base, "europe").
    assert time_zone("Europe/Istanbul", 2016, 2016) is None
