"""Photos of the demonstration: one tree through its seasons, drawn by code."""

import io
import math
import random
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime

from PIL import Image, ImageDraw, ImageFilter

from care.actions.photos import keep_photo
from orchard.models import Person, Site

WIDTH, HEIGHT = 1200, 900
GROUND = 650
TREE = "Pear at the gate"
YEARS = 3
MOST = 8
SEED = 11
TWIG = 4.0  # dots wide
FULL_LEAF = 0.5
BLOSSOMS = 6  # at each twig
FRUITS = 0.25

Colour = tuple[int, int, int]
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Scene:
    """How the tree looks at one time of the year; ``leaves`` is none to full, 0 to 1."""

    month: int
    day: int
    caption: str
    sky: Colour
    grass: Colour
    leaves: float
    leaf: Colour
    dots: Colour | None = None  # blossoms or fruit


SCENES = (
    Scene(1, 20, "Bare", (196, 204, 214), (150, 148, 120), 0.0, (0, 0, 0)),
    Scene(
        4,
        22,
        "In bloom",
        (168, 204, 236),
        (110, 160, 80),
        0.35,
        (140, 180, 90),
        (250, 246, 240),
    ),
    Scene(
        7,
        20,
        "In full leaf",
        (140, 190, 236),
        (128, 150, 70),
        1.0,
        (70, 120, 50),
        (190, 200, 90),
    ),
    Scene(10, 24, "Leaves turn", (200, 206, 206), (130, 130, 70), 0.7, (205, 140, 40)),
)


def photograph(site: Site, person: Person, today: date, now: datetime) -> None:
    """Keep a photo of one tree for every season of the last years.

    Each says in its words that it is drawn.
    """
    tree = site.trees.get(name=TREE)
    for age, (scene, on) in enumerate(_days(today)):
        keep_photo(
            site=site,
            tree=tree,
            person=person,
            helper=None,
            on=on,
            now=now,
            data=draw(scene, age),
            caption=f"{scene.caption}; drawn for this demonstration",
        )


def _days(today: date) -> Iterator[tuple[Scene, date]]:
    """Return the last scenes that were to be seen by today, oldest first."""
    seen = [
        (scene, date(year, scene.month, scene.day))
        for year in range(today.year - YEARS, today.year + 1)
        for scene in SCENES
    ]
    yield from [one for one in seen if one[1] <= today][-MOST:]


def draw(scene: Scene, age: int) -> bytes:
    """Return the drawing of a scene, the tree a little larger each season, as JPEG."""
    drawing = Drawing(scene)
    drawing.yard()
    drawing.branch((WIDTH / 2, GROUND + 20), 90.0, 150.0 + 5 * age, 30.0)
    drawing.leaves()
    kept = io.BytesIO()
    smooth = drawing.image.filter(ImageFilter.GaussianBlur(1.2))
    smooth.save(kept, "JPEG", quality=85)
    return kept.getvalue()


class Drawing:
    """A yard with one tree that looks the same but for its season and size."""

    def __init__(self, scene: Scene) -> None:
        self.scene = scene
        self.image = Image.new("RGB", (WIDTH, HEIGHT), scene.sky)
        self.pen = ImageDraw.Draw(self.image)
        self.chance = random.Random(SEED)  # noqa: S311 (the same tree each time)
        self.tips: list[Point] = []

    def yard(self) -> None:
        """Draw sky, grass, a fence, and mulch that keeps clear of the trunk."""
        for row in range(0, GROUND, 10):
            red, green, blue = (
                min(255, part + row * 40 // GROUND) for part in self.scene.sky
            )
            self.pen.rectangle((0, row, WIDTH, row + 10), fill=(red, green, blue))
        self.pen.rectangle((0, GROUND, WIDTH, HEIGHT), fill=self.scene.grass)
        for post in range(40, WIDTH, 220):
            beam = (post, GROUND - 110, post + 16, GROUND + 10)
            self.pen.rectangle(beam, fill=(120, 96, 72))
        for rail in (GROUND - 90, GROUND - 45):
            self.pen.rectangle((0, rail, WIDTH, rail + 10), fill=(136, 112, 86))
        self.pen.ellipse((430, GROUND, 770, GROUND + 70), fill=(112, 84, 60))
        self.pen.ellipse((560, GROUND + 14, 640, GROUND + 40), fill=(150, 128, 98))

    def branch(
        self, start: Point, angle_deg: float, length: float, width: float
    ) -> None:
        """Draw a branch and those that grow from it, down to the twigs."""
        angle = math.radians(angle_deg)
        end = (start[0] + length * math.cos(angle), start[1] - length * math.sin(angle))
        self.pen.line((start, end), fill=(92, 72, 56), width=max(2, round(width)))
        if width < TWIG:
            self.tips.append(end)
            return
        for turn in (-28, -6, 24):
            angle_of_next = angle_deg + turn + self.chance.uniform(-10, 10)
            shorter = length * self.chance.uniform(0.68, 0.82)
            self.branch(end, angle_of_next, shorter, width * 0.6)

    def leaves(self) -> None:
        """Draw what hangs at the twigs: leaves, and blossoms or fruit."""
        leaves = round(9 * self.scene.leaves)
        for tip in self.tips:
            for _ in range(leaves):
                self._dot(tip, 34, 13, self.scene.leaf)
            for _ in range(self._dots()):
                self._dot(tip, 30, 9, self.scene.dots or self.scene.leaf)

    def _dots(self) -> int:
        """Return how many blossoms, of which there are many, or fruits hang there."""
        if self.scene.dots is None:
            return 0
        is_in_bloom = self.scene.leaves < FULL_LEAF
        return BLOSSOMS if is_in_bloom else int(self.chance.random() < FRUITS)

    def _dot(self, near: Point, spread: float, size: float, colour: Colour) -> None:
        x = near[0] + self.chance.uniform(-spread, spread)
        y = near[1] + self.chance.uniform(-spread, spread)
        shade = self.chance.randint(-18, 18)
        red, green, blue = (max(0, min(255, part + shade)) for part in colour)
        self.pen.ellipse((x - size, y - size, x + size, y + size), (red, green, blue))
