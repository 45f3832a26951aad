"""Print a one-time way in for somebody."""

import json

from django.core.management.base import BaseCommand, CommandError, CommandParser

from orchard.actions.people import drop_second_step, make_signin_link
from orchard.models import Person


class Command(BaseCommand):
    """``signin_link USER [--drop-second-step] [--json]``."""

    help = "Make a link that signs USER in once, within ten minutes."

    def add_arguments(self, parser: CommandParser) -> None:
        """Declare the arguments."""
        parser.add_argument("user")
        parser.add_argument(
            "--drop-second-step",
            action="store_true",
            help="forget USER's passkeys, authenticator app and recovery codes",
        )
        parser.add_argument("--json", action="store_true")

    def handle(self, *args: object, **options: object) -> None:
        """Make the link and print it."""
        del args
        name = str(options["user"])
        person = Person.objects.filter(username=name, is_active=True).first()
        if person is None:
            message = f"Nobody is called {name!r} here."
            raise CommandError(message)
        if options["drop_second_step"]:
            drop_second_step(person=person)
        url = make_signin_link(person=person)
        if options["json"]:
            self.stdout.write(json.dumps({"schema": 1, "url": url}))
        else:
            self.stdout.write(url)
