"""Where a plan lies on the page, and to which scale."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from care.charts.axes import round_step
from care.facts import Point

FOOT_M = 0.3048
#: Scales of drawings on paper, largest first: in metres, and in feet to the inch.
METRIC_RATIOS = (20, 50, 100, 200, 250, 500, 1000, 2000, 2500, 5000, 10_000, 25_000)
FEET_TO_THE_INCH = (2, 4, 5, 10, 20, 30, 40, 50, 60, 100, 200, 500, 1000, 2500)
INCHES_IN_A_FOOT = 12
LEAST_EXTENT_M = 4.0
EDGE_SHARE = 0.03  # of room kept free round everything
MOST_GRID_LINES = 10
BAR_STEPS = 3


@dataclass(frozen=True, slots=True)
class Extent:
    """The cut-out of a plan that is drawn [m]."""

    left_m: float
    low_m: float
    right_m: float
    high_m: float

    @property
    def width_m(self) -> float:
        """From left to right."""
        return self.right_m - self.left_m

    @property
    def height_m(self) -> float:
        """From low to high on the page."""
        return self.high_m - self.low_m


@dataclass(frozen=True, slots=True)
class Paper:
    """Room for a drawing, in units of its view box; ``strip`` is for scale and north."""

    width: float
    height: float
    margin: float
    strip: float
    text: float


#: Units are those in which words on a phone have their size in pixels.
SCREEN = Paper(width=360, height=520, margin=6, strip=44, text=13)
#: Units are millimetres: what both A4 and Letter leave between printers' margins.
SHEET = Paper(width=180, height=230, margin=2, strip=14, text=3)


@dataclass(frozen=True, slots=True)
class Frame:
    """How a cut-out lies on a paper: units to the metre and where it begins."""

    extent: Extent
    paper: Paper
    per_m: float

    @property
    def left(self) -> float:
        """Where the cut-out begins: in the middle of the paper's width."""
        return (self.paper.width - self.extent.width_m * self.per_m) / 2

    @property
    def bottom(self) -> float:
        """Where the cut-out ends and the strip begins."""
        return self.paper.margin + self.extent.height_m * self.per_m

    @property
    def height(self) -> float:
        """The whole drawing's, the strip counted in."""
        return self.bottom + self.paper.strip

    def at(self, place_m: Point) -> Point:
        """Return a place of the plan on the paper; y goes down there."""
        x_m, y_m = place_m
        return (
            self.left + (x_m - self.extent.left_m) * self.per_m,
            self.paper.margin + (self.extent.high_m - y_m) * self.per_m,
        )


def extent_of(
    points_m: Iterable[Point], circles_m: Iterable[tuple[Point, float]]
) -> Extent:
    """Return the cut-out that shows all points and circles (middle, radius)."""
    points = list(points_m)
    for (x_m, y_m), radius_m in circles_m:
        points += [(x_m - radius_m, y_m - radius_m), (x_m + radius_m, y_m + radius_m)]
    across, up = (sorted(axis) for axis in zip(*(points or [(0.0, 0.0)]), strict=True))
    left_m, right_m = _roomy(across[0], across[-1])
    low_m, high_m = _roomy(up[0], up[-1])
    return Extent(left_m, low_m, right_m, high_m)


def _roomy(low_m: float, high_m: float) -> tuple[float, float]:
    span_m = max((high_m - low_m) * (1 + 2 * EDGE_SHARE), LEAST_EXTENT_M)
    middle_m = (low_m + high_m) / 2
    return middle_m - span_m / 2, middle_m + span_m / 2


def screen_frame(extent: Extent) -> Frame:
    """Return the frame that fills the width of a screen, or its height if that is less."""
    return Frame(extent, SCREEN, _most_per_m(extent, SCREEN))


def _most_per_m(extent: Extent, paper: Paper) -> float:
    across = (paper.width - 2 * paper.margin) / extent.width_m
    return min(across, (paper.height - paper.margin - paper.strip) / extent.height_m)


def sheet_ratio(extent: Extent, *, in_feet: bool) -> int:
    """Return the largest scale, 1 to so many, at which a cut-out fits on a sheet.

    In feet it is a round number of feet to the inch, as on an engineer's scale.
    """
    ratios: tuple[int, ...] = METRIC_RATIOS
    if in_feet:
        ratios = tuple(INCHES_IN_A_FOOT * feet for feet in FEET_TO_THE_INCH)
    most_per_m = _most_per_m(extent, SHEET)
    return next(
        (ratio for ratio in ratios if mm_per_m(ratio) <= most_per_m), ratios[-1]
    )


def mm_per_m(ratio: float) -> float:
    """Return how many millimetres on paper a metre is at a scale of 1 to ``ratio``."""
    return 1000 / ratio


def sheet_frame(extent: Extent, ratio: int) -> Frame:
    """Return the frame of a sheet at a scale; a unit is a millimetre."""
    return Frame(extent, SHEET, mm_per_m(ratio))


@dataclass(frozen=True, slots=True)
class Bar:
    """A round length laid out as a line, so that a ruler or a thumb can be compared."""

    x: float
    end_x: float
    y: float
    length_m: float


def scale_bar(frame: Frame, *, in_feet: bool) -> Bar:
    """Return the scale's bar, a round number of metres or feet."""
    unit_m = FOOT_M if in_feet else 1.0
    length_m = unit_m * round_step(frame.extent.width_m / unit_m, BAR_STEPS)
    start = max(frame.left, frame.paper.margin)
    at_y = frame.bottom + frame.paper.strip * 0.4
    end = start + length_m * frame.per_m
    return Bar(round(start, 2), round(end, 2), round(at_y, 2), length_m)


def grid_m(extent: Extent, *, in_feet: bool) -> tuple[float, list[float], list[float]]:
    """Return the grid's step and its lines, across and up [m]; a round number apart."""
    unit_m = FOOT_M if in_feet else 1.0
    longest = max(extent.width_m, extent.height_m) / unit_m
    step_m = unit_m * max(round_step(longest, MOST_GRID_LINES), 1.0)
    return (
        step_m,
        _lines(extent.left_m, extent.right_m, step_m),
        _lines(extent.low_m, extent.high_m, step_m),
    )


def _lines(low_m: float, high_m: float, step_m: float) -> list[float]:
    first, last = math.ceil(low_m / step_m), math.floor(high_m / step_m)
    return [number * step_m for number in range(first, last + 1)]


def north_on_page(up_bearing_deg: float) -> Point:
    """Return which way north is on the paper: right and down, of length 1."""
    bearing = math.radians(up_bearing_deg)
    return (-math.sin(bearing), -math.cos(bearing))
