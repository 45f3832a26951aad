"""When feeding begins and ends, and how its parts lie in between."""

from dataclasses import replace
from datetime import date
from itertools import pairwise

import pytest
from hypothesis import given, settings, strategies as st

from care.facts import Blackout, MonthDay, SiteFacts
from care.science.citrus_ladders import florida_citrus
from care.science.feeding_windows import (
    between_days,
    feeding_stop,
    outside_blackouts,
    split_windows,
    stop_basis,
)
from care.science.ladder_sources import FOOT_M, POUND_G, SQUARE_FOOT_M2
from care.science.mulch import ring_area_m2
from care.science.season import Window, growth_start
from tests.care.rules.cases import MILD, SHORT, WARM, WARM_SOUTH, orange, species

# Phoenix, Arizona, in round numbers.
ARIZONA = SiteFacts(
    latitude_deg=33.4,
    elevation_m=340.0,
    soil_texture="loam",
    last_frost=MonthDay(2, 1),
    first_frost=MonthDay(12, 10),
)


def windows_of(season, kind, site, **more):
    start = growth_start(season, kind, site)
    return split_windows(season, kind, site, start=start, **more)


def test_stop_dates():
    peach = species("peach", feed_group="stone")
    # Penn State Extension: never after 15 July, which blocks 20 July
    assert feeding_stop(2014, peach, SHORT) == date(2014, 7, 15)
    assert date(2014, 7, 20) > feeding_stop(2014, peach, SHORT)
    # eight weeks before the first frost
    assert feeding_stop(2014, orange(), SHORT) == date(2014, 8, 10)
    assert feeding_stop(2014, peach, MILD) == date(2014, 9, 15)
    # UF/IFAS HS132: until October where it does not freeze
    assert feeding_stop(2014, orange(), WARM) == date(2014, 10, 31)
    assert feeding_stop(2014, orange(), WARM_SOUTH) == date(2015, 4, 30)
    unknown = replace(MILD, first_frost=None)
    assert feeding_stop(2014, peach, unknown) == date(2014, 7, 15)
    sites = (SHORT, MILD, WARM, unknown)
    assert [stop_basis(2014, peach, site) for site in sites] == [
        "short_season",
        "first_frost",
        "frost_free",
        "frost_unknown",
    ]


def test_a_frost_earlier_than_july_stops_sooner():
    high = replace(SHORT, first_frost=MonthDay(8, 20))
    peach = species("peach", feed_group="stone")
    assert feeding_stop(2014, peach, high) == date(2014, 6, 25)
    assert stop_basis(2014, peach, high) == "first_frost"


@pytest.mark.parametrize(
    ("key", "last"),
    [
        # NC Extension: blueberries to early July, grapes to mid-June
        ("blueberry_highbush", (7, 10)),
        ("grape", (6, 20)),
        # UGA: last part mid-July; LSU: none in late summer
        ("fig", (7, 31)),
    ],
)
def test_a_species_own_last_day_counts_where_it_is_earlier(key, last):
    kind = species(key, feed_group="other")
    assert feeding_stop(2014, kind, MILD) == date(2014, *last)
    assert stop_basis(2014, kind, MILD) == "species"
    # where no frost ends the season it may be fed after harvest
    assert feeding_stop(2014, kind, WARM) == date(2014, 10, 31)


def test_avocados_get_none_after_the_first_of_october():
    # UCCE (Faber, 2013), as relayed: last nitrogen on the south coast by 1 October
    avocado = species("avocado", leaf="evergreen", feed_group="tropical")
    assert feeding_stop(2014, avocado, ARIZONA) == date(2014, 10, 1)
    assert feeding_stop(2014, avocado, MILD) == date(2014, 9, 15)


def test_arizona_citrus_is_fed_in_thirds():
    # University of Arizona AZ1671 (2015): Jan-Feb, Mar-Apr, May-Jun
    months = [window.start.month for window in windows_of(2014, orange(), ARIZONA)]
    assert len(months) == 3
    assert months[0] in (1, 2)
    assert months[1] in (3, 4)
    assert months[2] in (5, 6)


