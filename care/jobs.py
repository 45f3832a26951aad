"""Background jobs of the plan: thin, short, safe to run twice."""

from celery import shared_task
from django.utils import timezone

from care.planning.plan_site import ensure_planned, stale_sites


@shared_task
def plan_stale_sites() -> int:
    """Plan every site whose records or local day moved; return how many."""
    now = timezone.now()
    sites = stale_sites(now)
    for site in sites:
        ensure_planned(site, site.today(now))
    return len(sites)
