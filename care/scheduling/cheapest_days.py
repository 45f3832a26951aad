"""On which days to walk: the exact choice, as a shortest path over days.

A task's cost falls towards its due day and rises after it, so between two
neighbouring round days ``s`` and ``t`` every task due from ``s`` to the day before
``t`` goes to ``s`` or ``t`` and to no third day. What a pair of neighbours costs
therefore depends on nothing else, and the cheapest set of days is a shortest path.
This is the recursion of Wagner and Whitin (1958), "Dynamic version of the economic
lot size model", with windows open on both sides (the article from memory; the tests
compare the result with trying out every set of days).

Days are whole numbers, costs too, and every tie is decided: the same windows give the
same days in whatever order they come.
"""

from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import NamedTuple

# Larger than any plan's cost; stands for "not allowed".
NEVER = 10**15


class Span(NamedTuple):
    """A window without its name; ``earliest <= due <= latest`` are day numbers."""

    earliest: int
    due: int
    latest: int
    early_cost: int
    late_cost: int

    def cost(self, day: int) -> int:
        """Return what doing the task on ``day`` costs, ``NEVER`` outside."""
        if not self.earliest <= day <= self.latest:
            return NEVER
        if day <= self.due:
            return self.early_cost * (self.due - day)
        return self.late_cost * (day - self.due)


def assign(spans: Mapping[str, Span], days: Sequence[int]) -> dict[str, int]:
    """Send each task to the cheapest of the sorted ``days``, the earlier of equals.

    A task that fits none of them is sent to one at the cost ``NEVER``.

    Raises
    ------
    ValueError
        There are tasks and no days.
    """
    return {task_id: _best_day(span, days) for task_id, span in spans.items()}


def _best_day(span: Span, days: Sequence[int]) -> int:
    after = bisect_right(days, span.due)
    around = days[max(after - 1, 0) : after + 1]
    return min(around, key=lambda day: (span.cost(day), day))


def cheapest_days(
    spans: Iterable[Span], opening_cost: Callable[[int], int]
) -> list[int]:
    """Return the sorted days on which a round should be open.

    Parameters
    ----------
    spans
        One a task, in any order.
    opening_cost
        Cost of a round on a day, zero or more. Days that cost nothing may be
        returned although no task ends up on them.

    Notes
    -----
    Only days inside some window can be of use, so they alone are numbered: a task
    put off by years adds its own days and not the years between.
    """
    groups = Counter(spans)
    days = sorted({d for span in groups for d in range(span.earliest, span.latest + 1)})
    costs = [opening_cost(day) for day in days]
    numbered: Counter[Span] = Counter()
    for span, count in groups.items():
        # A window's days are all numbered, so distances inside it stay as they are.
        shift = span.earliest - bisect_left(days, span.earliest)
        moved = span._replace(
            earliest=span.earliest - shift,
            due=span.due - shift,
            latest=span.latest - shift,
        )
        numbered[moved] += count
    return [days[position] for position in _shortest_path(numbered, costs)]


def _shortest_path(groups: Counter[Span], costs: Sequence[int]) -> list[int]:
    """Return the cheapest set of round days among ``0 .. len(costs) - 1``.

    The path runs from the day before the first (-1) to the day after the last
    (``len(costs)``), on neither of which any task can be done. Lists that are looked
    up by the day a step starts from begin with day -1.
    """
    end = len(costs)
    reach = _farthest_next(groups, end)
    segments = _segment_costs(groups, reach)
    best = [0] + [NEVER] * (end + 1)
    came_from = [-1] * (end + 1)
    for start in range(-1, end):
        for day, tasks in enumerate(segments[start + 1], start + 1):
            opening = costs[day] if day < end else 0
            total = best[start + 1] + tasks + opening
            # The later of two equal predecessors wins.
            if total <= best[day + 1]:
                best[day + 1] = total
                came_from[day] = start
    path = []
    day = came_from[end]
    while day >= 0:
        path.append(day)
        day = came_from[day]
    return path[::-1]


def _farthest_next(groups: Iterable[Span], end: int) -> list[int]:
    """Return, for each day from -1 on, the last day that may be the next round.

    Going further would leap over a whole window.
    """
    reach = [end] * (end + 1)
    for span in groups:
        reach[span.earliest] = min(reach[span.earliest], span.latest)
    for position in range(end - 1, -1, -1):
        reach[position] = min(reach[position], reach[position + 1])
    return reach


def _segment_costs(groups: Counter[Span], reach: Sequence[int]) -> list[list[int]]:
    """Return the cost of the tasks due from each round day to before the next.

    ``result[s + 1][t - s - 1]`` belongs to the neighbours ``s < t``.
    """
    segments = [[0] * (reach[s + 1] - s) for s in range(-1, len(reach) - 1)]
    for span, count in groups.items():
        afterwards = [span.cost(day) for day in range(span.due + 1, span.latest + 1)]
        # From earlier starts on, the next round comes no later than the due day.
        for start in range(bisect_right(reach, span.due) - 1, span.due + 1):
            row = segments[start + 1]
            before = span.cost(start)
            first = span.due - start
            for offset, after in enumerate(afterwards[: len(row) - first], first):
                row[offset] += count * min(before, after)
            for offset in range(first + len(afterwards), len(row)):
                row[offset] += count * before
    return segments
