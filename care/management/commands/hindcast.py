"""Print how good the plans of a site's earlier Mondays were."""

import json
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from care.actions.hindcasts import keep_hindcast
from care.management.arguments import site_named
from care.planning.hindcast import hindcast
from care.planning.hindcast_record import digest_of, read_record


class Command(BaseCommand):
    """``hindcast --site S [--dry-run] [--json]``."""

    help = (
        "Tell on every Monday of a site's record what was likely then, compare it with "
        "what came, and keep the report for the site's page (not with --dry-run)."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        """Declare the options."""
        parser.add_argument("--site", required=True, help="the site's address word")
        parser.add_argument("--dry-run", action="store_true", help="keep nothing")
        parser.add_argument("--json", action="store_true")

    def handle(self, *args: object, **options: object) -> None:
        """Look back, keep and print."""
        del args
        site = site_named(options["site"])
        now = timezone.now()
        record = read_record(site, site.today(now))
        if not record.is_long_enough:
            message = f"{site.slug} has less than a year of weather to look back on."
            raise CommandError(message)
        report = hindcast(record)
        if not options["dry_run"]:
            keep_hindcast(
                site=site, report=report, digest=digest_of(record), now=timezone.now()
            )
        if options["json"]:
            self.stdout.write(json.dumps({"schema": 1, **report}))
        else:
            for line in lines_of(report):
                self.stdout.write(line)


def lines_of(report: dict[str, Any]) -> list[str]:
    """Return a report as a table: all ranges, by days ahead, by kind."""
    names = ("ranges", "held", "off", "late", "wide")
    rows = {"all": report, **report["by_lead_days"], **report["by_kind"]}
    return [
        " " * 20 + "".join(f"{name:>8}" for name in names),
        *(f"{name:<20}{_figures(row)}" for name, row in rows.items()),
    ]


def _figures(row: dict[str, Any]) -> str:
    """Return count, coverage, and error, lean and width in days or portions."""
    measures = ("mean_absolute_error", "mean_error", "mean_width")
    told = [
        next((row[f"{m}_{u}"] for u in ("days", "portions") if f"{m}_{u}" in row), None)
        for m in measures
    ]
    numbers = [row["coverage_p10_p90"], *told]
    return f"{row['count']:>8}" + "".join(
        f"{'-':>8}" if number is None else f"{number:>8.2f}" for number in numbers
    )
