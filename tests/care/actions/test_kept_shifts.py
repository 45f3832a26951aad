"""The job that keeps shifts: it fills, heeds storms, and one site stops no other."""

from datetime import date, time

import pytest
from django.utils import timezone

from care.actions import kept_shifts
from care.jobs import keep_shifts
from care.models import Shift
from orchard.models import Site
from tests.conftest import TODAY


@pytest.fixture
def series(site):
    return site.shift_series.create(
        name="Open day",
        weekdays="5",
        starts_at=time(9),
        minutes=60,
        skills=[""],
        silent_when_wet=False,
        from_on=TODAY,
        until_on=date(2025, 7, 20),
    )


@pytest.mark.usefixtures("series")
def test_what_repeats_is_made_without_anybody_looking():
    assert (keep_shifts(), keep_shifts()) == (3, 0)
    assert Shift.objects.count() == 3


@pytest.mark.usefixtures("series")
def test_a_site_that_fails_is_told_after_all_others(site, cast, monkeypatch):
    other = Site.objects.exclude(pk=site.pk).get()
    Shift.objects.create(
        site=other, name="Row", day=TODAY, starts_at=time(9), minutes=60,
        status="published", published_at=timezone.now(), changed_at=timezone.now(),
    )  # fmt: skip
    plan = kept_shifts.ensure_planned

    def fail_at_first(one, today):
        if one == site:
            message = "no weather"
            raise ValueError(message)
        plan(one, today)

    monkeypatch.setattr(kept_shifts, "ensure_planned", fail_at_first)
    with pytest.raises(ExceptionGroup):
        keep_shifts()
    other.refresh_from_db()
    assert other.planned_on is not None
