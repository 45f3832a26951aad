"""The order of a walk: by place where known, by row otherwise, and then kept."""

from datetime import UTC, datetime, timedelta
from itertools import pairwise

from hypothesis import given, strategies as st

from care.actions.tasks import complete_task
from care.actions.walks import begin_walks
from care.models import Round, Task
from care.planning.plan_site import plan_site
from care.planning.walk_order import in_walking_order, ordered_trees
from care.scheduling.walking_order import path_m, walking_order
from orchard.models import Block, Corner, Tree
from tests.conftest import TODAY

NOW = datetime(2025, 7, 2, 16, tzinfo=UTC)
GATE = [Corner(name="gate", x_m=0.0, y_m=0.0)]
metres = st.floats(-50, 50).map(lambda value: round(value, 1))
places = st.one_of(st.none(), st.tuples(metres, metres))


def tree(number, place=None, block=None):
    x_m, y_m = place or (None, None)
    return Tree(
        pk=number, name=f"T{number}", position=number, x_m=x_m, y_m=y_m, block=block
    )


@st.composite
def orchards(draw):
    blocks = [Block(pk=pk, position=draw(st.integers(0, 2))) for pk in (1, 2)]
    number = draw(st.integers(0, 9))
    return [
        tree(pk, draw(places), draw(st.sampled_from([*blocks, None])))
        for pk in range(1, number + 1)
    ]


@given(
    orchards(),
    st.sampled_from([[], GATE]),
    st.sets(st.integers(1, 9)),
    st.randoms(use_true_random=False),
)
def test_every_tree_once_block_by_block_and_one_leg_with_the_ladder(
    trees, corners, ladder, random
):
    order = ordered_trees(trees, corners, ladder)
    assert sorted(one.pk for one in order) == [one.pk for one in trees]
    shuffled = random.sample(trees, len(trees))
    assert [one.pk for one in ordered_trees(shuffled, corners, ladder)] == [
        one.pk for one in order
    ]
    blocks = [one.block_id for one in order]
    carried = [(one.block_id, one.pk in ladder) for one in order]
    for sequence in (blocks, carried):
        changes = sum(a != b for a, b in pairwise(sequence))
        assert changes == max(len(set(sequence)) - 1, 0)


@given(st.lists(st.tuples(metres, metres), min_size=1, max_size=9))
def test_without_a_corner_the_first_tree_of_the_row_comes_first(points):
    trees = [tree(pk, place) for pk, place in enumerate(points, 1)]
    order = ordered_trees(trees, [])
    assert (order[0].x_m, order[0].y_m) == points[0]


@given(
    st.lists(st.tuples(metres, metres), min_size=1, max_size=9),
    st.sets(st.integers(1, 9)),
)
def test_the_ladder_leg_comes_at_the_end_that_makes_the_walk_shorter(points, ladder):
    trees = [tree(pk, place) for pk, place in enumerate(points, 1)]
    positions = dict(enumerate(points, 1))
    order = [one.pk for one in ordered_trees(trees, GATE, ladder)]
    carried = [pk for pk in positions if pk in ladder]
    plain = [pk for pk in positions if pk not in ladder]
    lengths = []
    for legs in ((plain, carried), (carried, plain)):
        way, here = [], (0.0, 0.0)
        for leg in legs:
            way += walking_order({pk: positions[pk] for pk in leg}, here, keys=leg)
            here = positions[way[-1]] if way else here
        lengths.append(path_m(way, positions, (0.0, 0.0)))
    assert path_m(order, positions, (0.0, 0.0)) == min(lengths)


def test_where_no_place_is_known_by_row_and_the_ladder_last():
    row = Block(pk=1, position=0)
    trees = [tree(pk, block=row) for pk in (1, 2, 3, 4)]
    order = ordered_trees(trees, GATE, {2})
    assert [one.pk for one in order] == [1, 3, 4, 2]


def test_a_tree_nobody_measured_comes_behind_its_neighbour_in_the_row():
    trees = [
        tree(1, (30.0, 0.0)),
        tree(2),
        tree(3, (10.0, 0.0)),
        tree(4, (20.0, 0.0)),
    ]
    # From the gate 10, 20, 30 m; tree 2 stands behind tree 1.
    assert [one.pk for one in ordered_trees(trees, GATE)] == [3, 4, 1, 2]


def test_a_first_tick_freezes_the_order_and_later_ones_leave_it(
    site, make_tree, make_task, make_round
):
    trees = [
        make_tree(name, x_m=x_m, y_m=0.0)
        for name, x_m in (("A", 30.0), ("B", 10.0), ("C", 20.0))
    ]
    Corner.objects.create(site=site, name="gate", x_m=0.0, y_m=0.0)
    tasks = [make_task(one) for one in trees]
    one = make_round(TODAY, tasks)
    rows = Task.objects.select_related("tree__block", "round", "site").order_by("id")
    ticked = rows.get(pk=tasks[1].pk)
    complete_task(task=ticked, person=None, on=TODAY, now=NOW)
    one.refresh_from_db()
    names = {tree.pk: tree.name for tree in trees}
    assert [names[pk] for pk in one.order] == ["B", "C", "A"]
    assert one.begun_at == NOW
    # The corner moves behind A, and a tree joins: the walk goes on as it began.
    Corner.objects.update(x_m=40.0)
    joined = make_task(make_tree("D", x_m=0.0, y_m=0.0))
    Task.objects.filter(pk=joined.pk).update(round=one)
    complete_task(
        task=rows.get(pk=tasks[2].pk),
        person=None,
        on=TODAY,
        now=NOW + timedelta(minutes=5),
    )
    left = in_walking_order(rows.filter(status="open"), list(site.corners.all()))
    assert [task.tree.name for task in left] == ["A", "D"]
    one.refresh_from_db()
    assert one.begun_at == NOW
    assert begin_walks(site=site, today=TODAY, now=NOW) == 0


def test_a_tick_for_another_day_begins_no_walk(make_tree, make_task, make_round):
    task = make_task(make_tree())
    one = make_round(TODAY, [task])
    task.refresh_from_db()
    complete_task(task=task, person=None, on=TODAY - timedelta(days=1), now=NOW)
    one.refresh_from_db()
    assert one.begun_at is None


def test_a_begun_walk_that_goes_to_another_day_begins_anew_there(site, make_tree):
    make_tree()
    plan_site(site, TODAY, NOW)
    rounds = Round.objects.filter(site=site, is_withdrawn=False, tasks__isnull=False)
    later = rounds.exclude(tasks__earliest__lte=TODAY).first()
    assert later is not None
    Round.objects.filter(pk=later.pk).update(day=TODAY, begun_at=NOW, order=[1])
    plan_site(site, TODAY, NOW)
    later.refresh_from_db()
    assert later.day > TODAY
    assert (later.begun_at, later.order) == (None, [])
