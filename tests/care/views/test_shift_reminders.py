"""The evening before a shift, and the job that keeps places as the rules have them."""

from datetime import UTC, datetime, timedelta

import pytest

from care.jobs import tend_shifts as job
from care.models import ShiftPlace
from care.views import shift_reminders
from care.views.shift_reminders import remind_of_tomorrow, tend_shifts
from orchard.models import Message, MessageChoice
from tests.care.shift_people import helper, hold, places_of, shift_on
from tests.conftest import TODAY

#: Seven in the evening at the site, whose own day is 2 July.
EVENING = datetime(2025, 7, 3, 2, tzinfo=UTC)
NOON = datetime(2025, 7, 2, 19, tzinfo=UTC)
TOMORROW = TODAY + timedelta(days=1)


def test_each_holder_is_told_once_the_evening_before(site, keep_plan):
    keep_plan()
    names = ("ana", "per", "quiet", "learner")
    ana, per, quiet, learner = (helper(site, name) for name in names)
    MessageChoice.objects.create(
        person=quiet.person, what="shift_tomorrow", is_on=False
    )
    learner.helping.is_learner = True
    learner.helping.save()
    shift = shift_on(site, TOMORROW, ("", "", "", ""), learners=1, is_hazardous=False)
    places = places_of(shift)
    for place, member in zip(
        (*places[:3], places[4]), (ana, per, quiet, learner), strict=True
    ):
        hold(place, member)
    ShiftPlace.objects.filter(holder=per.person).update(state="offered")
    later = shift_on(site, TODAY + timedelta(days=2))
    hold(places_of(later)[0], ana)
    assert remind_of_tomorrow(site, NOON) == 0
    assert remind_of_tomorrow(site, EVENING) == 3
    assert remind_of_tomorrow(site, EVENING + timedelta(minutes=10)) == 0
    told = {
        one.person.username: (one.body["title"], one.body["lines"][-1])
        for one in Message.objects.select_related("person")
    }
    title = "Tomorrow: Long row 3, 9:00"
    assert told == {
        "ana": (title, "If you cannot come, say so: no reason is asked."),
        "per": (
            title,
            "You asked for cover and nobody took it yet, so it is still yours.",
        ),
        "learner": (
            title,
            "Your place to learn is on hold: come only once that has changed.",
        ),
    }


def test_one_site_that_fails_does_not_keep_the_others_waiting(
    site, keep_plan, cast, monkeypatch
):
    keep_plan()
    other = cast.stranger.orchards.get().sites.get()
    shift_on(other)
    hold(places_of(shift_on(site, TOMORROW))[0], helper(site, "ana"))
    settle = shift_reminders.settle_site

    def fail_there(*, site, now):
        if site.pk == other.pk:
            raise ZeroDivisionError
        return settle(site=site, now=now)

    monkeypatch.setattr(shift_reminders, "settle_site", fail_there)
    monkeypatch.setattr(shift_reminders, "ensure_planned", lambda site, today: None)
    with pytest.raises(ExceptionGroup, match="Shifts of some sites"):
        tend_shifts(EVENING)
    assert Message.objects.filter(what="shift_tomorrow").count() == 1
    monkeypatch.setattr(shift_reminders, "settle_site", settle)
    monkeypatch.setattr(shift_reminders, "remind_of_tomorrow", lambda site, now: 0)
    assert job() == 0
