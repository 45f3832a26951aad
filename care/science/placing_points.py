"""Points where a tree might go: a fine grid, rows, corners, and what just fits."""

from dataclasses import dataclass

import numpy as np
import shapely

from care.facts import Array, Point

#: So many looks at points of a grid are made for one tree after another.
GRID_LOOKS = 15_000
MOST_GRID_POINTS = 1500
FINEST_M = 0.25
#: Points may lie so far outside by rounding [m].
ROUNDING_M = 0.002
_NO_POINTS: Array = np.empty((0, 2))


@dataclass(frozen=True, slots=True)
class Frame:
    """Axes along the ground's own sides, its second one towards the pole."""

    rotation: Array  # (2, 2); rows are the new axes

    def to_frame(self, points_m: Array) -> Array:
        """Return points of the plan (n, 2) in these axes."""
        return np.asarray(points_m @ self.rotation.T)

    def to_plan(self, points_m: Array) -> Array:
        """Return points of these axes (n, 2) on the plan."""
        return np.asarray(points_m @ self.rotation)


def poleward(latitude_deg: float, up_bearing_deg: float) -> Array:
    """Return the direction on the plan away from the midday sun, of length 1.

    North of the equator that is north, south of it south; the equator counts as north.
    """
    bearing_deg = 0.0 if latitude_deg >= 0.0 else 180.0
    angle = np.radians(bearing_deg - up_bearing_deg)
    return np.array([np.sin(angle), np.cos(angle)])


def frame_of(ground: shapely.Geometry, pole: Array) -> Frame:
    """Return the axes of a ground: along its narrowest rectangle, nearest the pole."""
    corners = shapely.get_coordinates(shapely.minimum_rotated_rectangle(ground))
    sides = np.diff(corners, axis=0)
    lengths_m = np.hypot(sides[:, 0], sides[:, 1])
    side = sides[int(np.argmax(lengths_m))] / lengths_m.max()
    across = np.array([-side[1], side[0]])
    up = max((side, -side, across, -across), key=lambda axis: round(axis @ pole, 9))
    return Frame(np.array([[up[1], -up[0]], up]))


def rotated(shape: shapely.Geometry, frame: Frame) -> shapely.Geometry:
    """Return a shape of the plan in a frame's axes."""
    return shapely.transform(shape, frame.to_frame)


def inside(area: shapely.Geometry, points_m: Array) -> Array:
    """Return which points (n, 2) lie in an area or on its edge."""
    return np.asarray(shapely.intersects_xy(area, points_m[:, 0], points_m[:, 1]))


def lattice(area: shapely.Geometry, step_m: float, begin: Point | None = None) -> Array:
    """Return the points of a square lattice over an area's box that lie in it."""
    left, low, right, high = shapely.bounds(area)
    x0, y0 = begin or (left, low)
    across = _steps(x0, left, right, step_m)
    upward = _steps(y0, low, high, step_m)
    points = np.stack(np.meshgrid(across, upward), axis=-1).reshape(-1, 2)
    return np.asarray(points[inside(area, points)])


def _steps(begin: float, low: float, high: float, step_m: float) -> Array:
    first = np.ceil((low - begin) / step_m - 1e-9)
    last = np.floor((high - begin) / step_m + 1e-9)
    return np.asarray(begin + step_m * np.arange(first, last + 1))


def grid(area: shapely.Geometry, trees: int) -> Array:
    """Return the points of a grid over an area, the finer the fewer trees, and corners."""
    points = min(GRID_LOOKS / trees, MOST_GRID_POINTS)
    pitch_m = max(FINEST_M, float(np.sqrt(shapely.area(area) / points)))
    return np.concatenate([lattice(area, pitch_m), shapely.get_coordinates(area)])


def edges_of(area: shapely.Geometry) -> Array:
    """Return the straight edges of an area's outline and holes, shape (n, 2, 2)."""
    rings = shapely.get_rings(shapely.get_parts(area))
    found = []
    for ring in rings:
        corners = shapely.get_coordinates(ring)
        found.append(np.stack([corners[:-1], corners[1:]], axis=1))
    return np.concatenate(found)


def touching(centres_m: Array, radii_m: Array, edges_m: Array) -> Array:
    """Return the points just so far from two centres, or from one and on an edge.

    Parameters
    ----------
    centres_m : ndarray, shape (n, 2)
        What stands already.
    radii_m : ndarray, shape (n,)
        How far to stay from each [m].
    edges_m : ndarray, shape (m, 2, 2)
        Edges of the area.
    """
    if not len(centres_m):
        return _NO_POINTS
    return np.concatenate(
        [_of_two_circles(centres_m, radii_m), _on_edges(centres_m, radii_m, edges_m)]
    )


def _of_two_circles(centres_m: Array, radii_m: Array) -> Array:
    one, other = np.triu_indices(len(centres_m), k=1)
    apart = centres_m[other] - centres_m[one]
    length = np.hypot(apart[:, 0], apart[:, 1])
    r, s = radii_m[one], radii_m[other]
    meets = (length > 0) & (length <= r + s) & (length >= np.abs(r - s))
    apart, length, r, s = apart[meets], length[meets, None], r[meets], s[meets]
    along = apart / length
    to_foot = (length[:, 0] ** 2 + r**2 - s**2)[:, None] / (2 * length)
    aside = np.sqrt(np.maximum(r[:, None] ** 2 - to_foot**2, 0.0))
    foot = centres_m[one[meets]] + along * to_foot
    across = np.stack([-along[:, 1], along[:, 0]], axis=1) * aside
    return np.concatenate([foot + across, foot - across])


def _on_edges(centres_m: Array, radii_m: Array, edges_m: Array) -> Array:
    start = edges_m[None, :, 0] - centres_m[:, None]
    along = (edges_m[:, 1] - edges_m[:, 0])[None]
    a = (along**2).sum(axis=2)
    b = (start * along).sum(axis=2)
    c = (start**2).sum(axis=2) - radii_m[:, None] ** 2
    under_root = b**2 - a * c
    meets = (under_root >= 0) & (a > 0)
    root = np.sqrt(np.where(meets, under_root, 0.0))
    found = []
    for sign in (-1.0, 1.0):
        share = (-b + sign * root) / np.where(a > 0, a, 1.0)
        on_edge = meets & (share >= 0) & (share <= 1)
        point = edges_m[None, :, 0] + share[..., None] * along
        found.append(np.broadcast_to(point, (*on_edge.shape, 2))[on_edge])
    return np.concatenate(found)
