"""What members say of their own days and limits; what the plan and the trail learn."""

from datetime import UTC, date, datetime, timedelta

import pytest
from django.core.exceptions import PermissionDenied

from care.planning.offers import gather_offers
from orchard.actions.offers import (
    limit_help,
    offer_days,
    offer_weekdays,
    say_away,
    take_back_away,
)
from orchard.models import AuditEntry, Membership, Offered, Site

NOW = datetime(2025, 7, 2, 12, 0, tzinfo=UTC)
MONDAY = date(2025, 7, 7)
SATURDAY, SUNDAY = MONDAY + timedelta(days=5), MONDAY + timedelta(days=6)


@pytest.fixture
def grower(cast, site):
    return Membership.objects.get(person=cast.grower)


@pytest.fixture
def said(grower):
    def offers():
        found = gather_offers(grower.orchard_id, MONDAY, SUNDAY)
        return next(one for one in found if one.person_id == grower.person_id)

    return offers


def revision(site):
    return Site.objects.get(pk=site.pk).revision


def trail():
    rows = AuditEntry.objects.order_by("pk").values_list("what", "before", "after")
    return [row for row in rows if row[0].startswith(("weekdays", "days", "away", "h"))]


def test_weekdays_replace_weekdays_and_silence_forgets_them(grower, said, site):
    before = revision(site)
    second = Site.objects.create(
        orchard=site.orchard, name="Two", slug="two", latitude_deg=1, longitude_deg=1
    )
    assert offer_weekdays(membership=grower, wishes={5: 1, 6: None}, now=NOW)
    assert said().days == {SATURDAY: 1}
    assert len(said().refused) == 6
    assert not offer_weekdays(membership=grower, wishes={5: 1}, now=NOW)
    assert (revision(site), revision(second)) == (before + 1, 2)
    assert offer_weekdays(membership=grower, wishes={5: -1, 0: 0}, now=NOW)
    assert said().days == {MONDAY: 0, SATURDAY: -1}
    assert offer_weekdays(membership=grower, wishes={}, now=NOW)
    assert not Offered.objects.exists()
    assert said().may_come(MONDAY)
    assert trail()[1] == (
        "weekdays_offered",
        {"Monday": "not", "Saturday": "gladly"},
        {"Monday": "can come", "Saturday": "rather not"},
    )


def test_all_weekdays_refused_leave_no_day(grower, said):
    offer_weekdays(membership=grower, wishes=dict.fromkeys(range(7)), now=NOW)
    assert said().days == {}
    assert len(said().refused) == 7


def test_a_day_goes_before_its_weekday_until_nothing_more_is_said(grower, said, site):
    offer_weekdays(membership=grower, wishes={5: 1}, now=NOW)
    before = revision(site)
    wishes = {SATURDAY: None, SUNDAY: 0}
    assert offer_days(membership=grower, wishes=wishes, now=NOW)
    assert said().days == {SUNDAY: 0}
    assert not offer_days(membership=grower, wishes=wishes, now=NOW)
    assert offer_days(
        membership=grower, wishes={SUNDAY: 0}, unsaid=[SATURDAY, MONDAY], now=NOW
    )
    assert said().days == {SATURDAY: 1, SUNDAY: 0}
    assert revision(site) == before + 2
    assert trail()[-1] == ("days_offered", {"2025-07-12": "not"}, {})


def test_who_is_away_cannot_come_until_they_are_here_after_all(grower, said, site):
    offer_weekdays(membership=grower, wishes={5: 1, 6: 0}, now=NOW)
    span = {"membership": grower, "first": SATURDAY, "last": SUNDAY, "now": NOW}
    assert say_away(**span)
    assert not say_away(**span)
    assert said().days == {}
    before = revision(site)
    assert take_back_away(**span)
    assert not take_back_away(**span)
    assert said().days == {SATURDAY: 1, SUNDAY: 0}
    assert revision(site) == before + 1
    days = {"from": "2025-07-12", "until": "2025-07-13"}
    assert trail()[1:] == [("away_said", {}, days), ("away_taken_back", days, {})]


def test_limits_are_kept_and_move_no_round(grower, said, site):
    before = revision(site)
    limits = {"membership": grower, "most_a_season": 9, "now": NOW}
    assert limit_help(most_a_week=2, **limits)
    assert not limit_help(most_a_week=2, **limits)
    assert (said().most_a_week, said().most_a_season) == (2, 9)
    assert limit_help(most_a_week=None, **limits)
    assert said().most_a_week is None
    assert revision(site) == before
    assert trail()[-1] == ("help_limited", {"most_a_week": 2}, {"most_a_week": None})


def test_who_may_not_tick_or_is_gone_offers_nothing(cast, grower):
    viewer = Membership.objects.get(person=cast.viewer)
    Membership.objects.filter(pk=grower.pk).delete()
    for member in (viewer, grower):
        given = {"membership": member, "now": NOW}
        span = {"first": MONDAY, "last": SUNDAY}
        for write in (
            lambda given: offer_weekdays(wishes={5: 1}, **given),
            lambda given: offer_days(wishes={MONDAY: 1}, **given),
            lambda given, span=span: say_away(**span, **given),
            lambda given, span=span: take_back_away(**span, **given),
            lambda given: limit_help(most_a_week=1, most_a_season=1, **given),
        ):
            with pytest.raises(PermissionDenied):
                write(given)
    assert not Offered.objects.exists()
