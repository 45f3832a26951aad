"""The years kinds are tried in: of a record, or made up; north and south."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from care.facts import SiteFacts, WeatherSeries
from care.facts.fit import Verdict
from care.planning.cultivar_facts import cultivar_facts
from care.planning.fit_years import fit_years
from care.planning.species_facts import species_facts
from care.planning.winter import winter_outlook
from care.science.extreme_cold import estimate_zone
from care.science.fit_kinds import FitPlace, fit_kinds
from deploy.demo.scenario import QUAY_STEPS_NORMALS
from orchard.catalogue.cultivars import cultivar_catalogue
from orchard.sources.normals import NormalsTable, daily_normals
from tests.care.science.reference import SEATTLE_LATITUDE_DEG, SeattleRecord

SEATTLE = SeattleRecord()
SITE = SiteFacts(SEATTLE_LATITUDE_DEG, 120.0, "sandy_loam")
RECORD = WeatherSeries(
    SEATTLE.start,
    SEATTLE.tmin_c,
    SEATTLE.tmax_c,
    SEATTLE.rain_mm,
    "o" * len(SEATTLE.tmin_c),
)
AFTER = date(2016, 1, 1)
QUAY = SiteFacts(-27.5, 15.0, "loamy_sand", is_frost_free=True)
NAMES = ("apple", "peach", "fig", "orange", "mango", "olive")


def months_alone():
    """The twelve typed months of the demonstration's second site."""
    table = NormalsTable(
        *(tuple(row[n] for row in QUAY_STEPS_NORMALS) for n in (1, 2, 3))
    )
    curve = daily_normals(table)
    return WeatherSeries(
        date(2024, 1, 1), curve.tmin_c, curve.tmax_c, curve.rain_mm, "n" * 366
    )


@pytest.fixture(scope="module")
def seattle():
    return fit_years(RECORD, SITE, AFTER, has_typed_months=True)


@pytest.fixture(scope="module")
def quay():
    return fit_years(months_alone(), QUAY, AFTER, has_typed_months=True)


def test_whole_observed_winters_count_as_on_the_page_of_the_season(seattle):
    assert seattle.basis.seasons == (2013, 2014, 2015)
    told = winter_outlook(RECORD, SITE, AFTER).past
    for place, winter in enumerate(reversed(told)):
        both = sorted(seattle.chill_hours[:, place])
        assert both == [winter.chill.hours_low, winter.chill.hours_high]
        low, high = sorted(seattle.portions[:, place])
        assert (low, high) == pytest.approx(
            (winter.chill.portions_low, winter.chill.portions_high), abs=1e-6
        )


def test_zone_of_the_record_by_the_published_bounds(seattle):
    # USDA map 2023: 9a is 20 to 25 degF; coldest nights of the winters by hand
    coldest = [
        SEATTLE.tmin_c[SEATTLE.between(date(y, 7, 1), date(y + 1, 6, 30))].min()
        for y in (2012, 2013, 2014)
    ]
    mean_f = sum(coldest) / 3 * 1.8 + 32
    assert 20 <= mean_f < 25
    assert seattle.minima_c.tolist() == coldest
    assert estimate_zone(seattle.minima_c).zone == "9a"


def test_fewer_than_three_winters_are_filled_up_with_made_up_ones():
    found = fit_years(RECORD, SITE, date(2014, 7, 14), has_typed_months=False)
    assert (found.basis.seasons, found.basis.made_up) == ((), 30)
    assert found.basis.observed_days == (date(2014, 7, 14) - SEATTLE.start).days
    # Not the smooth curve: hardly two winters are alike
    assert len(set(found.chill_hours[0].tolist())) > 25


def test_weather_of_part_of_a_year_tells_nothing():
    part = replace(RECORD, origin="f" * len(RECORD))
    assert fit_years(part, SITE, AFTER, has_typed_months=False) is None


def test_a_winter_with_gaps_does_not_count():
    gap = slice(RECORD.index(date(2014, 1, 5)), RECORD.index(date(2014, 1, 11)))
    low = RECORD.tmin_c.copy()
    low[gap] = np.nan
    found = fit_years(replace(RECORD, tmin_c=low), SITE, AFTER, has_typed_months=False)
    assert found.basis.seasons == ()  # two are too few


def test_a_record_half_a_year_later_in_the_south_is_its_mirror(seattle):
    south = replace(SITE, latitude_deg=-SEATTLE_LATITUDE_DEG)
    moved = replace(RECORD, start=RECORD.start + timedelta(days=181))
    found = fit_years(moved, south, AFTER + timedelta(days=200), has_typed_months=False)
    assert len(found.basis.seasons) == 3
    assert found.starts[0].month == 5
    assert found.minima_c.tolist() == seattle.minima_c.tolist()
    # Two more days of winter, and days as long within minutes
    assert found.chill_hours == pytest.approx(seattle.chill_hours, abs=45)
    north, mirrored = (
        {
            fit.key: (fit.ground.verdict, fit.pot.verdict)
            for fit in fit_kinds(
                [(species_facts(name), None) for name in NAMES],
                {},
                FitPlace(site, years),
            )
        }
        for site, years in ((SITE, seattle), (south, found))
    )
    assert mirrored == north


def test_a_frost_free_subtropical_coast(quay):
    """Mango and citrus good, peaches of high chill no; the same on every run."""
    again = fit_years(months_alone(), QUAY, date(2019, 3, 3), has_typed_months=True)
    assert np.array_equal(again.chill_hours, quay.chill_hours)
    assert quay.basis.is_from_months
    assert quay.basis.observed_days == 0
    cultivars = [cultivar_facts(each) for each in cultivar_catalogue().values()]
    peaches = [each for each in cultivars if each.species_key == "peach"]
    kinds = [(species_facts(name), None) for name in ("mango", "orange", "lime")]
    kinds += [(species_facts("peach"), each) for each in peaches]
    found = {
        fit.key: fit
        for fit in fit_kinds(kinds, {"peach": peaches}, FitPlace(QUAY, quay))
    }
    for name in ("mango", "orange", "lime"):
        assert found[name].ground.verdict is Verdict.GOOD
    for name in ("peach_gulfprince", "peach_ufglo", "peach_redhaven"):
        assert found[name].ground.verdict is Verdict.NO
    # The smooth curve of the months, never below 10.4 degC, would bring none at all
    assert quay.chill_hours.min() == 0
    assert quay.chill_hours.max() > 150


def test_no_night_of_a_place_without_frost_freezes(quay):
    assert quay.minima_c.min() > 0
    frosty = fit_years(
        months_alone(), replace(QUAY, is_frost_free=False), AFTER, has_typed_months=True
    )
    assert frosty.minima_c.min() < 0
