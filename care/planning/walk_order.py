"""In which order the trees of a walk are visited.

Block after block, and within one by where its trees stand on the plan; those whose
place nobody measured come behind their neighbour in the row. Trees that take a ladder
make one leg, so that it is carried once.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from functools import lru_cache

from care.models import Task
from care.scheduling.walking_order import Point, path_m, walking_order
from orchard.models import Corner, Site, Tree

#: Cautions of work for which a ladder is carried, or somebody with one is called.
LADDER_CAUTIONS = frozenset({"ladder", "call_professional"})


def ordered_trees(
    trees: Iterable[Tree],
    corners: Sequence[Corner],
    ladder_tree_ids: Collection[int] = (),
) -> list[Tree]:
    """Return the trees of one site in the order to walk them, block after block.

    Parameters
    ----------
    trees
        With their blocks at hand; in any order.
    corners
        Of the site, in the order they were named: each block is walked from the first,
        or from the first tree in its row where there is none.
    ladder_tree_ids
        Trees that take a ladder: within a block they come last, or first where that
        way is shorter.

    Returns
    -------
    list
        Every tree once; the same in whatever order they came. Where no place is known
        by block and row.
    """
    blocks: dict[int | None, list[Tree]] = {}
    for tree in sorted(trees, key=_row_key):
        blocks.setdefault(tree.block_id, []).append(tree)
    first = (corners[0].x_m, corners[0].y_m) if corners else None
    return [
        tree
        for row in blocks.values()
        for tree in _walk_of_block(row, first, set(ladder_tree_ids))
    ]


def ladder_trees(tasks: Iterable[Task]) -> frozenset[int]:
    """Return the ids of the trees that a ladder is carried to."""
    return frozenset(
        task.tree_id for task in tasks if LADDER_CAUTIONS.intersection(task.cautions)
    )


def in_walking_order(tasks: Iterable[Task], corners: Sequence[Corner]) -> list[Task]:
    """Return the tasks of one site's walk in walking order.

    Trees with their blocks and the rounds must be at hand. A walk that began keeps the
    order it had then; trees that joined it since come behind.
    """
    tasks = list(tasks)
    trees = {task.tree_id: task.tree for task in tasks}
    ordered = ordered_trees(trees.values(), corners, ladder_trees(tasks))
    place = {tree.pk: number for number, tree in enumerate(ordered)}
    frozen = _frozen(tasks)

    def key(task: Task) -> tuple[object, ...]:
        began_at = frozen.get(task.tree_id, len(place) + len(frozen))
        return (
            *_block_key(task.tree),
            began_at,
            place[task.tree_id],
            task.due,
            task.pk,
        )

    return sorted(tasks, key=key)


def corners_for(site: Site | int, tasks: Iterable[Task]) -> list[Corner]:
    """Return the corners of a site, or of its id, if any tree is placed.

    One query, or none. The trees must be at hand.
    """
    if all(_place(task.tree) is None for task in tasks):
        return []
    return list(Corner.objects.filter(site=site))


def _frozen(tasks: Iterable[Task]) -> dict[int, int]:
    """Return the place of each tree of the walks that began."""
    begun = {
        task.round_id: task.round.order
        for task in tasks
        if task.round is not None and task.round.begun_at is not None
    }
    return {
        tree_id: number
        for order in begun.values()
        for number, tree_id in enumerate(order)
    }


def _block_key(tree: Tree) -> tuple[bool, int, int]:
    block = tree.block
    return (True, 0, 0) if block is None else (False, block.position, block.pk)


def _row_key(tree: Tree) -> tuple[object, ...]:
    return (*_block_key(tree), tree.position, tree.name, tree.pk)


def _place(tree: Tree) -> Point | None:
    return None if tree.x_m is None or tree.y_m is None else (tree.x_m, tree.y_m)


def _walk_of_block(
    row: Sequence[Tree], first: Point | None, ladder: Collection[int]
) -> list[Tree]:
    places = {tree.pk: place for tree in row if (place := _place(tree)) is not None}
    if not places:
        plain = [tree for tree in row if tree.pk not in ladder]
        return plain + [tree for tree in row if tree.pk in ladder]
    legs = (
        [tree for tree in row if tree.pk not in ladder],
        [tree for tree in row if tree.pk in ladder],
    )
    if first is None:
        # One starts at the first placed tree, so its leg comes first.
        head = next(tree for tree in row if tree.pk in places)
        parts = legs[::-1] if head in legs[1] else legs
        return _in_legs(parts, places, places[head.pk], head)
    ways = [_in_legs(parts, places, first) for parts in (legs, legs[::-1])]
    return min(ways, key=lambda way: _length_m(way, places, first))


def _length_m(way: Iterable[Tree], places: Mapping[int, Point], start: Point) -> float:
    return path_m([tree.pk for tree in way if tree.pk in places], places, start)


def _in_legs(
    legs: Iterable[Sequence[Tree]],
    places: Mapping[int, Point],
    start: Point,
    head: Tree | None = None,
) -> list[Tree]:
    """Walk leg after leg, each from where the one before it ended."""
    way: list[Tree] = []
    here = start
    for leg in legs:
        walked = _leg(leg, places, here, head)
        way += walked
        here = next(
            (places[tree.pk] for tree in reversed(walked) if tree.pk in places), here
        )
    return way


def _leg(
    row: Sequence[Tree],
    places: Mapping[int, Point],
    start: Point,
    head: Tree | None,
) -> list[Tree]:
    """Walk the placed ones the short way; put each other one behind its neighbour."""
    placed = {tree.pk: tree for tree in row if tree.pk in places}
    way = [placed.pop(head.pk)] if head is not None and head.pk in placed else []
    points = tuple((pk, *places[pk]) for pk in placed)
    way += [placed[pk] for pk in _short_way(points, start)]
    before: Tree | None = None
    for tree in row:
        if tree.pk not in places:
            way.insert(0 if before is None else way.index(before) + 1, tree)
        before = tree
    return way


@lru_cache(maxsize=256)
def _short_way(
    points: tuple[tuple[int, float, float], ...], start: Point
) -> tuple[int, ...]:
    """Return the ids in walking order; a page is looked at more often than trees move."""
    positions = {pk: (x_m, y_m) for pk, x_m, y_m in points}
    return tuple(walking_order(positions, start, keys=list(positions)))
