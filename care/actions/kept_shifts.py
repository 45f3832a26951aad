"""What keeps shifts right when nobody looks: series filled, storms heeded."""

import logging
from datetime import datetime, timedelta

from django.db.models import Q

from care.actions.shift_series import FILLED_DAYS, fill_series
from care.actions.stormy_shifts import call_off_dangerous
from care.planning.plan_site import ensure_planned
from orchard.models import Site

logger = logging.getLogger(__name__)


def keep_shifts(now: datetime) -> int:
    """Fill the series of every site and heed warnings; return what changed.

    Raises
    ------
    ExceptionGroup
        What failed, after every other site was seen to.
    """
    has_work = Q(shift_series__is_ended=False) | Q(shifts__status="published")
    sites = Site.objects.filter(has_work).distinct().select_related("orchard")
    changed, failures = 0, []
    for site in sites.order_by("pk"):
        try:
            changed += _keep(site, now)
        except Exception as error:
            logger.exception("The shifts of site %s were not kept", site.pk)
            failures.append(error)
    if failures:
        message = "The shifts of some sites were not kept."
        raise ExceptionGroup(message, failures)
    return changed


def _keep(site: Site, now: datetime) -> int:
    today = site.today(now)
    ensure_planned(site, today)
    until = today + timedelta(days=FILLED_DAYS)
    filled = fill_series(site=site, today=today, until=until, now=now)
    called_off = call_off_dangerous(site=site, now=now)
    return filled.made + filled.silenced + filled.revived + called_off
