"""Print the rota that would be proposed for a site; never writes."""

import json
from datetime import date, timedelta
from typing import TypedDict

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from care.management.arguments import day_of, site_named
from care.models import Shift
from care.planning.rota_facts import read_rota
from care.planning.rota_plan import (
    MOST_WEEKS,
    USUAL_WEEKS,
    PersonLoad,
    RotaPlan,
    loads,
    proposed,
)
from care.planning.shift_shares import helper_seasons
from care.views.rota_words import load_words, why_words

YEARS = range(1900, 3000)


class ShiftJson(TypedDict):
    """One shift as it is printed."""

    day: str
    round: str
    status: str
    needed: int
    people: list[str]
    learners: list[str]
    open_places: int
    why_open: list[str]


class Command(BaseCommand):
    """``rota --site S [--from D] [--weeks N] [--dry-run] [--json]``."""

    help = (
        "Print who would be proposed for which shift, with what is published as it is. "
        "Never writes, with --dry-run or without it: proposing is done on the page."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        """Declare the options."""
        parser.add_argument("--site", required=True, help="the site's address word")
        parser.add_argument(
            "--from", dest="first", help="day, YYYY-MM-DD; default: the site's own"
        )
        parser.add_argument("--weeks", type=int, default=USUAL_WEEKS)
        parser.add_argument("--dry-run", action="store_true", help="it never writes")
        parser.add_argument("--json", action="store_true")

    def handle(self, *args: object, **options: object) -> None:
        """Propose and print."""
        del args
        site = site_named(options["site"])
        today = site.today(timezone.now())
        first = day_of(options["first"], today)
        last = self._last(first, int(str(options["weeks"])))
        plan = proposed(read_rota(site, first, last, today))
        shifts = [
            self._shift(plan, shift)
            for shift in plan.facts.rows.shifts.values()
            if plan.facts.rows.is_in_span(shift)
        ]
        load = [self._load(one) for one in loads(plan, helper_seasons(site, today))]
        if options["json"]:
            answer = {"schema": 1, "shifts": shifts, "load": load}
            self.stdout.write(json.dumps(answer, sort_keys=True))
            return
        for row in shifts:
            people = ", ".join(row["people"]) or "nobody"
            self.stdout.write(f"{row['day']}  {row['round']}: {people}")
            for words in row["why_open"]:
                self.stdout.write(f"    open: {words}")
        for one in load:
            self.stdout.write(f"{one['person']}: {one['words']}")

    def _last(self, first: date, weeks: int) -> date:
        if not 1 <= weeks <= MOST_WEEKS:
            message = f"--weeks is from 1 to {MOST_WEEKS}."
            raise CommandError(message)
        if first.year not in YEARS:
            message = f"--from is a day from {YEARS[0]} to {YEARS[-1]}."
            raise CommandError(message)
        return first + timedelta(days=7 * weeks - 1)

    def _shift(self, plan: RotaPlan, shift: Shift) -> ShiftJson:
        rows = plan.facts.rows
        names = {pk: one.name for pk, one in rows.members.items()}
        counted = [p for p in rows.places[shift.pk] if not p.is_learner]
        held = [(place, plan.holder(place)) for place in counted]
        return {
            "day": shift.day.isoformat(),
            "round": shift.name,
            "status": shift.status,
            "needed": len(counted),
            "people": [
                names.get(who) or (place.holder.shown_name if place.holder else "")
                for place, who in held
                if who is not None
            ],
            "learners": [names[who] for who in plan.learners[shift.pk] if who in names],
            "open_places": sum(who is None for _place, who in held),
            "why_open": [
                " ".join(why_words(plan.why[place.pk], names))
                for place, who in held
                if who is None and place.pk in plan.why
            ],
        }

    def _load(self, load: PersonLoad) -> dict[str, object]:
        return {
            "person": load.name,
            "shifts": float(load.done),
            "fair_share": None if load.fair is None else round(float(load.fair), 2),
            "words": load_words(load),
        }
