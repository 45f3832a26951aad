"""Minutes learned from what a person ticked, timed, and said of whole walks."""

from datetime import UTC, datetime, timedelta

import pytest

from care.actions.tasks import complete_task, undo_entry
from care.actions.walk_minutes import say_walk_minutes, walk_time_of
from care.models import LogEntry
from care.planning.learned_minutes import GUESSES, learn_minutes
from care.scheduling.minutes import MEAN_OVER_MEDIAN
from tests.conftest import TODAY

NOW = datetime(2025, 7, 2, 16, tzinfo=UTC)


@pytest.fixture
def timed(site, make_tree, make_task):
    """Tick works of one tree, each with the minutes it took."""

    def tick(tree, minutes, *, kind="watering", on=TODAY, effort=10, person=None):
        made = []
        for number, one in enumerate(minutes):
            key = f"{kind}{tree.pk}/{on}/{number}"[:24]
            task = make_task(
                tree, kind=kind, key=key, effort_minutes=effort, amount=None, unit=""
            )
            outcome = complete_task(
                task=task, person=person, on=on, now=NOW, minutes=one
            )
            made.append(outcome.entry)
        return made

    return tick


def learned(site, on=TODAY):
    return learn_minutes([site.pk], on)[site.pk]


def test_without_times_the_guesses_stand(site, make_tree, make_task):
    task = make_task(make_tree(), effort_minutes=7)
    assert learned(site) is GUESSES
    assert GUESSES.minutes_of(task) == 7
    told = GUESSES.walk([task, task])
    assert (told.minutes, told.usual) == (14 * MEAN_OVER_MEDIAN, None)


def test_times_of_one_kind_teach_that_kind_and_a_tree_from_eight_on(
    site, cast, make_tree, make_task, timed, django_assert_num_queries
):
    slow, other = make_tree("Slow"), make_tree("Other")
    timed(slow, [20.0] * 7)
    weeding = make_task(other, kind="weeding", key="w", effort_minutes=10)
    water = make_task(other, key="next", effort_minutes=10)
    now = learned(site)
    # Seven times twice as long: 2 ** (7 / 9).
    assert now.minutes_of(water) == pytest.approx(10 * 2 ** (7 / 9))
    assert now.minutes_of(weeding) == 10
    assert now.walk([water]).usual is None
    # Of another kind three walks of which only the whole was timed.
    for back in (1, 2, 3):
        day = TODAY - timedelta(days=back)
        timed(other, [None], kind="weeding", on=day, person=cast.grower)
        say_walk_minutes(
            site=site, person=cast.grower, on=day, now=NOW, minutes=40 * 1.08
        )
    with django_assert_num_queries(2):
        now = learned(site)
    assert now.minutes_of(weeding) == pytest.approx(10 * 4 ** (3 / 5))
    low, high = now.walk([water]).usual
    assert low <= now.minutes_of(water) * 1.3
    assert low <= high
    # The past is not told of what came later.
    assert learned(site, TODAY - timedelta(days=4)) is GUESSES
    timed(slow, [20.0], on=TODAY - timedelta(days=5))
    assert learned(site).minutes_of(make_task(slow, key="n", effort_minutes=10)) > 18


def test_a_walk_is_shared_among_its_kinds_and_can_be_corrected(
    site, cast, make_tree, timed
):
    tree = make_tree()
    timed(tree, [None, None], person=cast.grower)
    timed(tree, [None], kind="weeding", person=cast.grower)
    timed(tree, [12.0], kind="mulching", person=cast.grower)
    timed(tree, [None], kind="pruning", effort=90, person=cast.owner)

    def said(minutes):
        return say_walk_minutes(
            site=site, person=cast.grower, on=TODAY, now=NOW, minutes=minutes
        )

    first = said(12 + 30 * MEAN_OVER_MEDIAN)
    now = learned(site)
    # As long as the guesses say, without what was timed alone.
    assert now.kinds["watering"] == pytest.approx(1.0)
    assert now.kinds["weeding"] == pytest.approx(1.0)
    assert "pruning" not in now.kinds  # somebody else's walk
    assert said(first.amount) == first
    said(12 + 60 * MEAN_OVER_MEDIAN)
    now = learned(site)
    # Twice as long: a third of it by share 0.5 + 1/3, shrunk as one log: ** (1 / 3).
    assert now.kinds["weeding"] == pytest.approx(2 ** ((0.5 + 1 / 3) / 3))
    assert now.kinds["watering"] == pytest.approx(2 ** (1 / 3))
    first.refresh_from_db()
    assert first.voided_at == NOW
    assert said(None) is None
    assert walk_time_of(site, cast.grower, TODAY) is None
    assert set(learned(site).kinds) == {"mulching"}


def test_a_time_taken_back_teaches_nothing(site, cast, make_tree, timed):
    (entry,) = timed(make_tree(), [40.0], person=cast.grower)
    said = say_walk_minutes(
        site=site, person=cast.grower, on=TODAY, now=NOW, minutes=40.0
    )
    undo_entry(entry=LogEntry.objects.get(pk=entry.pk), person=cast.grower, now=NOW)
    undo_entry(entry=LogEntry.objects.get(pk=said.pk), person=cast.grower, now=NOW)
    assert learned(site) is GUESSES
