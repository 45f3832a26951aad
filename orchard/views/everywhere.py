"""What every page knows: the site one stands in and the sites one may go to."""

from django.db.models import QuerySet
from django.http import HttpRequest

from orchard.access import sites_of
from orchard.models import Person, Site


def everywhere(request: HttpRequest) -> dict[str, object]:
    """Return the template values that every page shares."""
    person = getattr(request, "user", None)
    units = person.units if isinstance(person, Person) else Person.Units.METRIC
    sites = sites_in_order(person) if isinstance(person, Person) else []
    return {"units": units, "my_sites": sites}


def sites_in_order(person: Person) -> QuerySet[Site]:
    """Return the sites of a person, by the orchards they belong to."""
    return (
        sites_of(person)
        .select_related("orchard")
        .order_by("orchard__name", "orchard_id", "name", "id")
    )
