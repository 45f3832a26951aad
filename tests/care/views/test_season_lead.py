"""What matters of the season, in a sentence or two."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from care.planning.chill_ahead import chill_ahead
from care.planning.species_facts import species_facts
from care.planning.winter import chill_by_day, winter_outlook
from care.science.season import Window
from care.views.chill_need_words import SpeciesNeed, needs_of
from care.views.days import DASH
from care.views.season_lead import chill_lead, matters, stale_words
from tests.care.planning.test_winter import NEW_YEAR, SITE, WHOLE, marked

APPLE = species_facts("apple")


def needing(hours):
    return [SpeciesNeed(APPLE, "need most", hours)]


def told(needs=(), series=WHOLE, today=NEW_YEAR):
    letters = series.origin[: series.index(today)].ljust(len(series), "n")
    series = replace(series, origin=letters)  # what is to come is not known yet
    outlook = winter_outlook(series, SITE, today)
    ahead = chill_ahead(series, SITE, today, [need.hours for need in needs])
    is_this = ahead and ahead.hours_fan.start == outlook.latest.first
    return chill_lead(outlook, needs, ahead if is_this else None, today)


def test_chill_so_far_beside_a_usual_winter():
    spans = [
        Window(date(y - 1, 11, 1), date(y - 1, 12, 31)) for y in (2013, 2014, 2015)
    ]
    chill = chill_by_day(WHOLE, SITE.latitude_deg, spans, until=NEW_YEAR)
    *before, now = chill.hours.mean(axis=0).sum(axis=1)  # of two: the mean
    usual = sum(before) / 2
    assert told() == (
        f"About {round(now, -1):.0f} hours so far; "
        f"a usual winter has {round(usual, -1):.0f} by now."
    )


def test_the_next_need_that_is_met_and_when():
    words = told([*needing(1000.0), *needing(300.0), *needing(1400.0)])
    assert "Enough for apple, cultivars that need most (1,000): likely" in words
    assert f"{DASH}" in words
    assert "1,400" not in words


def test_where_nothing_tells_a_need_is_not_met_yet():
    outlook = winter_outlook(WHOLE, SITE, NEW_YEAR)
    words = chill_lead(outlook, needing(3000.0), None, NEW_YEAR)
    assert words.endswith("(3,000): not yet.")


def test_all_needs_met_or_out_of_reach():
    assert told(needing(300.0)).endswith("Enough for all your trees.")
    assert told(needing(3000.0)).endswith("(3,000): not likely by 30 May.")


def test_last_winter_is_judged_as_a_whole():
    summer = date(2014, 7, 14)
    words = told(needing(3000.0), today=summer)
    assert words.startswith("About 1,700 hours last winter; the winter before had ")
    assert words.endswith("Not enough for apple, cultivars that need most (3,000).")


def test_the_first_winter_of_a_record_has_nothing_to_go_by():
    first = date(2012, 12, 10)
    words = told(needing(900.0), today=first)
    assert "; " not in words
    assert "(900): likely" in words


def test_too_few_known_days_are_called_that():
    gone = marked(date(2014, 11, 1), date(2015, 3, 31), "n")
    unknown = replace(
        gone, tmin_c=np.where([c == "n" for c in gone.origin], np.nan, gone.tmin_c)
    )
    assert told(series=unknown).startswith("Unknown: the weather of only 0 of 61 days")


def test_where_there_is_none_only_trees_that_ask_for_it_hear_of_it():
    warm = replace(WHOLE, tmin_c=WHOLE.tmin_c + 25, tmax_c=WHOLE.tmax_c + 25)
    outlook = winter_outlook(warm, SITE, NEW_YEAR)
    assert not matters(outlook, [], None)
    assert matters(outlook, needing(200.0), None)
    words = (
        "Too little to matter: hardly any so far, and none of your trees asks for any."
    )
    assert told(series=warm) == words
    assert "not likely by" in told(needing(200.0), series=warm)


def test_needs_are_those_of_the_orchards_own_species():
    found = needs_of(species_facts(key) for key in ("apple", "lemon", "apple"))
    assert [(need.which, need.hours) for need in found] == [
        ("need least", 250),
        ("need most", 1000),
    ]
    assert found[0].name == "Apple, cultivars that need least"


@pytest.mark.parametrize(
    ("last", "is_said"), [(date(2014, 12, 29), False), (date(2014, 12, 28), True)]
)
def test_old_weather_is_called_old_after_three_days(last, is_said):
    series = marked(date(last.year, last.month, last.day + 1), date(2015, 12, 31), "n")
    words = stale_words(series, NEW_YEAR)
    assert bool(words) is is_said
    if is_said:
        assert words.startswith("Nothing was observed here since 28 December 2014.")


def test_usual_weather_alone_never_grows_old():
    assert stale_words(replace(WHOLE, origin="n" * len(WHOLE)), NEW_YEAR) == ""
