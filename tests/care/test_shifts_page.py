"""Shifts in the list and on their pages: made, repeated, moved, cancelled, begun."""

from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.utils import timezone

from care.actions.holds import log_spray
from care.actions.shifts import make_shift
from care.forms.shifts import ShiftForm
from care.models import Shift, ShiftSeries, Task
from tests.conftest import TODAY

LIST = "/s/test-site/shifts/"
SATURDAY = date(2025, 7, 5)
NEW = {
    "day": "2025-07-05",
    "starts_at": "9:00",
    "name": "Row",
    "minutes": "120",
    "people": "2",
}


def text(response):
    return " ".join(response.content.decode().split())


@pytest.fixture
def arranger(cast, client_of):
    return client_of(cast.coordinator)


@pytest.fixture
def grower(cast, client_of):
    return client_of(cast.grower)


@pytest.fixture
def make(site, cast):
    def make(day=SATURDAY, *, holders=(), skills=("", ""), published=True, **values):
        facts = {"name": "Row", "starts_at": time(9), "minutes": 120, **values}
        shift = make_shift(
            site=site,
            values={"day": day, **facts},
            skills=skills,
            person=None,
            now=timezone.now(),
        )
        if published:
            Shift.objects.filter(pk=shift.pk).update(
                status="published", published_at=timezone.now()
            )
        for place, holder in zip(shift.places.all(), holders, strict=False):
            place.state, place.holder, place.busy_on = "held", holder, day
            place.save()
        shift.refresh_from_db()
        return shift

    return make


def page_of(shift, step=""):
    return f"{LIST}{shift.uid}/{step}"


def test_first_the_list_says_what_a_shift_is(arranger, grower):
    assert "No shift in the coming four weeks" in text(arranger.get(LIST))
    assert "Make one that repeats" in text(arranger.get(LIST))
    page = text(grower.get(LIST))
    assert "Make one that repeats" not in page
    assert "When an owner or coordinator makes and publishes one" in page


def test_the_list_goes_by_week_and_asks_the_database_as_often_for_many(
    arranger, grower, cast, make, make_tree, make_task, keep_plan,
    django_assert_num_queries,
):  # fmt: skip
    tree = make_tree("Apple")
    make_task(tree, days=3)
    make(holders=[cast.grower])
    make(SATURDAY + timedelta(days=1), name="Draft", published=False)
    keep_plan()
    with django_assert_num_queries(14):
        page = text(arranger.get(LIST))
    assert "This week" in page
    assert "Saturday 5 July, 9:00\N{EN DASH}11:00: Row" in page
    assert "1 of 2 people" in page
    assert "1 place open" in page
    assert "1 task, about 6 min of work" in page
    assert "No work is planned for it now." in page
    assert "Not published yet." in page
    assert "Draft" not in text(grower.get(LIST))
    for days in range(7, 14):
        make(TODAY + timedelta(days=days), name=f"Row {days}")
    keep_plan()
    with django_assert_num_queries(14):
        page = text(arranger.get(LIST))
    assert "Week of 14 July" in page


def test_a_shift_of_a_round_takes_over_its_day_block_and_work(
    arranger, site, make_tree, make_task, make_round, keep_plan
):
    tree = make_tree("Apple")
    tasks = [
        make_task(tree, days=3, effort_minutes=180, cautions=["ladder"]),
        make_task(make_tree("Pear"), days=3, effort_minutes=120),
    ]
    one = make_round(SATURDAY, tasks)
    keep_plan()
    page = arranger.get(f"{LIST}add/?round={one.uid}")
    form = page.context["form"]
    asked = {name: form[name].value() for name in ("day", "block", "people", "ladder")}
    assert asked == {
        "day": SATURDAY,
        "block": str(tree.block_id),
        "people": "2",
        "ladder": "1",
    }
    assert (
        form["minutes"].value() == "165"
    )  # half of 324, to the next quarter of an hour
    for odd in ("?round=x", "?day=x&block=x", "?day=1999-01-01&block=999999"):
        assert arranger.get(f"{LIST}add/{odd}").status_code == 200
    made = arranger.post(
        f"{LIST}add/", NEW | {"ladder": "1", "other_skills": "Grafting"}
    )
    shift = Shift.objects.get()
    assert made.headers["Location"] == page_of(shift)
    assert (shift.status, shift.starts_at, shift.minutes) == ("draft", time(9), 120)
    assert [place.skill for place in shift.places.all()] == ["ladder", "grafting"]


