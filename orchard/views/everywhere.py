"""What every page knows: the site one stands in and the sites one may go to."""

from django.http import HttpRequest

from orchard.access import sites_of
from orchard.models import Person


def everywhere(request: HttpRequest) -> dict[str, object]:
    """Return the template values that every page shares."""
    person = getattr(request, "user", None)
    units = person.units if isinstance(person, Person) else Person.Units.METRIC
    return {
        "units": units,
        "my_sites": (
            sites_of(person)
            .select_related("orchard")
            .order_by("orchard__name", "orchard_id", "name", "id")
            if isinstance(person, Person)
            else []
        ),
    }
