"""Print how well every kind fits a site."""

import json
from datetime import date

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from care.facts.fit import Factor, KindFit, PlaceFit, Topic
from care.management.arguments import site_named
from care.planning.fit_site import SiteFit, fit_site
from orchard.models import Site

MEMORY = "memory"


class Command(BaseCommand):
    """``fit --site S [--species K] [--json]``."""

    help = "How well every species and cultivar fits a site, best first."

    def add_arguments(self, parser: CommandParser) -> None:
        """Declare the options."""
        parser.add_argument("--site", required=True, help="the site's address word")
        parser.add_argument("--species", default="", help="one species, by its key")
        parser.add_argument("--json", action="store_true")

    def handle(self, *args: object, **options: object) -> None:
        """Reckon and print."""
        del args
        site = site_named(options["site"])
        today = site.today(timezone.now())
        found = _fit(site, today, str(options["species"] or ""))
        rows = [_row(fit, found) for fit in found.fits]
        if options["json"]:
            self.stdout.write(json.dumps(_document(rows, found), sort_keys=True))
            return
        for row in rows:
            limit = row["limiting_factor"] or "nothing known"
            self.stdout.write(f"{row['key']}: {row['verdict']}, limited by {limit}")


def _fit(site: Site, today: date, kind_key: str) -> SiteFit:
    try:
        return fit_site(site, today, kind_key=kind_key)
    except KeyError as error:
        message = f"There is no species {kind_key!r}."
        raise CommandError(message) from error


def _document(rows: list[dict[str, object]], found: SiteFit) -> dict[str, object]:
    years, zone = found.years, found.zone
    return {
        "schema": 1,
        "species": rows,
        "basis": None
        if years is None
        else {
            "observed_winters": len(years.basis.seasons),
            "made_up_winters": years.basis.made_up,
            "zone": None if zone is None else zone.zone,
            "coldest_night_c": round(years.coldest_c, 2),
        },
    }


def _row(fit: KindFit, found: SiteFit) -> dict[str, object]:
    """Return a kind; the temperatures are what it bears in the ground and in a pot."""
    del found
    chill = fit.ground.factor(Topic.CHILL)
    ground, pot = fit.ground.factor(Topic.COLD), fit.pot.factor(Topic.COLD)
    return {
        "key": fit.key,
        "species": fit.species.key,
        "cultivar": None if fit.cultivar is None else fit.cultivar.name,
        "verdict": fit.ground.verdict.value,
        "verdict_pot": fit.pot.verdict.value,
        "limiting_factor": _limiting(fit.ground),
        "limiting_factor_pot": _limiting(fit.pot),
        "unverified": _is_unverified(fit.ground),
        "chill_share": _share(chill, "met_surely"),
        "chill_share_at_most": _share(chill, "met_perhaps"),
        "chill_share_of_most": _share(chill, "most_met_surely"),
        "coldest_ground_c": fit.species.damage_temp_mature_c,
        "coldest_ground_young_c": fit.species.damage_temp_young_c,
        "coldest_pot_c": fit.species.move_in_temp_c,
        "cold_share_ground": _number(ground, "share"),
        "cold_share_pot": _number(pot, "share"),
        "bloom_frost_share": _number(fit.ground.factor(Topic.BLOOM_FROST), "share"),
        "sources": sorted(
            {
                one or MEMORY
                for place in (fit.ground, fit.pot)
                for factor in place.factors
                for sources in factor.sources
                for one in sources.split(";")
            }
        ),
    }


def _limiting(place: PlaceFit) -> str | None:
    return None if place.limiting is None else place.limiting.topic.value


def _is_unverified(place: PlaceFit) -> bool:
    return place.limiting is not None and place.limiting.is_unverified


def _number(factor: Factor | None, name: str) -> float | None:
    value = None if factor is None else factor.number(name)
    return round(value, 4) if isinstance(value, float) else None


def _share(chill: Factor | None, name: str) -> float | None:
    if chill is None or chill.code == "chill_none_needed":
        return None if chill is None else 1.0
    met, winters = chill.number(name), chill.number("winters")
    if not isinstance(met, float) or not isinstance(winters, float):
        return None
    return round(met / winters, 4)
