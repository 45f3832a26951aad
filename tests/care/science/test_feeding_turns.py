"""Which parts of a season are still open, and from when."""

from dataclasses import replace
from datetime import date

from care.facts import Answer, Blackout, MonthDay, WorkDone
from care.science.feeding_turns import blocked_season, not_before, open_windows
from tests.care.rules.cases import MILD, WARM, morning, orange, tree

FEBRUARY = date(2014, 2, 10)


def fed(key, on, what="done"):
    return WorkDone(1, "feeding", key, on, what)


def open_splits(today, *work, site=WARM, **changes):
    citrus = tree(orange(), **changes)
    situation = morning(today, citrus, site, work=work)
    return [split for split, _window in open_windows(situation, 2014)]


def test_what_was_done_or_skipped_or_missed_is_closed():
    assert open_splits(FEBRUARY) == [1, 2, 3]
    assert open_splits(FEBRUARY, fed("2014/1", FEBRUARY)) == [2, 3]
    assert open_splits(FEBRUARY, fed("2014/2", FEBRUARY, "skipped")) == [1, 3]
    assert open_splits(date(2014, 4, 20)) == [2, 3]
    assert open_splits(date(2014, 11, 5)) == []


def test_words_and_questions_close_no_part_and_are_no_feeding():
    words = (fed("2014/told", FEBRUARY), fed("2014/growth", FEBRUARY))
    assert open_splits(FEBRUARY, *words) == [1, 2, 3]
    assert not_before(morning(FEBRUARY, tree(planted_on=None), work=words)) == date.min


def test_parts_before_an_entry_as_fed_are_closed():
    entered = date(2014, 3, 1)
    yes = {"entered_on": entered, "fed_before": Answer.YES}
    assert open_splits(entered, **yes) == [2, 3]


def test_four_weeks_after_feeding_and_three_after_planting():
    situation = morning(FEBRUARY, tree(planted_on=date(2014, 2, 1)))
    assert not_before(situation) == date(2014, 2, 22)
    again = replace(situation, work=(fed("2014/1", FEBRUARY),))
    assert not_before(again) == date(2014, 3, 10)


def test_a_blackout_over_all_of_a_window_closes_it():
    summer = Blackout(MonthDay(5, 1), MonthDay(8, 1))
    site = replace(WARM, feeding_blackouts=(summer,))
    assert open_splits(FEBRUARY, site=site) == [1, 3]
    assert open_splits(FEBRUARY, site=MILD) == [1, 2, 3]


def test_a_season_is_blocked_only_where_no_day_of_it_is_left():
    def blocked(first, last, today=FEBRUARY):
        site = replace(WARM, feeding_blackouts=(Blackout(first, last),))
        return blocked_season(morning(today, tree(orange()), site), 2014)

    assert blocked(MonthDay(6, 1), MonthDay(9, 30)) is None
    whole = blocked(MonthDay(1, 1), MonthDay(12, 31))
    assert (whole.start, whole.end) == (date(2014, 2, 1), date(2014, 9, 27))
    over = date(2014, 10, 20)
    assert blocked(MonthDay(1, 1), MonthDay(12, 31), over) is None
