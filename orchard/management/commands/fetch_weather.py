"""Ask the weather services for what is due."""

import json
from dataclasses import asdict

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from orchard.actions.weather_asking import NO_CONTACT, Outcome, ask_due

WORDS = {
    "new": "something new",
    "same": "nothing new",
    "failed": "no good answer",
    "lost": "somebody else was faster",
}


class Command(BaseCommand):
    """``fetch_weather [--now] [--json]``."""

    help = "Ask the weather services that sites have chosen for what is due."

    def add_arguments(self, parser: CommandParser) -> None:
        """Declare the arguments."""
        parser.add_argument(
            "--now",
            action="store_true",
            help="ask also what is not due yet, but nobody who asked to be left alone",
        )
        parser.add_argument("--json", action="store_true")

    def handle(self, *args: object, **options: object) -> None:
        """Ask, and print what came of it."""
        del args
        if not settings.ORCHARD_CONTACT:
            raise CommandError(NO_CONTACT)
        outcomes = ask_due(now=timezone.now, is_everything=bool(options["now"]))
        if options["json"]:
            asked = [asdict(outcome) for outcome in outcomes]
            self.stdout.write(json.dumps({"schema": 1, "asked": asked}, default=str))
            return
        for outcome in outcomes:
            self.stdout.write(_line(outcome))
        if not outcomes:
            self.stdout.write("Nothing was due.")


def _line(outcome: Outcome) -> str:
    line = f"{outcome.source} {outcome.cell}: {WORDS[outcome.what]}"
    line += f" ({outcome.words})" if outcome.words else ""
    if outcome.wait_until is not None:
        line += f"; again {outcome.wait_until:%Y-%m-%d %H:%M} UTC"
    return line
