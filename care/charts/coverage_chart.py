"""How many told ranges held, by how far ahead they were told, as bars.

Only numbers and texts; the page writes them as SVG attributes. A bar to the right edge
is all of them; the line stands where they should be.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.translation import gettext

WIDTH = 360
LEFT, RIGHT, TOP = 84, 342, 30
ROW_HEIGHT, BAR_HEIGHT = 30, 20
BOTTOM_SPACE = 24
TICKS = (0, 25, 50, 75, 100)


@dataclass(frozen=True, slots=True)
class Bar:
    """One row: its name, its bar, and what stands in it."""

    name: str
    top: int
    middle: int
    width: float
    words: str


@dataclass(frozen=True, slots=True)
class CoverageChart:
    """What the page draws; places are in the units of the view box."""

    width: int
    height: int
    left: int
    right: int
    top: int
    bottom: int
    bar_height: int
    aim_at: float
    ticks: tuple[tuple[float, str], ...]
    bars: tuple[Bar, ...]


def coverage_chart(
    rows: Sequence[tuple[str, float, int]], aim: float
) -> CoverageChart | None:
    """Return the bars, ``None`` without any row.

    Parameters
    ----------
    rows : sequence of (name, share, count)
        Nearest first; ``share`` of ``count`` ranges held, 0 to 1.
    aim : float, 0-1
        Where the line stands.
    """
    if not rows:
        return None
    bottom = TOP + ROW_HEIGHT * len(rows)
    return CoverageChart(
        width=WIDTH,
        height=bottom + BOTTOM_SPACE,
        left=LEFT,
        right=RIGHT,
        top=TOP,
        bottom=bottom,
        bar_height=BAR_HEIGHT,
        aim_at=_at(aim),
        ticks=tuple((_at(tick / 100), str(tick)) for tick in TICKS),
        bars=tuple(
            _bar(name, share, count, TOP + ROW_HEIGHT * place)
            for place, (name, share, count) in enumerate(rows)
        ),
    )


def _at(share: float) -> float:
    return round(LEFT + share * (RIGHT - LEFT), 1)


def _bar(name: str, share: float, count: int, row_top: int) -> Bar:
    top = row_top + (ROW_HEIGHT - BAR_HEIGHT) // 2
    return Bar(
        name=name,
        top=top,
        middle=top + BAR_HEIGHT // 2,
        width=round(share * (RIGHT - LEFT), 1),
        words=gettext("{held} of {count}").format(
            held=round(share * count), count=count
        ),
    )
