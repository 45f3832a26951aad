"""When to plant, as people are told it."""

from dataclasses import replace
from datetime import date

import pytest

from care.facts import MonthDay, RainFacts, RainState, Stock
from care.planning.when_to_plant import PlantingYear, time_of_tree
from care.science.planting_time import PlaceYear
from care.views.days import DASH
from care.views.planting_time_words import (
    SUITS,
    WAITS,
    basis_words,
    outside_words,
    time_words,
)
from orchard.units import UnitSystem
from tests.care.rules.cases import MILD, SHORT, WARM, orange, species
from tests.care.science.planting_places import SEATTLE_YEAR, seattle, wanted

WINTER_RAIN = RainFacts(RainState.AWAITED, usual_start=283, usual_end=100)
JULY = date(2015, 7, 2)
POT = {"in_container": True, "container_litres": 50.0}


def year_of(today=JULY, site=MILD, *, rains=None, coldest_c=None, zone=8, told=True):
    place = PlaceYear(SEATTLE_YEAR if told else None, coldest_c, zone)
    return PlantingYear(today, site, None, rains, place)


def told(kind, year, units=UnitSystem.METRIC, **facts):
    tree = wanted(kind, year.today, **facts)
    return time_words(time_of_tree(tree, year), tree, year, units)


def test_wait_is_an_answer_with_its_reason_and_its_days():
    words = told(species(), year_of(rains=WINTER_RAIN))
    assert words.answer == "Wait until 10 October"
    assert words.why == (
        "The summer is dry; it roots with the first rains. Plant it then until "
        "24 December."
    )
    assert words.lines[0].days == f"10 October {DASH} 24 December"
    assert words.lines[0].why == "with the first rains after a dry summer"
    assert not words.is_alarm


def test_now_says_until_when_and_what_would_be_better():
    spring = year_of(date(2015, 4, 10), rains=WINTER_RAIN)
    words = told(species(), spring)
    assert words.answer == "Plant now, until 15 June"
    assert words.why == (
        f"Better still: 10 October {DASH} 24 December, with the first rains after a dry "
        "summer."
    )
    assert [line.is_current for line in words.lines].count(True) == 1
    best = told(species(), year_of(date(2015, 11, 1), rains=WINTER_RAIN))
    assert (best.answer, best.why) == ("Plant now, until 24 December", "")
    always = told(orange(), year_of(site=WARM, told=False))
    assert always.answer == "Plant now, or at any time"
    assert always.lines[0].days == "At any time"


def test_too_little_time_before_winter_is_said_with_what_helps():
    late = told(orange(), year_of(date(2015, 6, 14)), caliper_mm=40.6)
    assert late.why.startswith(
        f"Better still: 21 March {DASH} 15 June 2016: it then has"
    )
    now = next(line for line in late.lines if line.is_current)
    assert late.growth == now.growth
    assert now.growth == (
        "It grows about 5 months before winter and needs 6: too short to settle. Then "
        "cover it in its first winter; a thinner trunk needs less."
    )
    cold = told(species(), year_of(site=SHORT, zone=5))
    assert "mulch it and water on in its second year." in cold.lines[0].growth
    zone_6 = told(species(), year_of(zone=6), caliper_mm=25.4)
    assert "needs 6 to 8 of regular water" in zone_6.lines[0].growth


def test_never_says_what_cold_forbids_it_and_what_would_help():
    cold = year_of(coldest_c=-12.0)
    words = told(orange(container_ok="good"), cold)
    assert (words.answer, words.is_alarm) == ("Never outdoors here", True)
    assert words.why == (
        "A usual winter's coldest night is -12 °C; a grown one is hurt at -3.3 °C, "
        "and no cover makes up for that. In a pot that comes indoors it can live."
    )
    assert "In a pot" not in told(orange(container_ok="poor"), cold).why
    assert "10 °F" in told(orange(), cold, UnitSystem.US).why
    cacao = orange(move_in_temp_c=15.0)
    indoors = told(cacao, year_of(), **POT)
    assert "do not stay above 15 °C for long enough" in indoors.why


def test_a_day_outside_its_times_is_told_the_nearest():
    year = year_of(rains=WINTER_RAIN)
    time = time_of_tree(wanted(species(), JULY), year)
    assert outside_words(time, date(2015, 10, 20), JULY) == ""
    assert outside_words(time, date(2015, 8, 1), JULY) == (
        f"That is not its time: better 10 October {DASH} 24 December."
    )
    never = time_of_tree(wanted(orange(), JULY), year_of(coldest_c=-12.0))
    assert "would not live" in outside_words(never, JULY, JULY)


def test_what_it_was_reckoned_from_is_said():
    assert "follow the calendar" in basis_words(year_of(told=False))
    site = replace(MILD, safe_last_frost=MonthDay(4, 21), hottest_from=MonthDay(7, 9))
    words = basis_words(year_of(site=site))
    assert words == (
        "Reckoned from the weather of this place. After 21 April a frost still comes "
        "one year in ten. Its six hottest weeks begin about 9 July."
    )
    wet = basis_words(year_of(rains=WINTER_RAIN))
    assert wet.endswith("Its rains usually last from about 10 October to 10 April.")
    series = replace(seattle(), origin="n" * len(seattle()))
    typed = replace(year_of(), series=series)
    assert basis_words(typed).startswith("Reckoned from the usual months typed for")


CASES = [
    (kind, stock, site, rains, facts)
    for kind in (species(), orange(), replace(orange(), feed_group="tropical"))
    for stock in Stock
    for site in (MILD, SHORT, WARM)
    for rains in (
        None,
        WINTER_RAIN,
        replace(WINTER_RAIN, usual_start=145, usual_end=290),
    )
    for facts in ({}, POT)
]


@pytest.mark.parametrize("month", [1, 7])
def test_every_time_has_its_words(month):
    for kind, stock, site, rains, facts in CASES:
        year = year_of(date(2015, month, 2), site, rains=rains)
        time = time_of_tree(wanted(kind, year.today, stock=stock, **facts), year)
        for span in time.spans:
            assert span.code in SUITS
            assert span.code in WAITS or span.code == "planting_at_any_time"
