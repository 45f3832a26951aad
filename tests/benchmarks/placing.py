"""How long places take: the yard of 12 by 20 m with eight trees, then 30 and 60 trees.

Run: ``.venvs/lts-test/bin/python -m tests.benchmarks.placing``. Target: the yard below
2 s on one core.
"""

import time

from care.facts import LayoutFacts, PlantFacts
from care.science.placing import Goal, propose_places
from tests.care.science.placing_cases import box, feature, layout, wanted

MIXED = (
    *("lemon", "fig", "apple", "apple", "peach", "loquat", "pomegranate"),
    "blueberry_southern_highbush",
)


def _yard() -> LayoutFacts:
    return layout(
        feature(1, "boundary", box(0.0, 0.0, 12.0, 20.0)),
        feature(2, "building", box(0.0, 0.0, 8.0, 5.0)),
        feature(3, "paving", box(8.0, 0.0, 9.0, 8.0)),
        latitude_deg=-27.0,
    )


def _field(side_m: float) -> LayoutFacts:
    return layout(
        feature(1, "boundary", box(0.0, 0.0, side_m, side_m)),
        feature(2, "building", box(5.0, 5.0, 15.0, 12.0)),
    )


def _trees(count: int) -> list[PlantFacts]:
    return [wanted(number, MIXED[number % len(MIXED)]) for number in range(count)]


def main() -> None:
    """Print the seconds of each and how many trees got a place."""
    for name, where, count in (
        ("yard", _yard(), len(MIXED)),
        ("field", _field(40.0), 30),
        ("field", _field(60.0), 60),
    ):
        for goal in Goal:
            begun = time.perf_counter()
            found = propose_places(where, _trees(count), goal=goal)
            seconds = time.perf_counter() - begun
            placed = sum(each.place_m is not None for each in found)
            print(f"{name}, {count} trees, {goal}: {seconds:.2f} s, {placed} placed")


if __name__ == "__main__":
    main()
