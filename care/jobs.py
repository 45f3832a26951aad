"""Background jobs of the plan: thin, short, safe to run twice."""

from celery import shared_task
from django.utils import timezone

from care.planning.plan_site import ensure_planned, stale_sites
from care.views.evening_messages import write_evenings


@shared_task
def plan_stale_sites() -> int:
    """Plan every site whose records or local day moved; return how many."""
    now = timezone.now()
    sites = stale_sites(now)
    for site in sites:
        ensure_planned(site, site.today(now))
    return len(sites)


@shared_task
def write_evening_messages() -> int:
    """Write what people are told of tonight's cold; return how many messages."""
    return write_evenings(timezone.now())
