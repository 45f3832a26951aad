"""Make the look backs that wait, one at a time, with no transaction held meanwhile."""

from collections.abc import Callable
from datetime import datetime

from django.utils.translation import gettext_noop

from care.actions.hindcasts import (
    begin_hindcast,
    fail_hindcast,
    grown_old,
    keep_hindcast,
    wish_for_hindcast,
)
from care.planning.hindcast import hindcast
from care.planning.hindcast_record import Record, digest_of, read_record
from orchard.models import Site

TOO_SHORT = gettext_noop("There is less than a year of weather to look back on.")
FAILED = gettext_noop("It could not be reckoned. The server's log says why.")


def record_of(site: Site, now: datetime) -> Record:
    """Return a site's record as of its own day."""
    return read_record(site, site.today(now))


def make_next(now: Callable[[], datetime]) -> bool:
    """Make the next look back that waits; return whether there was one.

    Parameters
    ----------
    now : callable
        The clock, asked again when the work is done.

    Raises
    ------
    Exception
        Whatever the reckoning raised, once it is kept that it failed.
    """
    look = begin_hindcast(now=now())
    if look is None:
        return False
    site = look.site
    try:
        record = record_of(site, now())
        if not record.is_long_enough:
            fail_hindcast(site=site, error=TOO_SHORT)
            return True
        report = hindcast(record)
    except Exception:
        fail_hindcast(site=site, error=FAILED)
        raise
    keep_hindcast(site=site, report=report, digest=digest_of(record), now=now())
    return True


def wish_for_grown_old(now: datetime) -> int:
    """Wish anew for reports that are old and whose weather moved; return how many."""
    moved = [
        look.site
        for look in grown_old(now)
        if digest_of(record_of(look.site, now)) != look.digest
    ]
    for site in moved:
        wish_for_hindcast(site=site, now=now)
    return len(moved)
