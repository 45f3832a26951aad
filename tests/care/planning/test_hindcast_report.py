"""The figures of a look back, on tellings written by hand."""

from datetime import date, timedelta
from math import inf

import pytest

from care.planning.ensemble import LikelyAmount, LikelyDay, Members
from care.planning.hindcast_report import (
    ChanceTold,
    Sort,
    Telling,
    amount_told,
    day_told,
    lead_name,
    report_of,
)

MONDAY = date(2014, 5, 12)
DAY, WEEK = timedelta(days=1), timedelta(days=7)
MEMBERS = Members(count=30, past_years=2, generated=20)


def telling(low=3, middle=5, high=9, came=6, **other):
    facts = {
        "kind": "watering_pot",
        "on": MONDAY,
        "reach": 120.0,
        "lead_days": float(min(middle, 120)),
        "past_years": 2,
        "is_day": True,
    }
    values = {"low": low, "middle": middle, "high": high, "came": came}
    return Telling(**(facts | {k: float(v) for k, v in values.items()} | other))


def report(*tellings, chances=()):
    return report_of(tellings, chances, sorted({each.on for each in tellings}))


@pytest.mark.parametrize(
    ("low", "middle", "high", "sort"),
    [
        (3, 5, 9, Sort.RANGE),
        (0, 0, 4, Sort.RANGE),
        (5, inf, inf, Sort.RANGE),
        (4, 4, 4, Sort.RANGE),
        (-40, -30, 8, Sort.RANGE),
        (0, 0, 0, Sort.THAT_DAY),
        (inf, inf, inf, Sort.NOTHING),
        (-40, -30, -2, Sort.NOTHING),
    ],
)
def test_what_was_told_decides_the_sort_whatever_came(low, middle, high, sort):
    for came in (0, 5, inf):
        assert telling(low, middle, high, came).sort is sort


def test_nothing_is_right_while_nothing_comes():
    assert telling(inf, inf, inf, inf).is_right
    assert telling(-40, -30, -2, -30).is_right
    assert not telling(inf, inf, inf, 30).is_right
    assert not telling(-40, -30, -2, 3).is_right


def test_an_amount_is_always_a_range():
    assert telling(0, 0, 0, 0, is_day=False).sort is Sort.RANGE


def test_ranges_alone_make_the_coverage():
    found = report(
        telling(came=3),
        telling(came=9),
        telling(came=10),
        telling(came=inf),
        telling(0, 0, 0, 0),
        telling(inf, inf, inf, 20),
    )
    assert found["coverage_p10_p90"] == 0.5
    assert found["count"] == 4
    pot = found["by_kind"]["watering_pot"]
    assert pot["count"] == 4
    assert pot["cases"] == 4  # three days and never
    assert pot["that_day"] == {"count": 1, "right": 1.0}
    assert pot["nothing"] == {"count": 1, "right": 0.0}


def test_errors_are_told_minus_came_and_widths_end_at_the_reach():
    found = report(telling(came=3), telling(came=9), telling(3, 7, inf, came=inf))
    pot = found["by_kind"]["watering_pot"]
    assert pot["mean_error_days"] == pytest.approx((2 - 4) / 2)
    assert pot["mean_absolute_error_days"] == 3.0
    assert pot["mean_width_days"] == pytest.approx((6 + 6 + 117) / 3, abs=1e-3)


def test_leads_go_by_the_middle_that_was_told():
    found = report(telling(), telling(10, 14, 40), telling(30, inf, inf))[
        "by_lead_days"
    ]
    counts = {name: row["count"] for name, row in found.items()}
    assert counts == {
        "0-7": 1,
        "8-14": 1,
        "15-30": 0,
        "31-60": 0,
        "61-120": 1,
        "121+": 0,
    }
    assert lead_name((121, None)) == "121+"


def test_mondays_without_a_past_year_are_counted_apart():
    found = report(telling(came=99), telling(past_years=0, on=MONDAY - WEEK))
    assert found["coverage_p10_p90"] == 0.0
    apart = found["without_past_years"]
    assert (apart["mondays"], apart["count"], apart["coverage_p10_p90"]) == (1, 1, 1.0)
    assert found["mondays"]["with_past_years"] == 1


def test_nothing_told_is_a_report_too():
    found = report()
    assert found["coverage_p10_p90"] is None
    assert found["by_kind"] == {}
    assert found["mondays"]["first"] is None


def test_a_kind_told_without_any_range_has_no_figures():
    pot = report(telling(inf, inf, inf, inf))["by_kind"]["watering_pot"]
    assert pot["count"] == 0
    assert pot["coverage_p10_p90"] is None
    assert pot["nothing"] == {"count": 1, "right": 1.0}


def test_skill_is_against_what_other_years_had_at_that_date():
    """On each of three Mondays of other years it came after 20 days; now after 6."""
    others = [
        telling(19, 20, 21, 20, on=MONDAY + n * WEEK, kind="full_bloom")
        for n in (-53, -52, -51)
    ]
    now = telling(6, 6, 6, 6, kind="full_bloom")
    found = report(*others, now)["by_kind"]["full_bloom"]
    # Only "now" has three Mondays in other years: it was told without an error.
    assert found["skill"] == 1.0
    worse = report(*others, telling(60, 60, 60, 6, kind="full_bloom"))
    assert worse["by_kind"]["full_bloom"]["skill"] < 0


def test_amounts_have_their_own_unit():
    likely = LikelyAmount(
        40, 50, 60, is_firm=False, until=MONDAY + 30 * DAY, members=MEMBERS
    )
    found = report(amount_told("chill_portions", MONDAY, likely, 57.0))
    chill = found["by_kind"]["chill_portions"]
    assert chill["mean_error_portions"] == -7.0
    assert chill["mean_width_portions"] == 20.0
    assert found["by_lead_days"]["15-30"]["count"] == 1
    assert found["by_lead_days"]["15-30"]["mean_error_days"] is None


def test_a_likely_day_becomes_days_from_its_monday():
    likely = LikelyDay(
        low=MONDAY + 2 * DAY,
        middle=MONDAY + 9 * DAY,
        high=None,
        share=0.8,
        is_firm=False,
        until=MONDAY + 60 * DAY,
        members=MEMBERS,
    )
    found = day_told("watering_pot", MONDAY, likely, MONDAY + 12 * DAY)
    assert (found.low, found.middle, found.high, found.came) == (2, 9, inf, 12)
    assert found.lead_days == 9
    assert found.past_years == 2
    later = day_told("watering_pot", MONDAY, likely, MONDAY + 61 * DAY)
    assert later.came == inf


def test_chances_are_told_by_how_often_they_came_true():
    chances = [
        ChanceTold(MONDAY, 0.8, came, years)
        for came, years in ((True, 1), (True, 1), (False, 1), (False, 0))
    ]
    found = report(telling(), chances=chances)["chances"]
    assert found["bins"] == [
        {"came": 0.667, "count": 3, "from": 0.7, "to": 0.9, "told": 0.8}
    ]
    # (0.04 + 0.04 + 0.64) / 3; a chance of 2/3 throughout would score 2/9.
    assert found["brier_score"] == 0.24
    assert found["uncertainty"] == 0.222
    assert found["resolution"] == 0.0
    assert found["unreliability"] == 0.018
    assert report(telling())["chances"] == {"bins": [], "count": 0}
