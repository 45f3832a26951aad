"""Print what a site's trees need, computed as of a day."""

import json
from datetime import timedelta

from django.core.management.base import BaseCommand, CommandParser
from django.utils import timezone

from care.management.arguments import day_of, site_named
from care.planning.gather import gather
from care.planning.plan_site import ensure_planned
from care.planning.propose import propose
from care.planning.reconcile import reason_values
from care.proposals import Proposal
from orchard.models import Tree


class Command(BaseCommand):
    """``plan --site S --on D [--days N] [--dry-run] [--json]``."""

    help = (
        "Plan a site strictly as of a day. Writes only for the site's own day, and "
        "not with --dry-run."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        """Declare the options."""
        parser.add_argument("--site", required=True, help="the site's address word")
        parser.add_argument("--on", help="day, YYYY-MM-DD; default: the site's own")
        parser.add_argument("--days", type=int, default=14, help="how far ahead")
        parser.add_argument("--dry-run", action="store_true")
        parser.add_argument("--json", action="store_true")

    def handle(self, *args: object, **options: object) -> None:
        """Plan and print."""
        del args
        site = site_named(options["site"])
        own_day = site.today(timezone.now())
        day = day_of(options["on"], own_day)
        if day == own_day and not options["dry_run"]:
            ensure_planned(site, own_day)
        last = day + timedelta(days=int(str(options["days"])))
        trees = Tree.objects.in_bulk(list(site.trees.values_list("pk", flat=True)))
        rows = [
            self._row(proposal, trees[proposal.tree_id])
            for proposal in propose(gather(site, day))
            if proposal.earliest <= last
        ]
        rows.sort(key=lambda row: (row["due"], row["tree"], row["kind"], row["key"]))
        if options["json"]:
            self.stdout.write(json.dumps({"schema": 1, "tasks": rows}, sort_keys=True))
        else:
            for row in rows:
                self.stdout.write(self._line(row))

    def _row(self, proposal: Proposal, tree: Tree) -> dict[str, object]:
        return {
            "tree": tree.tag or tree.name,
            "tree_id": str(tree.public_id),
            "species": tree.species_key,
            "kind": proposal.kind,
            "key": proposal.key,
            "action": proposal.action,
            "earliest": proposal.earliest.isoformat(),
            "due": proposal.due.isoformat(),
            "latest": proposal.latest.isoformat(),
            "amount": proposal.amount,
            "unit": proposal.unit,
            "firm": proposal.is_firm,
            "urgent": proposal.is_urgent,
            "reason": reason_values(proposal),
            "sources": list(proposal.sources),
            "cautions": list(proposal.cautions),
        }

    def _line(self, row: dict[str, object]) -> str:
        amount = "" if row["amount"] is None else f"{row['amount']:g} {row['unit']}"
        firm = "" if row["firm"] else " (likely)"
        return f"{row['due']}  {row['tree']}: {row['action']} {amount}{firm}".rstrip()
