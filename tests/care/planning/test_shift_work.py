"""Which tasks belong to a shift, their order, minutes and hazards, and held fruit."""

from datetime import date, time, timedelta

import pytest
from django.utils import timezone

from care.actions.holds import log_manure, log_spray
from care.models import Shift, Task
from care.planning.shift_work import (
    NO_WORK,
    Hazard,
    day_of,
    hazards_of,
    is_hazardous,
    work_of,
)
from orchard.actions.places import block_named
from tests.conftest import TODAY

SATURDAY = TODAY + timedelta(days=3)


@pytest.fixture
def make_shift(site):
    def make(day=SATURDAY, **values):
        facts = {"name": "Saturday", "starts_at": time(9), "minutes": 180, **values}
        return Shift.objects.create(
            site=site, day=day, changed_at=timezone.now(), **facts
        )

    return make


def named(work):
    return [(task.tree.name, task.kind) for task in work.tasks]


@pytest.mark.parametrize(
    ("cautions", "action", "found"),
    [
        (["look_for_wires", "ladder", "saw"], "prune", {"ladder", "saw"}),
        (["call_professional"], "clean_up", {"ladder", "saw"}),
        (["stay_on_ground", "no_ladder_in_ice"], "look_over", set()),
        (["label_rules", "spray_label_law"], "feed", set()),
        ([], "spray", {"spray"}),
    ],
)
def test_hazards_are_told_by_the_cautions_and_the_action(cautions, action, found):
    task = Task(kind="pruning", action=action, cautions=cautions)
    assert hazards_of(task) == found


def test_late_and_urgent_tasks_are_of_today_and_a_put_off_one_waits():
    late = Task(latest=TODAY - timedelta(days=1), due=TODAY - timedelta(days=2))
    urgent = Task(latest=SATURDAY, due=SATURDAY, is_urgent=True)
    waits = Task(latest=SATURDAY, due=TODAY, not_before=SATURDAY)
    assert [day_of(task, TODAY) for task in (late, urgent, waits)] == [
        TODAY,
        TODAY,
        SATURDAY,
    ]


def test_the_work_of_shifts(
    site, make_tree, make_task, make_round, make_shift, django_assert_num_queries
):
    patio = block_named(site=site, name="Patio")
    one, two = make_tree("One", position=1), make_tree("Two", position=2)
    pot = make_tree("Lemon", species_key="lemon", block=patio)
    saturday = [
        make_task(two, days=3),
        make_task(one, days=3),
        make_task(one, days=3, kind="pruning", key="2025/a", cautions=["saw"]),
    ]
    make_round(SATURDAY, saturday)
    make_round(SATURDAY, [make_task(pot, days=3)])
    make_task(two, days=-9, kind="weeding")
    make_task(one, days=1, key="next/2", is_firm=False)
    row = one.block
    everything = make_shift()
    in_row = make_shift(block=row, order=[two.pk, one.pk])
    watering = make_shift(block=row, kinds=["watering"])
    now = make_shift(TODAY)
    past = make_shift(TODAY - timedelta(days=1))
    shifts = [everything, in_row, watering, now, past]
    with django_assert_num_queries(3):
        work = work_of(shifts, TODAY)
        assert named(work[everything.pk]) == [
            ("One", "watering"),
            ("One", "pruning"),
            ("Two", "watering"),
            ("Lemon", "watering"),
        ]
    # Frozen once it began: the far tree first.
    assert [name for name, _ in named(work[in_row.pk])] == ["Two", "One", "One"]
    assert named(work[watering.pk]) == [("One", "watering"), ("Two", "watering")]
    assert named(work[now.pk]) == [("Two", "weeding")]
    assert work[past.pk] == NO_WORK
    assert work[everything.pk].hazards == {Hazard.SAW}
    assert work[watering.pk].hazards == set()
    assert work[watering.pk].minutes == 11  # twice 5 min and 8 %, the minute begun
    watering.is_hazardous = True
    assert is_hazardous(watering, work[watering.pk])
    assert not is_hazardous(now, work[now.pk])


def test_held_fruit_shows_until_its_last_day_and_a_fresh_spray_is_a_hazard(
    site, cast, make_tree, make_task, make_shift, django_assert_num_queries
):
    plum, apple = make_tree("Plum"), make_tree("Apple")
    make_task(plum, days=1)
    make_task(apple, days=3)
    facts = {"site": site, "person": cast.owner, "now": timezone.now()}
    log_spray(trees=[plum], product="Soap", waiting_days=7, on=TODAY, **facts)
    log_manure(trees=[plum], touches_soil=False, on=date(2025, 4, 8), **facts)
    log_spray(trees=[apple], product="Oil", waiting_days=0, on=TODAY, **facts)
    shifts = [make_shift(TODAY + timedelta(days=days)) for days in (1, 3, 6, 7)]
    with django_assert_num_queries(3):
        work = [work_of(shifts, TODAY)[shift.pk] for shift in shifts[:1]]
    work += [work_of(shifts, TODAY)[shift.pk] for shift in shifts[1:]]
    # Raw manure of 8 April holds for 90 days through 6 July, the spray through the 8th.
    held = [[(one.tree.name, one.hold.until) for one in each.held] for each in work]
    assert held == [[("Plum", date(2025, 7, 8))]] * 3 + [[]]
    # The second day after it is still one; there the other tree's task is on the third.
    assert [each.hazards for each in work[:2]] == [{Hazard.SPRAY}, set()]
