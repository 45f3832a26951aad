"""Background jobs of people: thin, short, safe to run twice."""

from celery import shared_task
from django.utils import timezone

from orchard.actions.message_channels import send_due


@shared_task
def send_messages() -> int:
    """Send what is due through the server's channel; return how many went out."""
    return send_due(now=timezone.now)
