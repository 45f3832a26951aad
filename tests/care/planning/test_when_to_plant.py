"""When to plant, from a record, from typed months, and from nothing but the calendar.

The times of extension pages: bare roots dormant; trees from pots in autumn to early
spring; citrus after the last frost; tropical fruit in spring and summer, the warm and
wet half of the year (UF/IFAS, Crane).
"""

from dataclasses import replace
from datetime import date

import pytest

from care.actions.plantings import make_planting, plan_tree, want_trees
from care.facts import MonthDay, Stock
from care.planning.gather import gather
from care.planning.kinds import kinds_of
from care.planning.planting_sheet import wanted_of
from care.planning.propose import propose
from care.planning.rains import rain_facts
from care.planning.species_facts import species_facts
from care.planning.when_to_plant import (
    PlantingYear,
    Verdict,
    planting_times,
    planting_year,
    time_of_tree,
)
from care.science.planting_time import PlaceYear
from deploy.demo.scenario import QUAY_STEPS, QUAY_STEPS_NORMALS
from orchard.actions.places import add_site
from orchard.actions.weather import set_normals
from tests.care.rules.cases import MILD
from tests.care.science.planting_places import SEATTLE_YEAR, seattle, wanted
from tests.conftest import TODAY

SEATTLE = replace(MILD, last_frost=MonthDay(3, 20), first_frost=MonthDay(11, 12))


@pytest.fixture(scope="module")
def seattle_year():
    series, today = seattle(), date(2015, 7, 2)
    return PlantingYear(
        today,
        SEATTLE,
        series,
        rain_facts(series, today),
        PlaceYear(SEATTLE_YEAR, -6, 8),
    )


@pytest.mark.parametrize("key", ["apple", "fig", "european_plum", "olive"])
def test_in_seattle_hardy_pots_wait_for_the_autumn_rains(seattle_year, key):
    time = time_of_tree(wanted(species_facts(key), seattle_year.today), seattle_year)
    assert time.verdict is Verdict.WAIT
    assert time.next.code == "planting_autumn_of_dry_summer"
    assert time.next.window.start == date(2015, 10, 1)


def test_in_seattle_bare_roots_go_in_in_winter_and_satsumas_in_spring(seattle_year):
    today = seattle_year.today
    bare = wanted(species_facts("apple"), today, stock=Stock.BARE_ROOT)
    window = time_of_tree(bare, seattle_year).next.window
    assert (window.start.month, window.end.month) in {(11, 2), (12, 2), (11, 3)}
    satsuma = wanted(species_facts("mandarin_satsuma"), today)
    window = time_of_tree(satsuma, seattle_year).next.window
    assert window.start == date(2016, 3, 21)
    cacao = wanted(species_facts("cacao"), today)
    assert time_of_tree(cacao, seattle_year).verdict is Verdict.NEVER


def want(site, **values):
    planting = make_planting(site=site, name="Beds", today=TODAY, person=None)
    rows = []
    for name, facts in values.items():
        rows += want_trees(
            planting=planting,
            values={"species_key": name, **facts},
            names=[name],
            person=None,
        )
    return rows


def test_in_a_summer_rain_subtropics_typed_months_tell_enough(
    site, django_assert_num_queries
):
    values = {key: value for key, value in QUAY_STEPS.items() if key != "name"}
    quay = add_site(orchard=site.orchard, values={**values, "name": "Quay"})
    set_normals(site=quay, months=QUAY_STEPS_NORMALS)
    pot = {"in_container": True, "container_litres": 60.0}
    want(quay, mango={}, avocado={}, lime=pot, peach={"stock": "bare_root"})
    today = date(2026, 7, 27)
    kinds = kinds_of(quay.orchard)
    with django_assert_num_queries(6):
        year = planting_year(quay, today)
        rows = list(wanted_of(quay))
        times = {row.name: time for row, time in _by_row(rows, year, kinds)}
    assert year.is_told
    assert year.site.hottest_from.month in (12, 1)
    for key in ("mango", "avocado"):
        before = times[key].spans[0]
        within = next(
            span for span in times[key].spans if span.code == "planting_in_first_rains"
        )
        assert before.code == "planting_before_rains"
        assert before.window.start.month in (8, 9, 10)
        assert within.code == "planting_in_first_rains"
        assert within.window.end <= date(2027, 2, 28)
        assert before.months_left is None
    assert times["peach"].current.code == "planting_bare_root_in_dormancy"
    assert times["lime"].verdict is Verdict.NOW


def _by_row(rows, year, kinds):
    times = planting_times(rows, year, kinds)
    return [(row, times[row.pk]) for row in rows]


def test_without_any_weather_the_calendar_tells(site):
    (apple,) = want(site, apple={})
    year = planting_year(site, TODAY)
    assert not year.is_told
    time = planting_times(wanted_of(site), year, kinds_of(site.orchard))[apple.pk]
    assert time.next.window.start == date(2025, 9, 15)


def test_the_task_of_a_planned_tree_and_its_page_tell_the_same_days(site):
    set_normals(site=site, months=[(n, 1.0, 8.0 + n, 60.0) for n in range(1, 13)])
    (lemon,) = want(site, lemon={})
    plan_tree(wanted=lemon, on=date(2025, 12, 1), today=TODAY, person=None)
    row = wanted_of(site).get()
    year = planting_year(site, TODAY)
    time = planting_times([row], year, kinds_of(site.orchard))[row.pk]
    ground = next(p for p in propose(gather(site, TODAY)) if p.action == "ground")
    facts = dict(ground.reason.facts)
    windows = {(span.window.start, span.window.end) for span in time.spans}
    assert (facts["window_start"], facts["window_end"]) in windows
