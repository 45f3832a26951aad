"""What the rains mean for watering, in one line."""

from datetime import date, timedelta

import pytest

from care.facts import RainState
from care.planning.rains import Rains, dry_days_now
from care.views.rain_notice import (
    GroundWater,
    ground_water,
    notice_words,
    rain_notice,
)
from care.views.rain_words import rains_notice
from tests.care.planning.test_rain_year import even
from tests.care.views.test_rain_words import BEGAN, MAYBE, SINCE
from tests.conftest import TODAY as SITE_TODAY

TODAY = date(2023, 6, 20)
SURE = Rains(RainState.SET_IN, SINCE, 80, 80, BEGAN)
UNSURE = Rains(RainState.SET_IN, SINCE, 80, 80, MAYBE)
REST = GroundWater(9, date(2023, 7, 14), 0)


@pytest.mark.parametrize(
    ("rains", "dry_days", "water", "words"),
    [
        (
            SURE,
            3,
            REST,
            "The rains set in on 10 May. Leave the trees in the ground alone; pots "
            "still need a look.",
        ),
        (
            UNSURE,
            3,
            GroundWater(9, TODAY, 2),
            "The rains seem to have set in since 10 June; still uncertain until 13 "
            "July, as a long dry spell could follow. 2 trees in the ground still need "
            "water this week.",
        ),
        (
            SURE,
            3,
            GroundWater(9, TODAY, 1),
            "The rains set in on 10 May. 1 tree in the ground still needs water this "
            "week.",
        ),
        (
            SURE,
            12,
            REST,
            "Dry for 12 days again: watering of trees in the ground resumes about 14 "
            "July.",
        ),
        (
            SURE,
            12,
            GroundWater(9, TODAY, 2),
            "Dry for 12 days again: trees in the ground need water now.",
        ),
        (
            SURE,
            12,
            GroundWater(9, None, 0),
            "Dry for 12 days again: no tree in the ground needs water yet.",
        ),
        (SURE, 12, GroundWater(0, None, 0), "The rains set in on 10 May."),
    ],
)
def test_news_of_the_rains_says_what_follows(rains, dry_days, water, words):
    # On the day on which an onset is sure, it is news.
    today = min(rains.sure_on, TODAY) if rains is SURE else TODAY
    news = rains_notice(rains, today)
    assert notice_words(rains, news, dry_days, water, TODAY) == words


def test_the_end_of_the_rains_tells_when_watering_begins():
    ended = Rains(RainState.ENDED, SINCE, 80, 80, BEGAN)
    words = notice_words(ended, "The rains ended on 1 June.", 19, REST, TODAY)
    assert words == (
        "The rains ended on 1 June. Watering of trees in the ground resumes about 14 "
        "July."
    )


def test_dry_days_are_those_that_were_read():
    today = date(2015, 3, 1)
    dry = [(date(2015, 2, day), date(2015, 2, day)) for day in (20,)]
    series = even(unread=dry)
    series.rain_mm[series.index(date(2015, 2, 21)) : series.index(today)] = 0.4
    series.rain_mm[series.index(today)] = 0.0
    # 21 to 28 February and today; the day before the 21st nobody read.
    assert dry_days_now(series, today) == 9
    assert dry_days_now(even(), today) == 0
    gone = even(unread=[(today - timedelta(days=2), date(2015, 12, 31))])
    assert dry_days_now(gone, today) == 0


def test_without_weather_or_a_season_there_is_no_news(site):
    assert rain_notice(site, None, SITE_TODAY) == ""
    assert rain_notice(site, even(), date(2015, 3, 1)) == ""
    site.refresh_from_db()
    assert site.planned_on is None  # and nothing was planned for it


def test_only_open_waterings_of_trees_in_the_ground_count(site, make_tree, make_task):
    ground, other = make_tree(), make_tree(name="Other")
    pot = make_tree(name="Pot", in_container=True, container_litres=40.0)
    make_task(ground, days=20)
    make_task(other, days=5)
    make_task(other, days=1, status="done")
    make_task(pot, days=0)
    found = ground_water(site, SITE_TODAY)
    assert found == GroundWater(2, SITE_TODAY + timedelta(days=5), 1)
