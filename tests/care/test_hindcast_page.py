"""How good the plans were, in every state the page can be in."""

from copy import deepcopy
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from care.actions.hindcasts import (
    begin_hindcast,
    fail_hindcast,
    keep_hindcast,
    wish_for_hindcast,
)
from care.models import Hindcast
from care.planning.hindcast_report import LAYOUT
from orchard.actions.weather import import_days
from orchard.models import AuditEntry
from tests.conftest import TODAY

DAY = timedelta(days=1)
FIGURES = {
    "count": 20,
    "coverage_p10_p90": 0.82,
    "mean_absolute_error_days": 4.25,
    "mean_error_days": -1.0,
    "mean_width_days": 14.0,
}
NO_FIGURES = dict.fromkeys(FIGURES) | {"count": 0}
REPORT = {
    "coverage_p10_p90": 0.82,
    "by_kind": {
        "watering_pot": FIGURES
        | {"cases": 7}
        | {
            "nothing": {"count": 9, "right": 1.0},
            "that_day": {"count": 4, "right": 0.75},
        },
        "chill_portions": {
            "cases": 1,
            "count": 3,
            "coverage_p10_p90": 0.667,
            "mean_absolute_error_portions": 3.0,
            "mean_error_portions": 0.2,
            "mean_width_portions": 12.0,
        },
    },
    "by_lead_days": {"0-7": FIGURES, "8-14": NO_FIGURES, "121+": FIGURES},
    "chances": {
        "bins": [{"came": 0.7, "count": 30, "from": 0.7, "to": 0.9, "told": 0.8}]
    },
    "count": 40,
    "layout": LAYOUT,
    "mondays": {
        "count": 52,
        "first": "2024-06-03",
        "last": "2025-05-26",
        "with_past_years": 52,
    },
    "record": {"first": "2023-01-01", "last": str(TODAY - DAY)},
    "without_past_years": NO_FIGURES | {"mondays": 0},
}


@pytest.fixture
def shown(site, cast, client_of):
    def show(who="owner"):
        page = client_of(getattr(cast, who)).get(reverse("hindcast", args=[site.slug]))
        assert page.status_code == 200
        return page.content.decode()

    return show


def a_year(site, last=TODAY - DAY):
    import_days(
        site=site,
        # No two days alike: a sensor that stands still is not believed.
        days=[
            (last - n * DAY, {"tmin_c": 5.0 + n % 2, "tmax_c": 15.0 + n % 2})
            for n in range(366)
        ],
        label="x",
        person=None,
    )


def keep(site, **other):
    report = deepcopy(REPORT) | other
    return keep_hindcast(site=site, report=report, digest="d", now=timezone.now())


def test_a_short_record_says_what_is_missing(shown):
    text = shown()
    assert "less than a year" in text
    assert "Look back<" not in text


def test_a_year_of_weather_can_be_looked_back_on(site, shown):
    a_year(site)
    assert "Look back<" in shown()
    assert "Look back<" not in shown("viewer")
    assert "Ask an owner" in shown("viewer")


def test_asking_waits_for_the_job_and_changes_no_records(site, cast, client_of, shown):
    a_year(site)
    site.refresh_from_db()
    revision, trail = site.revision, AuditEntry.objects.count()
    browser = client_of(cast.coordinator)
    answer = browser.post(reverse("hindcast_wish", args=[site.slug]))
    assert answer.headers["Location"] == reverse("hindcast", args=[site.slug])
    assert "asked for and will begin soon" in shown()
    assert "Look back<" not in shown()
    begin_hindcast(now=timezone.now())
    assert "is being made" in shown()
    site.refresh_from_db()
    assert (site.revision, AuditEntry.objects.count()) == (revision, trail)


def test_a_report_begins_with_one_plain_sentence(site, shown):
    keep(site)
    text = shown()
    assert "Of 100 ranges told on a Monday, 82 held what then happened." in text
    assert "can be trusted" in text
    assert "52 Mondays, 3 June 2024 to 26 May." in text


def test_kinds_and_leads_are_told_with_their_units(site, shown):
    keep(site)
    text = shown()
    for words in (
        "Next watering of a fig in a large pot",
        "4.2 days",
        "1.0 days too early",
        "67 in 100",
        "3.0 portions",
        "neither",
        "0 to 7",
        "over 120",
        "20, of 7 cases",
        "3, of 1 case<",
        "Too narrow, leave more room: chill portions of the winter.",
        "told that it would not come soon 9 times, right 100 in 100.",
        "told for that very day 4 times, right 75 in 100.",
        "7 to 9 in ten",
    ):
        assert words in text
    assert "8 to 14" not in text


@pytest.mark.parametrize(
    ("coverage", "words"),
    [
        (0.55, "too narrow"),
        (0.95, "wider than they need"),
        (None, "nothing to compare"),
    ],
)
def test_a_poor_report_says_so(site, shown, coverage, words):
    keep(site, coverage_p10_p90=coverage)
    assert words in shown()


def test_mondays_without_a_past_year_are_told_apart(site, shown):
    mondays = REPORT["mondays"] | {"with_past_years": 40}
    keep(site, without_past_years=FIGURES | {"mondays": 12}, mondays=mondays)
    assert "40 of 52 Mondays, 3 June 2024 to 26 May:" in shown()
    assert "12 of the first Mondays knew no past year" in shown()


def test_a_report_of_nothing_is_still_a_page(site, shown):
    mondays = dict.fromkeys(REPORT["mondays"]) | {"count": 0}
    empty = {"0-7": NO_FIGURES}
    keep(site, coverage_p10_p90=None, by_kind={}, by_lead_days=empty, mondays=mondays)
    assert "No Monday could be told of." in shown()


def test_an_old_report_says_that_more_weather_has_come(site, shown):
    keep(site, record={"first": "2023-01-01", "last": str(TODAY - 40 * DAY)})
    assert "another look tells more" not in shown()
    a_year(site)
    assert "another look tells more" in shown()


def test_a_report_of_another_version_is_not_shown_but_can_be_made_anew(site, shown):
    keep(site, layout=LAYOUT - 1)
    text = shown()
    assert "another version of this program" in text
    assert "Of 100 ranges" not in text
    assert "Look back<" in text


def test_a_demonstration_says_that_its_record_goes_on(site, shown):
    keep(site, record={"first": "2023-01-01", "last": str(TODAY + 40 * DAY)})
    assert "goes on beyond its own today" in shown()
    keep(site)
    assert "goes on beyond its own today" not in shown()


def test_a_failed_look_says_why_and_can_be_asked_for_again(site, shown):
    a_year(site)
    wish_for_hindcast(site=site, now=timezone.now())
    fail_hindcast(site=site, error="It could not be reckoned.")
    text = shown()
    assert "did not work out. It could not be reckoned." in text
    assert "Look back<" in text


def test_the_page_asks_the_database_as_often_with_a_report(
    site, cast, client_of, django_assert_max_num_queries
):
    keep(site)
    browser = client_of(cast.owner)
    with django_assert_max_num_queries(8):
        browser.get(reverse("hindcast", args=[site.slug]))


def test_a_viewer_cannot_ask(site, cast, client_of):
    answer = client_of(cast.viewer).post(reverse("hindcast_wish", args=[site.slug]))
    assert answer.status_code == 403
    assert not Hindcast.objects.exists()
