"""What the names in an address stand for at one of two orchards."""

from care.models import CalendarLink, HelperLink, LogEntry, Round, Task
from orchard.models import (
    Block,
    DoubtedValue,
    Invite,
    StationKey,
    WantedTree,
)
from tests.ids_of_shifts import ids_of_shifts
from tests.plan_addresses import drawn_ids
from tests.two_orchards import Half


def ids_of(half: Half) -> dict[str, object]:
    """Return what the names in an address stand for at this orchard."""
    tree = half.trees()[0]
    batch = half.site.private_series.get(kind="station").batches.get()
    return {
        "site": half.site.slug,
        "tree": tree.public_id,
        "task": Task.objects.filter(site=half.site).latest("pk").public_id,
        "round": Round.objects.filter(site=half.site).latest("pk").uid,
        "entry": LogEntry.objects.filter(site=half.site).latest("pk").public_id,
        "photo": half.site.photos.latest("pk").public_id,
        "block": Block.objects.filter(site=half.site).latest("pk").pk,
        "batch": batch.pk,
        "member": half.membership(half.grower).pk,
        "invite": Invite.objects.filter(orchard=half.orchard).latest("pk").pk,
        "link": CalendarLink.objects.filter(membership__orchard=half.orchard)
        .latest("pk")
        .pk,
        "helper_link": HelperLink.objects.filter(site=half.site).latest("pk").pk,
        "key": StationKey.objects.filter(site=half.site).latest("pk").pk,
        **drawn_ids(half.site),
        "neighbour": half.site.neighbour_trees.latest("pk").pk,
        "kind": half.orchard.own_species.latest("pk").key,
        "own_kind": half.orchard.own_species.latest("pk").key,
        "cultivar": f"own-{half.orchard.own_cultivars.latest('pk').pk}",
        "own_cultivar": half.orchard.own_cultivars.latest("pk").pk,
        "figure": "chill_hours_min",
        "planting": half.site.plantings.latest("pk").public_id,
        "step": "turf_ring",
        "wanted": WantedTree.objects.filter(planting__site=half.site)
        .latest("pk")
        .public_id,
        "graft": tree.grafts.latest("pk").pk,
        **ids_of_shifts(half.site),
        "doubt": DoubtedValue.objects.filter(series__owner=half.site).latest("pk").pk,
    }
