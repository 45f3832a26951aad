"""Tonight's evening and a record of ten years, from rows to what the rules see."""

from datetime import date, timedelta

import numpy as np
import pytest

from care.facts import MonthDay
from care.planning.gather import gather
from care.planning.propose import since_entry, situations
from care.proposals import Proposal, Reason
from orchard.actions.weather import import_days
from orchard.models import FrostEvening, Site
from tests.care.planning.test_frost_outlook import record
from tests.care.rules.cases import tree
from tests.conftest import TODAY


@pytest.fixture
def untyped(site):
    Site.objects.filter(pk=site.pk).update(
        last_frost_month=None,
        last_frost_day=None,
        first_frost_month=None,
        first_frost_day=None,
    )
    site.refresh_from_db()
    return site


def evening(site, on, air_c=4.0):
    FrostEvening.objects.create(site=site, on=on, air_c=air_c, dew_point_c=-1.0)


def test_this_evenings_readings_reach_the_rules_and_last_weeks_do_not(site, make_tree):
    make_tree()
    evening(site, TODAY - timedelta(days=7), air_c=9.0)
    assert gather(site, TODAY).tonight is None
    assert situations(gather(site, TODAY))[0].tonight_evening_c is None
    evening(site, TODAY)
    (situation,) = situations(gather(site, TODAY))
    assert situation.tonight_evening_c == 4.0
    assert situation.tonight_dew_point_c == -1.0


def test_ten_years_of_readings_stand_in_for_dates_nobody_typed(untyped):
    series = record()
    today = date(2011, 2, 1)
    days = [
        (
            series.start + timedelta(days=place),
            {"tmin_c": float(low), "tmax_c": float(low) + 10, "rain_mm": 0.0},
        )
        # No two days alike: a sensor that stands still is not believed.
        for place, low in enumerate(
            series.tmin_c + (series.tmin_c > 0) * (np.arange(len(series)) % 3)
        )
    ]
    import_days(site=untyped, days=days, label="record", person=None)
    facts = gather(untyped, today).site
    # As worked in the tests of the outlook
    assert (facts.last_frost, facts.safe_last_frost) == (
        MonthDay(4, 10),
        MonthDay(4, 21),
    )
    assert facts.frost_record_years == 10
    earlier = gather(untyped, date(2009, 2, 1)).site
    assert (earlier.last_frost, earlier.frost_record_years) == (None, None)


@pytest.mark.parametrize(
    ("kind", "grace"), [("cold", 0), ("freeze", 0), ("weeding", 14)]
)
def test_a_night_does_not_wait_for_a_tree_that_was_just_entered(kind, grace):
    tomorrow = TODAY + timedelta(days=1)
    asked = Proposal(
        tree_id=1,
        kind=kind,
        key="next",
        action="cover",
        earliest=TODAY,
        due=tomorrow,
        latest=tomorrow,
        reason=Reason("cold_cover"),
    )
    kept = since_entry(asked, tree(entered_on=TODAY, planted_on=None))
    assert kept.latest == (TODAY + timedelta(days=grace) if grace else tomorrow)


def test_dates_that_were_typed_stand(site):
    facts = gather(site, TODAY).site
    assert facts.last_frost == MonthDay(3, 20)
    assert facts.frost_record_years is None
