"""The thanks owed to weather services, in one line of any template."""

from django import template

from orchard.models import Site
from orchard.sources.credits import Credit, attribution_lines

register = template.Library()


@register.inclusion_tag("orchard/weather_credits.html")
def weather_credits(site: Site) -> dict[str, tuple[Credit, ...]]:
    """Show whom a site's forecast is owed to; nothing where it reads no service.

    It stands on every page that shows a forecast value.
    """
    return {"credits": attribution_lines(site)}
