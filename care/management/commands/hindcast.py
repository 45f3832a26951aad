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
            for line in _lines(report):
                self.stdout.write(line)


def _lines(report: dict[str, Any]) -> list[str]:
    lines = [f"{'all ranges':<24}{_figures(report)}"]
    for name, row in (*report["by_lead_days"].items(), *report["by_kind"].items()):
        lines.append(f"{name:<24}{_figures(row)}")
    return lines


def _figures(row: dict[str, Any]) -> str:
    """Return count, coverage, and how far off in days or portions."""
    told = {
        name.rsplit("_", 1)[0]: value
        for name, value in row.items()
        if name.endswith(("_days", "_portions")) and not isinstance(value, dict)
    }
    parts = [f"{row['count']:>5}", _number(row["coverage_p10_p90"])]
    parts += [_number(told[name]) for name in sorted(told) if name != "score"]
    return " ".join(parts)


def _number(value: float | None) -> str:
    return f"{'-':>8}" if value is None else f"{value:>8.3f}"
