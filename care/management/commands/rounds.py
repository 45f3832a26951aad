"""Print the walks that gather a site's tasks; never writes."""

import json

from django.core.management.base import BaseCommand, CommandParser
from django.utils import timezone

from care.management.arguments import day_of, site_named
from care.planning.walks import Walk, walks


class Command(BaseCommand):
    """``rounds --site S [--on D] [--days N] [--json]``."""

    help = "Print the rounds of a site from a day on. Never writes."

    def add_arguments(self, parser: CommandParser) -> None:
        """Declare the options."""
        parser.add_argument("--site", required=True, help="the site's address word")
        parser.add_argument("--on", help="day, YYYY-MM-DD; default: the site's own")
        parser.add_argument("--days", type=int, default=14, help="how far ahead")
        parser.add_argument("--json", action="store_true")

    def handle(self, *args: object, **options: object) -> None:
        """Plan and print."""
        del args
        site = site_named(options["site"])
        day = day_of(options["on"], site.today(timezone.now()))
        blocks = dict(site.blocks.values_list("pk", "name"))
        trees = dict(site.trees.values_list("pk", "name"))
        rows = [
            self._row(walk, blocks, trees)
            for walk in walks(site, day, int(str(options["days"])))
        ]
        if options["json"]:
            self.stdout.write(json.dumps({"schema": 1, "rounds": rows}, sort_keys=True))
            return
        for row in rows:
            self.stdout.write(f"{row['day']}  {row['block']}: {row['minutes']} min")

    def _row(
        self, walk: Walk, blocks: dict[int, str], trees: dict[int, str]
    ) -> dict[str, object]:
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