# Los Angeles sets its clocks forward at 2:00 on 8 March 2026, a Sunday, and back at 2:00
# on 2 November 2025.
@pytest.mark.parametrize(
    ("values", "says"),
    [
        ({"day": "2025-07-01"}, "That day is over."),
        ({"day": "2027-01-01"}, "more than a year ahead"),
        ({"day": "soon"}, "Write the day as year-month-day"),
        ({"starts_at": "25:00"}, "There is no 25:00 on a clock."),
        ({"starts_at": "noon"}, "Write the time like 9:00"),
        ({"starts_at": ""}, "At what time does it begin?"),
        ({"people": "0"}, "Write a number from 1 to 30."),
        ({"people": "31"}, "Write a number from 1 to 30."),
        ({"people": "1.5"}, "Write a whole number."),
        ({"ladder": "3"}, "Of 2 you want 3 with a skill."),
        ({"other_skills": "x" * 25}, "is too long"),
        ({"minutes": "5"}, "Write a number from 15 to 720."),
        ({"name": " "}, "Give it a name."),
        (
            {"day": "2026-03-08", "starts_at": "2:30 am"},
            "There is no 2:30 on 8 March: clocks go forward over it. Take 3:00.",
        ),
        (
            {"day": "2025-11-02", "starts_at": "1.30"},
            "1:30 comes twice on 2 November: clocks go back then. Take 2:00.",
        ),
    ],
)
def test_what_cannot_be_is_said_at_its_field_and_nothing_is_lost(
    arranger, values, says
):
    answer = arranger.post(f"{LIST}add/", NEW | {"note": "Bring a hat"} | values)
    page = text(answer)
    assert answer.status_code == 422
    assert says in page
    assert "Bring a hat" in page
    assert not Shift.objects.exists()


def test_an_hour_that_is_over_today_is_refused(site):
    noon = datetime(2025, 7, 2, 12, 5, tzinfo=ZoneInfo(site.time_zone))

    def errors(at, moment=noon):
        values = NEW | {"day": str(TODAY), "starts_at": at}
        form = ShiftForm(values, site=site, blocks=[], kinds={}, moment=moment)
        return form.errors.get("starts_at", [])

    assert errors("9:00") == ["It is 12:05 there already. Choose a later hour."]
    # Who works already may be written down, and nothing is over just after midnight.
    assert errors("11:10") == errors("13:00") == []
    assert errors("0:00", noon.replace(hour=0)) == []


def test_two_shifts_of_one_place_and_hour_are_asked_about(arranger, make, site):
    make(block=site.blocks.first())
    answer = arranger.post(f"{LIST}add/", NEW | {"starts_at": "10:00"})
    assert answer.status_code == 422
    assert "Row is at the same place and time." in text(answer)
    assert "Make it all the same" in text(answer)
    # Afterwards, and elsewhere at the same time, is fine; so is what is meant.
    assert arranger.post(f"{LIST}add/", NEW | {"starts_at": "11:00"}).status_code == 302
    same = NEW | {"starts_at": "10:00", "is_overlap_fine": "on"}
    assert arranger.post(f"{LIST}add/", same).status_code == 302


def test_a_shift_says_its_work_people_dangers_and_held_fruit(
    arranger, grower, cast, site, make, make_tree, make_task, keep_plan,
    django_assert_max_num_queries,
):  # fmt: skip
    trees = [make_tree("Plum"), make_tree("Apple")]
    for tree in trees:
        make_task(tree, days=3, cautions=["ladder"], kind="pruning", action="prune")
    log_spray(
        site=site, trees=trees[:1], product="Soap", waiting_days=9, on=TODAY,
        person=cast.owner, now=timezone.now(),
    )  # fmt: skip
    shift = make(holders=[cast.grower], skills=["ladder", ""], note="Meet at the gate")
    keep_plan()
    with django_assert_max_num_queries(32):
        page = text(grower.get(page_of(shift)))
    for words in (
        "Saturday 5 July, 9:00",
        "Meet at the gate",
        "1 of 2 people",
        "Mind: ladder",
        "Nobody under 18 on this shift",
        "Plum: Do not pick before 11 July",
        "2 tasks, about 11 min of work",
        "18 L",
    ):
        assert words in page, words
    assert "Cancel it" not in page
    assert "Cancel it" in text(arranger.get(page_of(shift)))
    draft = make(SATURDAY + timedelta(days=1), published=False)
    assert grower.get(page_of(draft)).status_code == 404
    assert "No work is left for this shift." in text(arranger.get(page_of(draft)))


