"""Official warnings are quoted; what is ours stands apart from them."""

from datetime import UTC, datetime, timedelta

import pytest

from care.views.warning_words import for_people, quoted, quoted_all
from orchard.models import OfficialWarning, Site, WeatherSeries

NOW = datetime(2025, 10, 10, 20, 0, tzinfo=UTC)
PORTLAND = Site(time_zone="America/Los_Angeles")
SERVICE = WeatherSeries(name="Public service")


def warning(**values):
    facts = {
        "series": SERVICE,
        "event": "Freeze Warning",
        "headline": "Freeze Warning <issued> until 9 AM",
        "sender": "NWS Somewhere",
        "area": "Lower Valley",
        "sent_at": NOW - timedelta(hours=11),
        "begins_at": NOW + timedelta(hours=10),
        "ends_at": NOW + timedelta(hours=20),
        "expires_at": NOW + timedelta(hours=20),
    }
    return OfficialWarning(**{**facts, **values})


def quote(**values):
    return quoted(warning(**values), PORTLAND, NOW)


def test_source_area_and_time_stand_beside_the_words():
    assert quote().line == (
        "Official: “Freeze Warning <issued> until 9 AM” Issued by NWS Somewhere, today "
        "2:00, in force from today 23:00 to tomorrow 9:00, for Lower Valley."
    )


def test_times_follow_a_change_of_clocks():
    # Clocks go back on 2 November 2025 at nine hours UTC, tz database.
    begins = datetime(2025, 11, 2, 8, 30, tzinfo=UTC)
    one = quoted(
        warning(begins_at=begins, ends_at=begins + timedelta(hours=6)),
        PORTLAND,
        datetime(2025, 11, 1, 23, 0, tzinfo=UTC),
    )
    assert one.when == "in force from tomorrow 1:30 to tomorrow 6:30"


def test_without_a_headline_the_event_and_without_a_sender_the_service_is_named():
    line = quote(headline="", sender="", area="").line
    assert line.startswith("Official: “Freeze Warning” Issued by Public service")
    assert line.endswith("9:00.")


@pytest.mark.parametrize(("length", "is_quoted"), [(400, True), (401, False)])
def test_a_short_instruction_is_quoted_whole_and_a_long_one_is_on_the_page(
    length, is_quoted
):
    one = quote(instruction="x" * length)
    assert ("x" * length in one.line) is is_quoted
    assert one.instruction == "x" * length


def test_a_text_that_should_have_been_replaced_says_so():
    late = quote(expires_at=NOW - timedelta(hours=1))
    assert "meant to be replaced today 12:00" in late.line


@pytest.mark.parametrize(
    ("event", "ours"),
    [
        ("Freeze Warning", ""),
        ("Heat Advisory", "rest in the shade"),
        ("High Wind Warning", "No ladders"),
        ("Severe Thunderstorm Watch", "first thunder"),
        ("Flood Watch", ""),
    ],
)
def test_what_it_means_for_work_is_ours_and_stands_apart(event, ours):
    one = quote(event=event)
    assert ours in one.ours
    assert bool(one.ours) is bool(ours)
    assert not ours or ours not in one.line


def test_people_at_work_are_warned_of_heat_wind_and_thunder():
    warnings = [warning(event=e) for e in ("Frost Advisory", "Heat Advisory")]
    assert [one.event for one in for_people(warnings)] == ["Heat Advisory"]
    assert [one.event for one in quoted_all(warnings, PORTLAND, NOW)] == [
        "Frost Advisory",
        "Heat Advisory",
    ]
