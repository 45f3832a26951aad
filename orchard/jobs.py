"""Background jobs of people and weather: thin, short, safe to run twice."""

from celery import shared_task
from django.utils import timezone

from orchard.actions.message_channels import send_due
from orchard.actions.weather_asking import ask_due


@shared_task
def send_messages() -> int:
    """Send what is due through the server's channel; return how many went out."""
    return send_due(now=timezone.now)


@shared_task
def fetch_weather() -> int:
    """Ask the weather services for what is due; return how many were asked."""
    return len(ask_due(now=timezone.now))
