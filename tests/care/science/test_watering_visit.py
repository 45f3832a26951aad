"""From litres to minutes, goes and a person's time."""

from dataclasses import replace

import pytest

from care.science.watering_visit import watering_visit
from tests.care.planning.water_cases import CLAY, SITE, old_apple, pot
from tests.care.rules.watering_cases import outlook

TIMED = replace(SITE, hose_flow_l_per_min=12.0)
BASIN = outlook(is_established=True, basin_area_m2=3.0)
POT = outlook(is_container=True, basin_area_m2=0.0)


def test_without_a_timed_flow_nobody_is_told_minutes():
    visit = watering_visit(100.0, BASIN, old_apple(), SITE)
    assert visit.minutes is None
    assert visit.cycle_minutes is None
    assert (visit.flow, visit.cycles, visit.days) == ("", 1, 1)
    # Common practice, no source: a garden hose brings ten litres a minute.
    assert visit.effort_minutes == 4 + 10


def test_a_hose_inside_a_rim_fills_a_basin_in_one_go():
    # 100 L on 3 m2 at 12 L/min are 8.3 minutes; the pond of 50 mm overflows only
    # after 13 at 10 mm/h of loam.
    visit = watering_visit(100.0, BASIN, old_apple(), TIMED)
    assert visit.minutes == pytest.approx(8.33, abs=0.01)
    assert visit.cycles == 1
    assert visit.cycle_minutes == visit.minutes
    assert visit.effort_minutes == 4 + 9


def test_drip_runs_in_goes_and_nobody_stands_by():
    # 1 L/min on 3 m2 is 20 mm/h; loam takes 10, so 5 mm stand after 30 minutes.
    dripped = old_apple(drip_flow_l_per_min=1.0)
    visit = watering_visit(100.0, BASIN, dripped, TIMED)
    assert visit.flow == "drip"
    assert (visit.cycles, visit.cycle_minutes) == (4, 25.0)
    assert visit.soak_minutes == pytest.approx(30.0)
    assert visit.effort_minutes == 4 + 1


def test_clay_needs_its_water_spread_over_days():
    visit = watering_visit(
        300.0, BASIN, old_apple(), replace(CLAY, hose_flow_l_per_min=12.0)
    )
    assert visit.cycles > 1
    assert visit.days > 1
    assert visit.cycles * visit.cycle_minutes == pytest.approx(300 / 12)


def test_a_hole_that_drains_in_minutes_takes_it_at_once():
    quick = old_apple(drip_flow_l_per_min=1.0, drainage_hours=0.3)
    assert watering_visit(100.0, BASIN, quick, SITE).cycles == 1


def test_a_pot_takes_all_at_once():
    visit = watering_visit(6.0, POT, pot(), TIMED)
    assert (visit.minutes, visit.cycles) == (0.5, 1)
    assert visit.effort_minutes == 2 + 1


def test_nobody_is_planned_in_for_more_than_an_hour():
    slow = replace(SITE, hose_flow_l_per_min=1.0)
    assert watering_visit(300.0, BASIN, old_apple(), slow).effort_minutes == 60