def test_florida_citrus_is_fed_from_february_to_october():
    # UF/IFAS HS132 (from memory): February, May or June, September or October
    windows = windows_of(2014, orange(), WARM)
    assert windows[0].start == date(2014, 2, 1)
    assert date(2014, 9, 1) in windows[2]
    assert date(2014, 5, 15) in windows[1]


def test_a_second_part_on_sand_falls_in_may():
    # NC State Extension: half in late winter and half in May
    apple = species(feed_times_per_year=2)
    second = windows_of(2014, apple, MILD)[1]
    assert second.start.month == 5


def test_three_lots_six_weeks_apart():
    # UC Master Gardeners of San Diego County, any mature fruit tree
    kind = species("mulberry", feed_group="other", feed_times_per_year=3)
    starts = [window.start for window in windows_of(2014, kind, ARIZONA)]
    assert [(b - a).days for a, b in pairwise(starts)] == [42, 42]


def test_pots_are_fed_evenly_to_the_stop():
    apple = species(feed_times_per_year=4)
    pot = windows_of(2014, apple, MILD, spread_out=True)
    ground = windows_of(2014, apple, MILD)
    assert pot[-1].start >= ground[-1].start
    assert between_days(orange(), WARM) is None


def test_nothing_before_growth_starts():
    late = date(2014, 5, 20)
    windows = split_windows(2014, species(), MILD, start=late)
    assert windows[0].start == late


@given(
    times=st.integers(1, 8), season=st.integers(2000, 2040), spread_out=st.booleans()
)
@settings(max_examples=40)
def test_splits_never_touch_nor_pass_the_stop(times, season, spread_out):
    for site in (MILD, SHORT, WARM, WARM_SOUTH, ARIZONA):
        for kind in (
            orange(feed_times_per_year=times),
            species(feed_times_per_year=times),
        ):
            windows = windows_of(season, kind, site, spread_out=spread_out)
            assert len(windows) == times
            assert windows[-1].end <= feeding_stop(season, kind, site)
            assert all(early.end < late.start for early, late in pairwise(windows))


@given(times=st.integers(1, 6), season=st.integers(2000, 2040))
@settings(max_examples=30)
def test_southern_splits_mirror_by_half_a_year(times, season):
    for kind in (
        orange(feed_times_per_year=times),
        species(feed_times_per_year=times),
    ):
        north = windows_of(season, kind, WARM)
        south = windows_of(season, kind, WARM_SOUTH)
        for one, other in zip(north, south, strict=True):
            # months differ in length: half a year is 181 to 184 days
            assert 178 <= (other.start - one.start).days <= 187


def test_no_splits_where_growth_starts_after_the_stop():
    arctic = replace(SHORT, last_frost=MonthDay(7, 10), first_frost=MonthDay(8, 10))
    assert windows_of(2014, orange(), arctic) == ()


def test_blackouts_move_or_block():
    summer = Blackout(MonthDay(6, 1), MonthDay(9, 30))
    winter = Blackout(MonthDay(12, 15), MonthDay(1, 31))
    site = replace(WARM, feeding_blackouts=(summer, winter))
    late = Window(date(2014, 9, 20), date(2014, 10, 20))
    assert outside_blackouts(late, site) == Window(date(2014, 10, 1), late.end)
    early = Window(date(2014, 5, 20), date(2014, 6, 20))
    assert outside_blackouts(early, site) == Window(early.start, date(2014, 5, 31))
    assert outside_blackouts(Window(date(2014, 6, 5), date(2014, 7, 5)), site) is None
    assert outside_blackouts(Window(date(2013, 12, 20), date(2014, 1, 5)), site) is None


def test_an_ordinances_rate_is_far_below_a_trees():
    # Orange County, Florida, sec. 15-804: at most 1 lb of nitrogen for 1000 ft2 and
    # application; over an 8 ft circle 0.050 lb (worked out by hand). So a local rule is
    # asked for, and never assumed to spare fruit trees.
    circle_m2 = ring_area_m2(8 * FOOT_M, 0.0, 0.0)
    allowed_g = circle_m2 / SQUARE_FOOT_M2 / 1000 * POUND_G
    assert allowed_g / POUND_G == pytest.approx(0.050, abs=0.0005)
    grown = florida_citrus(5)
    assert allowed_g < grown.low_g / grown.applications / 7
