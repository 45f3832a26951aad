"""Windows, calendars and old plans for the tests of rounds."""

from dataclasses import replace
from datetime import date, timedelta

from hypothesis import strategies as st

from care.scheduling.rounds import CalendarCost, Window, clamp

TODAY = date(2026, 4, 1)  # a Wednesday


def day(offset):
    return TODAY + timedelta(days=offset)


def window(task_id, earliest, due, latest, **more):
    return Window(task_id, day(earliest), day(due), day(latest), **more)


@st.composite
def windows(draw, last_day=30, most=12):
    """Windows as rules make them: some overdue, some with a day that has gone by."""
    made = []
    for number in range(draw(st.integers(0, most))):
        task_id = f"t{number:02}"
        # Rules give many trees the same window.
        if made and draw(st.integers(0, 2)) == 0:
            made.append(replace(draw(st.sampled_from(made)), task_id=task_id))
            continue
        first, middle, last = sorted(draw(st.tuples(*[st.integers(-4, last_day)] * 3)))
        made.append(
            window(
                task_id,
                first,
                middle,
                last,
                is_urgent=draw(st.integers(0, 7)) == 0,
                early_cost=draw(st.integers(0, 4)),
                late_cost=draw(st.integers(0, 4)),
            )
        )
    return made


@st.composite
def opening_costs(draw):
    return CalendarCost(
        usable_weekdays=draw(st.frozensets(st.integers(0, 6))),
        away_days=draw(st.frozensets(st.integers(0, 30).map(day), max_size=6)),
    )


@st.composite
def old_plans(draw):
    """A day for some tasks, not all of them possible any more, some tasks gone."""
    ids = [f"t{number:02}" for number in range(14)]
    days = st.integers(-3, 32).map(day)
    return draw(st.dictionaries(st.sampled_from(ids), days))


def cost_of(task, on):
    if not task.earliest <= on <= task.latest:
        return None
    off = (on - task.due).days
    return task.late_cost * off if off > 0 else -task.early_cost * off


def assert_legal(plan, tasks):
    assert sorted(plan) == sorted(task.task_id for task in tasks)
    for task in tasks:
        possible = clamp(task, TODAY)
        assert possible.earliest <= plan[task.task_id] <= possible.latest
