"""Background jobs of people and weather: thin, short, safe to run twice."""

from celery import shared_task
from django.utils import timezone

from orchard.actions.message_channels import send_due
from orchard.actions.station_keys import settle_sent_days, thin_readings
from orchard.actions.weather_asking import ask_due


@shared_task
def send_messages() -> int:
    """Send what is due through the server's channel; return how many went out."""
    return send_due(now=timezone.now)


@shared_task
def fetch_weather() -> int:
    """Ask the weather services for what is due; return how many were asked."""
    return len(ask_due(now=timezone.now))


@shared_task
def keep_station_days() -> int:
    """Close the days of silent stations, thin old readings; return days changed."""
    now = timezone.now()
    thin_readings(now=now)
    return settle_sent_days(now=now)
