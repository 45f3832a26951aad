"""What a line of the log says of work that a phone sent later."""

from datetime import UTC, date, datetime, timedelta

import pytest

from care.models import LogEntry
from care.views.log_late import late_words
from care.views.log_lines import log_line
from care.views.log_people import with_people
from orchard.models import Site
from orchard.units import UnitSystem

FRIDAY = date(2025, 6, 27)
# 9:10 in Los Angeles.
HAPPENED = datetime(2025, 6, 27, 16, 10, tzinfo=UTC)


@pytest.fixture
def entry(site, make_tree):
    Site.objects.filter(pk=site.pk).update(own_today=None)
    return LogEntry.objects.create(
        site=site,
        tree=make_tree(),
        what="done",
        kind="watering",
        action="water",
        on=FRIDAY,
        happened_at=HAPPENED,
        recorded_at=HAPPENED + timedelta(hours=5),
    )


def test_a_line_says_when_it_was_done_and_that_it_came_later(entry):
    (found,) = with_people(LogEntry.objects.filter(pk=entry.pk))
    line = log_line(found, date(2025, 6, 28), UnitSystem.METRIC)
    assert line.detail == "somebody, yesterday · at 9:10, sent later"


@pytest.mark.parametrize("minutes", [0, 15])
def test_what_comes_at_once_needs_no_word(entry, minutes):
    entry.recorded_at = HAPPENED + timedelta(minutes=minutes)
    assert late_words(entry) == ""
    entry.happened_at = None
    assert late_words(entry) == ""


def test_a_day_that_was_typed_is_told_from_the_day_it_was_written(entry):
    entry.site.refresh_from_db()
    entry.on = FRIDAY - timedelta(days=1)
    assert late_words(entry) == ("written down on Friday 27 June at 9:10, sent later")


@pytest.mark.parametrize(
    ("off_s", "words"),
    [
        (3 * 3600, "that phone's clock was 3 h ahead"),
        (-20 * 60, "that phone's clock was 20 min behind"),
        (-5 * 86_400, "that phone's clock was 5 days behind"),
        (-(2**31 - 1), "that phone's clock was 68 years behind"),
        (None, ""),
    ],
)
def test_a_wrong_clock_is_told(entry, off_s, words):
    entry.happened_at = entry.recorded_at
    entry.clock_off_s = off_s
    assert late_words(entry) == words
