"""What forbids picking, in words."""

from collections.abc import Iterable
from datetime import date, timedelta

from django.utils.translation import gettext

from care.facts import Hold, HoldCause
from care.views.days import on_day, short_day

DAY = timedelta(days=1)


def no_picking_words(until: date, today: date) -> str:
    """Return from when fruit may be picked again, held through ``until``."""
    return gettext("Do not pick before {until}").format(
        until=short_day(until + DAY, today)
    )


def hold_words(holds: Iterable[Hold], tree_id: int, today: date) -> str:
    """Return until when a tree's fruit has to wait and why, or nothing."""
    lasting = [
        hold for hold in holds if hold.tree_id == tree_id and hold.until >= today
    ]
    if not lasting:
        return ""
    last = max(lasting, key=lambda hold: hold.until)
    return f"{no_picking_words(last.until, today)}: {_why(last, today)}."


def _why(hold: Hold, today: date) -> str:
    when = on_day(hold.on, today)
    if hold.cause is HoldCause.MANURE:
        return gettext("raw manure was spread {when}").format(when=when)
    return gettext("{product} was sprayed {when}, and its label has fruit wait").format(
        product=hold.product, when=when
    )
