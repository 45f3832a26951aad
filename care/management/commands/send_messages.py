"""Write tonight's messages and send all that are due, as the jobs do."""

from django.core.management.base import BaseCommand, CommandParser
from django.utils import timezone

from care.views.evening_messages import write_evenings
from orchard.actions.message_channels import CHANNELS, send_due


class Command(BaseCommand):
    """``send_messages [--channel NAME]``."""

    help = "Write tonight's messages and send what is due, once."

    def add_arguments(self, parser: CommandParser) -> None:
        """Declare the option."""
        parser.add_argument(
            "--channel",
            choices=sorted(CHANNELS),
            help="default: what ORCHARD_MESSAGES says",
        )

    def handle(self, *args: object, **options: object) -> None:
        """Write, send, and say how many."""
        del args
        channel = options["channel"]
        written = write_evenings(timezone.now())
        sent = send_due(
            now=timezone.now, channel_name=None if channel is None else str(channel)
        )
        self.stdout.write(f"{written} written, {sent} sent")
