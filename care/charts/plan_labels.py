"""Words on a plan that keep off each other."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

WIDTH_SHARE = 0.62  # of a letter, of its height; common of sans-serif faces
GAP_SHARE = 0.35


@dataclass(frozen=True, slots=True)
class Wish:
    """Words wanted at a place; ``clear`` is how far from it they begin beside it.

    What must be said is, even where nothing is free; the rest is left to the list below
    the drawing. ``rings`` is how many letters farther than beside it words may go. What
    ``is_fixed`` stands at its place whatever is there.
    """

    x: float
    y: float
    words: str
    kind: str
    clear: float = 0.0
    is_centred: bool = True
    is_must: bool = False
    rings: int = 2
    is_fixed: bool = False


@dataclass(frozen=True, slots=True)
class Words:
    """Words and where their middle is, on their base line."""

    x: float
    y: float
    words: str
    kind: str


@dataclass(frozen=True, slots=True)
class _Box:
    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: "_Box") -> bool:
        across = self.left < other.right and other.left < self.right
        return across and self.top < other.bottom and other.top < self.bottom

    def is_within(self, width: float, height: float) -> bool:
        is_below = self.left >= 0 and self.top >= 0
        return is_below and self.right <= width and self.bottom <= height


def laid_out(
    wishes: Iterable[Wish],
    *,
    text: float,
    width: float,
    height: float,
    signs: Iterable[tuple[float, float, float]] = (),
) -> tuple[Words, ...]:
    """Return words at the first of their places that is free, those first that come first.

    Parameters
    ----------
    wishes : iterable of Wish
        The most important first.
    text : float
        Height of letters, in units of the view box.
    width, height : float
        Of the drawing, which nothing leaves.
    signs : iterable of three floats
        What no word may hide: the middle of each and half its width.
    """
    taken = [_Box(x - half, y - half, x + half, y + half) for x, y, half in signs]
    found = []
    for wish in wishes:
        box = _first_free(wish, taken, text, (width, height))
        if box is None:
            continue
        taken.append(box)
        middle = (box.left + box.right) / 2
        base = box.bottom - text * 0.2
        found.append(Words(round(middle, 1), round(base, 1), wish.words, wish.kind))
    return tuple(found)


def _first_free(
    wish: Wish, taken: Sequence[_Box], text: float, size: tuple[float, float]
) -> _Box | None:
    boxes = list(_places(wish, text))
    if wish.is_fixed:
        return boxes[0]
    for box in boxes:
        if box.is_within(*size) and not any(box.meets(other) for other in taken):
            return box
    return boxes[0] if wish.is_must else None


def _places(wish: Wish, text: float) -> Iterator[_Box]:
    """Yield where words may go: on their place, right, left, above, below, further."""
    half = len(wish.words) * text * WIDTH_SHARE / 2
    beside = wish.clear + GAP_SHARE * text
    if wish.is_centred:
        yield _box(wish.x, wish.y, half, text)
    for far in (beside + ring * text for ring in range(wish.rings)):
        yield _box(wish.x + far + half, wish.y, half, text)
        yield _box(wish.x - far - half, wish.y, half, text)
        yield _box(wish.x, wish.y - far - text / 2, half, text)
        yield _box(wish.x, wish.y + far + text / 2, half, text)


def _box(x: float, y: float, half: float, text: float) -> _Box:
    return _Box(x - half, y - text / 2, x + half, y + text / 2)