def test_a_shift_is_changed_cancelled_and_takes_place_after_all(arranger, cast, make):
    shift = make(holders=[cast.grower, cast.owner])
    page = arranger.get(page_of(shift, "edit/"))
    assert page.context["form"]["people"].value() == "2"
    change = {"name": "Long row", "minutes": "90", "people": "1"}
    answer = arranger.post(page_of(shift, "edit/"), change)
    assert answer.status_code == 422
    assert "No place would be left for" in text(answer)
    assert arranger.post(page_of(shift, "edit/"), change | {"people": "3"}).status_code
    shift.refresh_from_db()
    assert (shift.name, shift.places.count()) == ("Long row", 3)
    answer = arranger.post(page_of(shift, "cancel/"), {"why": ""})
    assert "Say in a few words why." in text(answer)
    arranger.post(page_of(shift, "cancel/"), {"why": "The gate is locked"})
    assert "Cancelled: The gate is locked" in text(arranger.get(page_of(shift)))
    arranger.post(page_of(shift, "cancel/"), {"after_all": "1"})
    shift.refresh_from_db()
    assert shift.status == "published"
    draft = make(SATURDAY + timedelta(days=1), published=False)
    assert "it can simply go" in text(arranger.get(page_of(draft, "cancel/")))
    arranger.post(page_of(draft, "cancel/"), {"remove": "1"})
    assert not Shift.objects.filter(pk=draft.pk).exists()
    arranger.post(page_of(shift, "cancel/"), {"remove": "1"})
    assert Shift.objects.filter(pk=shift.pk).exists()


def test_a_shift_is_moved_to_a_day_to_come(arranger, make, site):
    shift, other = make(), make(SATURDAY + timedelta(days=1), name="Other")
    early = arranger.get(page_of(shift, "move/?early=1"))
    assert early.context["form"]["starts_at"].value() == "07:00"
    to = {"day": "2025-07-01", "starts_at": "8:00"}
    answer = arranger.post(page_of(shift, "move/"), to)
    assert "That day is over." in text(answer)
    answer = arranger.post(page_of(shift, "move/"), to | {"day": str(other.day)})
    assert "Other is at the same place and time." in text(answer)
    arranger.post(page_of(shift, "move/"), to | {"day": "2025-07-08"})
    page = text(arranger.get(page_of(shift)))
    assert "Tuesday 8 July, 8:00" in page
    assert "Moved from 5 July." in page
    series = ShiftSeries.objects.create(
        site=site, name="Water", weekdays="56", starts_at=time(8), minutes=60,
        from_on=TODAY, until_on=date(2025, 7, 6),
    )  # fmt: skip
    Shift.objects.update(series=series)
    answer = arranger.post(
        page_of(other, "move/"), {"day": "2025-07-08", "starts_at": "15:00"}
    )
    assert "has a shift that day already" in text(answer)


