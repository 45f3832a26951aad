"""How long a plan takes, as a ratio to a plain numpy pass over the same days.

Run: ``.venvs/lts-test/bin/python -m tests.benchmarks.plan [TREES ...]``. It uses a
database in memory and the demonstration's weather; nothing is kept.
"""

import os
import statistics
import sys
import time
from collections.abc import Callable
from datetime import date

import django
import numpy as np

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.settings")

REPEATS = 3
REAL_DAY = date(2014, 7, 1)


def median_s(run: Callable[[], object]) -> float:
    """Return the median time of a few runs."""
    times = []
    for _ in range(REPEATS):
        began = time.perf_counter()
        run()
        times.append(time.perf_counter() - began)
    return statistics.median(times)


def reference_s(trees: int, days: int = 520) -> float:
    """Time one running sum over a (days, trees) array: the least a fold could do."""
    steps = np.ones((days, trees))
    return median_s(lambda: np.cumsum(steps, axis=0))


def fill(trees: int) -> int:
    """Load the demonstration's weather with ``trees`` trees; return the site's key."""
    from deploy.demo import load, scenario
    from orchard.actions.people import found_orchard
    from orchard.actions.places import add_site
    from orchard.models import Person, Tree

    owner = Person.objects.create_user(f"bench-{trees}")
    orchard = found_orchard(person=owner, name="Benchmark")
    site = add_site(
        orchard=orchard, values={**scenario.ALDER_ROW, "own_today": REAL_DAY}
    )
    load.fill_weather(site, load.record_days())
    load.fill_trees(site, scenario.ALDER_ROW_BLOCKS, scenario.ALDER_ROW_TREES)
    models = list(Tree.objects.filter(site=site))
    extra = []
    for number in range(trees - len(models)):
        copy = Tree(
            **{
                f.attname: getattr(models[number % len(models)], f.attname)
                for f in Tree._meta.concrete_fields
                if f.name not in ("id", "public_id")
            }
        )
        copy.tag = f"X{number}"
        extra.append(copy)
    Tree.objects.bulk_create(extra, batch_size=500)
    return site.pk


def bench(trees: int) -> None:
    """Print the times of a first plan, a second one and their reference."""
    from django.utils import timezone

    from care.planning.gather import gather
    from care.planning.plan_site import plan_site
    from care.planning.propose import outlooks, propose
    from orchard.models import Site

    site = Site.objects.get(pk=fill(trees))
    records = gather(site, REAL_DAY)
    reference = reference_s(trees)
    rows = {
        "gather": median_s(lambda: gather(site, REAL_DAY)),
        "simulate": median_s(lambda: outlooks(records)),
        "propose (with simulate)": median_s(lambda: propose(records)),
    }
    began = time.perf_counter()
    plan_site(site, REAL_DAY, timezone.now())
    rows["first plan, written"] = time.perf_counter() - began
    rows["second plan, unchanged"] = median_s(
        lambda: plan_site(site, REAL_DAY, timezone.now())
    )
    print(
        f"{trees} trees; reference (running sum of {trees} x 520) {reference * 1e3:.2f} ms"
    )
    for name, seconds in rows.items():
        print(f"  {name:26} {seconds:8.3f} s   {seconds / reference:10.0f} x reference")


def main() -> None:
    """Bench the numbers of trees on the command line."""
    django.setup()
    from django.test.utils import setup_databases, teardown_databases

    databases = setup_databases(verbosity=0, interactive=False)
    try:
        for trees in [int(text) for text in sys.argv[1:]] or [30, 3000]:
            bench(trees)
    finally:
        teardown_databases(databases, verbosity=0)


if __name__ == "__main__":
    main()
