"""What the menu of every page knows of the plan: where work is shared by shifts."""

from django.db.models import Count, Exists, OuterRef
from django.http import HttpRequest

from care.models import Shift, ShiftSeries
from orchard.models import Membership, Person
from orchard.views.everywhere import sites_in_order

#: For so few people shifts stay out of the menu until somebody makes one.
FAMILY = 2


def menu(request: HttpRequest) -> dict[str, object]:
    """Return the person's sites, each knowing whether its menu names shifts.

    One query, as the list of sites takes without it, and none where nobody looks.
    """
    person = getattr(request, "user", None)
    if not isinstance(person, Person):
        return {"my_sites": []}
    large = (
        Membership.objects.filter(orchard=OuterRef("orchard"))
        .order_by()
        .values("orchard")
        .annotate(people=Count("pk"))
        .filter(people__gt=FAMILY)
    )
    shows_shifts = (
        Exists(Shift.objects.filter(site=OuterRef("pk")))
        | Exists(ShiftSeries.objects.filter(site=OuterRef("pk")))
        | Exists(large)
    )
    return {"my_sites": sites_in_order(person).annotate(shows_shifts=shows_shifts)}
