"""Whom the weather is owed to: what must stand wherever forecast values do."""

from dataclasses import dataclass

from orchard.models import Site, WeatherSeries
from orchard.sources.registry import service_of


@dataclass(frozen=True, slots=True)
class Credit:
    """A line of thanks with its addresses, and the licence the values came under."""

    text: str
    url: str
    licence: str
    licence_url: str


def attribution_lines(site: Site) -> tuple[Credit, ...]:
    """Return the credits of the services whose forecasts a site's pages show.

    Whatever shows a value of a service must show its line too. Empty where the site
    reads none.
    """
    keys = (
        WeatherSeries.objects.filter(owner=None, readers__site=site)
        .exclude(source="")
        .values_list("source", flat=True)
    )
    services = [service for key in keys if (service := service_of(key))]
    return tuple(
        Credit(
            text=service.credit,
            url=service.credit_url,
            licence=service.licence,
            licence_url=service.licence_url,
        )
        for service in services
    )
