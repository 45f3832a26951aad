"""Load or clear the demonstration."""

import json

from django.core.management.base import BaseCommand, CommandParser
from django.utils import timezone

from deploy.demo.load import clear_demo, load_demo
from orchard.models import Orchard, Person


class Command(BaseCommand):
    """``demo load|clear [--once] [--json]``."""

    help = "Load the invented orchards, or take them away."

    def add_arguments(self, parser: CommandParser) -> None:
        """Declare the options."""
        parser.add_argument("what", choices=["load", "clear"])
        parser.add_argument(
            "--once", action="store_true", help="only into an empty program"
        )
        parser.add_argument("--json", action="store_true")

    def handle(self, *args: object, **options: object) -> None:
        """Load or clear, and say what happened."""
        del args
        answer: dict[str, object]
        if options["what"] == "clear":
            answer = {"schema": 1, "cleared": clear_demo()}
        elif self._is_taken(is_once=bool(options["once"])):
            answer = {"schema": 1, "loaded": []}
        else:
            now = timezone.now()
            answer = {"schema": 1, "loaded": load_demo(timezone.localdate(now), now)}
        if options["json"]:
            self.stdout.write(json.dumps(answer))
        elif options["verbosity"]:
            self.stdout.write(", ".join(f"{k}: {v}" for k, v in answer.items()))

    def _is_taken(self, *, is_once: bool) -> bool:
        if is_once:
            return Person.objects.exists() or Orchard.objects.exists()
        return Orchard.objects.filter(is_demo=True).exists()
