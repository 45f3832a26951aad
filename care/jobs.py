"""Background jobs of the plan: thin, short, safe to run twice."""

from celery import shared_task
from django.utils import timezone

from care.actions import kept_shifts
from care.actions.looking_back import make_next, wish_for_grown_old
from care.actions.photo_changes import sweep_photos
from care.actions.sendings import forget_old_sendings
from care.planning.plan_site import ensure_planned, stale_sites
from care.views import shift_reminders
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


@shared_task
def look_back() -> bool:
    """Make the next look back that somebody asked for; return whether one waited."""
    return make_next(timezone.now)


@shared_task
def renew_look_backs() -> int:
    """Ask anew for look backs of which the weather has moved; return how many."""
    return wish_for_grown_old(timezone.now())


@shared_task
def sweep_up_photos() -> int:
    """Remove photos taken back long ago and files of none; return how many."""
    return sweep_photos(timezone.now())


@shared_task
def forget_sendings() -> int:
    """Let go of what phones sent long ago; return how many rows went."""
    return forget_old_sendings(timezone.now())


@shared_task
def keep_shifts() -> int:
    """Fill what repeats, and call off what a storm forbids; return how many changed."""
    return kept_shifts.keep_shifts(timezone.now())


@shared_task
def tend_shifts() -> int:
    """Settle places, close what nobody spoke of, remind of tomorrow; return how many."""
    return shift_reminders.tend_shifts(timezone.now())
