"""Print what is wrong with where a site's trees stand, and who pollinates whom."""

import json
from collections.abc import Mapping

from django.core.management.base import BaseCommand, CommandParser
from django.utils import timezone

from care.facts import Conflict, LayoutFacts
from care.management.arguments import site_named
from care.planning.gather_layout import layout_facts
from care.planning.kinds import kinds_of
from care.planning.layout_check import layout_check
from care.planning.partners import PartnerRow, partners_of


class Command(BaseCommand):
    """``layout_check --site S [--json]``."""

    help = "Check where the trees of a site stand. Writes nothing."

    def add_arguments(self, parser: CommandParser) -> None:
        """Declare the options."""
        parser.add_argument("--site", required=True, help="the site's address word")
        parser.add_argument("--json", action="store_true")

    def handle(self, *args: object, **options: object) -> None:
        """Check and print."""
        del args
        site = site_named(options["site"])
        layout = layout_facts(site, site.today(timezone.now()))
        check = layout_check(layout, water_setback_m=site.water_setback_m)
        names = _names(layout)
        conflicts = [_conflict_row(each, names) for each in check.conflicts]
        partners = [
            _partner_row(row) for row in partners_of(layout, kinds_of(site.orchard))
        ]
        if options["json"]:
            told = {"schema": 1, "conflicts": conflicts, "partners": partners}
            self.stdout.write(json.dumps(told, sort_keys=True))
            return
        for row in conflicts:
            self.stdout.write(_line(row))
        for row in partners:
            with_whom = row["partner_name"] or "nobody"
            self.stdout.write(f"{row['name']}: {row['verdict']}, {with_whom}")


def _names(layout: LayoutFacts) -> Mapping[str, str]:
    return {
        **{plant.ref: plant.name for plant in layout.plants},
        **{f"feature-{feature.id}": feature.name for feature in layout.features},
        **{
            f"clump-{plant.clump.id}": plant.clump.name
            for plant in layout.plants
            if plant.clump
        },
    }


def _conflict_row(conflict: Conflict, names: Mapping[str, str]) -> dict[str, object]:
    return {
        "code": conflict.code,
        "who": conflict.who,
        "who_name": names[conflict.who],
        "whom": conflict.whom,
        "whom_name": names[conflict.whom],
        "distance_m": _rounded(conflict.distance_m),
        "least_m": _rounded(conflict.least_m),
        "sun_hours": _rounded(conflict.sun_hours),
        "sources": list(conflict.sources),
    }


def _partner_row(row: PartnerRow) -> dict[str, object]:
    return {
        "plant": row.plant,
        "name": row.name,
        "verdict": str(row.verdict),
        "partner": row.partner,
        "partner_name": row.partner_name,
        "distance_m": _rounded(row.distance_m),
        "needs": list(row.needs),
        "suggestions": list(row.suggestions),
        "sources": list(row.sources),
    }


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 2)


def _line(row: Mapping[str, object]) -> str:
    measures = [
        f"{name} {row[key]}"
        for name, key in (
            ("m", "distance_m"),
            ("at least m", "least_m"),
            ("sun h", "sun_hours"),
        )
        if row[key] is not None
    ]
    return (
        f"{row['code']}: {row['who_name']} / {row['whom_name']}  {', '.join(measures)}"
    )
