"""What the commands of the plan share: finding the site and the day."""

from datetime import date

from django.core.management.base import CommandError

from orchard.models import Site


def site_named(slug: object) -> Site:
    """Return the site with that address word.

    Raises
    ------
    CommandError
        There is none.
    """
    site = Site.objects.filter(slug=str(slug)).first()
    if site is None:
        message = f"There is no site {slug!r}."
        raise CommandError(message)
    return site


def day_of(text: object, default: date) -> date:
    """Return the day a person wrote, or the default.

    Raises
    ------
    CommandError
        It is not a day.
    """
    if text is None:
        return default
    try:
        return date.fromisoformat(str(text))
    except ValueError as error:
        message = f"{text!r} is not a day. Write it as 2015-07-04."
        raise CommandError(message) from error
