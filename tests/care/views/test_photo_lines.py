"""Seasons of photos: named by where it is, the same days of other years beside."""

from datetime import date, timedelta

import pytest
from hypothesis import given, strategies as st

from care.models import Photo
from care.views.photo_lines import (
    MOST_YEARS,
    photo_line,
    season_name,
    season_of,
    side_by_side,
)
from orchard.models import Tree

TODAY = date(2025, 7, 2)
NORTH_DEG, SOUTH_DEG, TROPIC_DEG = 47.4, -33.9, 1.3


def photo(day: date, **values: object) -> Photo:
    facts = {"width": 1600, "height": 1200, **values}
    return Photo(tree=Tree(name="Anna"), on=day, **facts)


# Three whole months each, winter of the north from December: WMO's vocabulary.
@pytest.mark.parametrize(
    ("day", "season", "year"),
    [
        (date(2024, 11, 30), 3, 2024),
        (date(2024, 12, 1), 0, 2024),
        (date(2025, 1, 15), 0, 2024),
        (date(2025, 2, 28), 0, 2024),
        (date(2025, 3, 1), 1, 2025),
        (date(2025, 5, 31), 1, 2025),
        (date(2025, 6, 1), 2, 2025),
        (date(2025, 8, 31), 2, 2025),
    ],
)
def test_seasons_begin_with_their_months(day, season, year):
    assert season_of(day) == (season, year)


@pytest.mark.parametrize(
    ("latitude_deg", "names"),
    [
        (NORTH_DEG, ["Winter", "Spring", "Summer", "Autumn"]),
        (SOUTH_DEG, ["Summer", "Autumn", "Winter", "Spring"]),
        (
            TROPIC_DEG,
            [
                "December to February",
                "March to May",
                "June to August",
                "September to November",
            ],
        ),
    ],
)
def test_a_season_is_called_what_it_is_there(latitude_deg, names):
    assert [season_name(season, latitude_deg) for season in range(4)] == names


def test_the_photo_of_nearly_the_same_days_stands_beside_the_newest():
    days = [date(2023, 12, 5), date(2024, 2, 20), date(2025, 1, 3), date(2024, 12, 30)]
    (row,) = side_by_side([photo(day) for day in days], NORTH_DEG, TODAY)
    assert row.title == "Winter"
    assert [line.on for line in row.photos] == [date(2023, 12, 5), date(2025, 1, 3)]
    assert [line.year for line in row.photos] == [
        "2023\N{EN DASH}24",
        "2024\N{EN DASH}25",
    ]


def test_this_season_comes_first_and_one_year_alone_stands_nowhere():
    days = [
        *(date(2023, 4, 1), date(2024, 4, 1)),
        *(date(2023, 7, 1), date(2024, 7, 1)),
        date(2024, 10, 1),
    ]
    rows = side_by_side([photo(day) for day in days], SOUTH_DEG, TODAY)
    assert [row.title for row in rows] == ["Winter", "Autumn"]


@given(st.lists(st.dates(date(1990, 1, 1), TODAY), max_size=30))
def test_of_every_season_each_year_stands_once_and_in_order(days):
    for row in side_by_side([photo(day) for day in days], NORTH_DEG, TODAY):
        seasons = [season_of(line.on) for line in row.photos]
        assert len({season for season, _ in seasons}) == 1
        years = [year for _, year in seasons]
        assert years == sorted(set(years))
        assert 2 <= len(years) <= MOST_YEARS
        newest = max(day for day in days if season_of(day) == seasons[-1])
        assert row.photos[-1].on == newest


@pytest.mark.parametrize(
    ("size", "small"),
    [((1600, 1200), (320, 240)), ((100, 50), (100, 50)), ((1600, 2), (320, 1))],
)
def test_a_line_says_the_size_of_the_thumbnail(size, small):
    width, height = size
    line = photo_line(photo(TODAY, width=width, height=height), TODAY)
    assert (line.width, line.height) == small


def test_words_tell_who_cannot_see_it_what_it_shows():
    day = TODAY - timedelta(days=1)
    assert photo_line(photo(day), TODAY).words == "Photo of Anna, 1 July"
    line = photo_line(photo(day, caption="Canker"), TODAY)
    assert line.words == "Photo of Anna, 1 July: Canker"