def test_nobody_begins_alone_at_a_ladder_and_its_order_is_frozen(
    arranger, grower, cast, make, make_tree, make_task, keep_plan
):
    high, low = make_tree("High", position=1), make_tree("Low", position=2)
    make_task(high, cautions=["ladder"], kind="pruning", key="2025/a")
    make_task(low)
    make_task(high)
    # All day long, whatever the clock says.
    all_day = {"starts_at": time(0), "minutes": 1439}
    shift = make(TODAY, holders=[cast.grower], **all_day)
    keep_plan()
    answer = grower.post(page_of(shift, "begin/"), follow=True)
    assert "Nobody works alone with a ladder" in text(answer)
    assert "Fewer than two people" in text(arranger.get(page_of(shift)))
    arranger.post(page_of(shift, "ladders/"), {"all": "1"})
    keep_plan()
    page = text(arranger.get(page_of(shift)))
    assert "1 task goes back to the plan" in page
    task = Task.objects.get(kind="pruning")
    assert task.not_before == TODAY + timedelta(days=1)
    assert "Begun at" in text(grower.post(page_of(shift, "begin/"), follow=True))
    shift.refresh_from_db()
    assert sorted(shift.order) == sorted([high.pk, low.pk])
    grower.post(page_of(shift, "begin/"))  # a second tap changes nothing
    answer = arranger.post(page_of(shift, "cancel/"), {"why": "Late"}, follow=True)
    assert "It has begun" in text(answer)
    tomorrow = make(TODAY + timedelta(days=1))
    answer = grower.post(page_of(tomorrow, "begin/"), follow=True)
    assert "It begins on its own day" in text(answer)


def test_dangerous_weather_is_said_and_answered_with_one_tap(
    arranger, grower, site, make
):
    series = site.private_series.create(kind="forecast", name="Service")
    site.readings.create(series=series, rank=9)
    day = TODAY + timedelta(days=1)
    series.batches.create(label="forecast").days.create(
        day=day, issued_on=TODAY, tmin_c=24.0, tmax_c=47.5
    )
    shift = make(day, starts_at=time(13))
    page = text(grower.get(page_of(shift)))
    assert "in its hours. Nobody forecasts how damp the air is" in page
    assert "Cancel this shift</button>" not in page
    page = text(arranger.get(page_of(shift)))
    assert 'name="why" value="It gets too hot to work."' in page
    arranger.post(page_of(shift, "cancel/"), {"why": "It gets too hot to work."})
    assert "Cancelled: It gets too hot to work." in text(grower.get(page_of(shift)))


SERIES = {
    "name": "Watering",
    "weekdays": ["5"],
    "starts_at": "8:00",
    "minutes": "90",
    "people": "2",
    "from_on": "2025-07-02",
    "until_on": "2025-09-30",
    "kinds": ["watering"],
    "silent_when_wet": "on",
}


@pytest.mark.parametrize(
    ("values", "says"),
    [
        ({"until_on": "2025-07-01"}, "It ends before it begins"),
        ({"from_on": "2025-05-01", "until_on": "2025-06-01"}, "That day is over"),
        ({"until_on": "2027-07-01"}, "a year at most"),
        ({"until_on": "2025-07-04"}, "None of these weekdays lies between"),
        ({"weekdays": []}, "Tick at least one weekday."),
        (
            {"weekdays": ["6"], "until_on": "2025-12-01", "starts_at": "1:30"},
            "1:30 comes twice on 2 November",
        ),
    ],
)
def test_a_series_that_fills_nothing_is_refused(arranger, values, says):
    answer = arranger.post(f"{LIST}repeat/", SERIES | values)
    assert (answer.status_code, says in text(answer)) == (422, True)
    assert not ShiftSeries.objects.exists()


def test_a_series_is_made_filled_and_ended(
    arranger, grower, make_tree, make_task, keep_plan
):
    keep_plan()
    answer = arranger.post(f"{LIST}repeat/", SERIES | {"name": "Later"}, follow=True)
    assert "so it has no shift yet" in text(answer)
    make_task(make_tree("Apple"), days=3)
    keep_plan()
    answer = arranger.post(f"{LIST}repeat/", SERIES, follow=True)
    page = text(answer)
    assert "Watering is made, with 4 shifts in the coming four weeks." in page
    assert "Saturday, 8:00, 1 h 30 min, until 30 September" in page
    assert Shift.objects.count() == 8  # the first one found work, too
    Shift.objects.update(status="published", published_at=timezone.now())
    series = ShiftSeries.objects.get(name="Watering")
    end = f"{LIST}repeat/{series.pk}/end/"
    assert "4 published ones to come stay" in text(arranger.get(end))
    answer = arranger.post(end, follow=True)
    assert "4 published ones stay." in text(answer)
    assert "It has ended already." in text(arranger.get(end))
