"""Print the walks that gather a site's tasks; never writes."""

import json

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from care.management.arguments import day_of, site_named
from care.planning.learned_minutes import Work
from care.planning.walks import TooLong, Walk, walks

Names = dict[int, str]


class Command(BaseCommand):
    """``rounds --site S [--on D] [--days N] [--most-minutes N] [--json]``."""

    help = "Print the rounds of a site from a day on. Never writes."

    def add_arguments(self, parser: CommandParser) -> None:
        """Declare the options."""
        parser.add_argument("--site", required=True, help="the site's address word")
        parser.add_argument("--on", help="day, YYYY-MM-DD; default: the site's own")
        parser.add_argument("--days", type=int, default=14, help="how far ahead")
        parser.add_argument(
            "--most-minutes",
            type=int,
            help="as long as a day's walks may take; longer days are evened out",
        )
        parser.add_argument("--json", action="store_true")

    def handle(self, *args: object, **options: object) -> None:
        """Plan and print."""
        del args
        site = site_named(options["site"])
        day = day_of(options["on"], site.today(timezone.now()))
        most = options["most_minutes"]
        if isinstance(most, int) and most <= 0:
            message = "--most-minutes is a number of minutes above 0, such as 90."
            raise CommandError(message)
        found = walks(
            site,
            day,
            int(str(options["days"])),
            most_minutes=most if isinstance(most, int) else None,
        )
        blocks = dict(site.blocks.values_list("pk", "name"))
        trees = dict(site.trees.values_list("pk", "name"))
        rows = [self._row(walk, blocks, trees) for walk in found.walks]
        if options["json"]:
            said: dict[str, object] = {"schema": 1, "rounds": rows}
            if most is not None:
                said["too_long"] = [_too_long(one, trees) for one in found.too_long]
            self.stdout.write(json.dumps(said, sort_keys=True))
            return
        for row in rows:
            self.stdout.write(f"{row['day']}  {row['block']}: {row['minutes']} min")
        for one in found.too_long:
            self.stdout.write(_too_long_words(one, trees))

    def _row(self, walk: Walk, blocks: Names, trees: Names) -> dict[str, object]:
        return {
            "day": walk.day.isoformat(),
            "block": "" if walk.block_id is None else blocks[walk.block_id],
            "tasks": [
                {
                    "tree": trees[task.tree_id],
                    "kind": task.kind,
                    "key": task.key,
                    "amount": task.amount,
                    "unit": task.unit,
                }
                for task in walk.tasks
            ],
            "minutes": walk.minutes,
            "urgent": walk.is_urgent,
        }


def _too_long(one: TooLong, trees: Names) -> dict[str, object]:
    return {
        "day": one.day.isoformat(),
        "over_minutes": one.over_minutes,
        "could_wait": _work_named(one.could_wait, trees),
    }


def _work_named(work: Work | None, trees: Names) -> dict[str, object] | None:
    if work is None:
        return None
    return {"tree": trees[work.tree_id], "kind": work.kind, "key": work.key}


def _too_long_words(one: TooLong, trees: Names) -> str:
    said = (
        f"{one.day.isoformat()}  {one.over_minutes} minutes too long: one more person"
    )
    if one.could_wait is None:
        return f"{said}."
    return (
        f"{said}, or let {one.could_wait.kind} of {trees[one.could_wait.tree_id]} wait."
    )
