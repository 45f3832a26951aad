"""One of everything that an address can name."""

from datetime import timedelta

from allauth.usersessions.models import UserSession
from django.utils import timezone

from care.actions.calendar_links import make_calendar_link
from care.actions.helper_links import make_helper_link
from care.charts.labels import code_of
from care.models import LogEntry, Round, Task
from orchard.actions.invites import make_invite
from orchard.actions.message_mail import stop_token
from orchard.actions.station_keys import make_key
from orchard.actions.weather import import_days
from orchard.models import (
    DoubtedValue,
    Membership,
    NeighbourTree,
    Planting,
    PushSubscription,
)
from tests.care.actions.photo_samples import photo_of
from tests.conftest import TODAY
from tests.ids_of_shifts import help_out, ids_of_shifts
from tests.plan_addresses import draw_something


def one_of_everything(site, cast, make_tree, mark: str = "") -> dict[str, object]:
    """Make one of everything an address can name; return what names each.

    ``mark`` begins the names of what may not be named twice.
    """
    pot = make_tree(
        "Lemon", species_key="lemon", in_container=True, container_litres=50.0
    )
    task = Task.objects.create(
        site=site,
        tree=pot,
        kind="watering",
        key="next",
        action="water",
        earliest=TODAY,
        due=TODAY,
        latest=TODAY + timedelta(days=3),
        amount=9.0,
        unit="L",
        reason={"code": "container_dry", "facts": [], "would_change": []},
    )
    one = Round.objects.create(
        site=site, block=pot.block, day=TODAY, changed_at=timezone.now()
    )
    task.round = one
    task.save(update_fields=["round"])
    entry = LogEntry.objects.create(
        site=site,
        tree=pot,
        what="note",
        kind="note",
        note="x",
        on=TODAY,
        recorded_at=timezone.now(),
    )
    batch = import_days(
        site=site, days=[(TODAY, {"rain_mm": 1.0})], label="x", person=None
    )
    drawn = draw_something(site, cast.owner, mark)
    membership = Membership.objects.get(person=cast.owner, orchard=site.orchard)
    help_out(site, membership)
    # The plan must not withdraw the task before it is asked for.
    site.refresh_from_db()
    site.planned_revision, site.planned_on = site.revision, TODAY
    site.save(update_fields=["planned_revision", "planned_on"])
    link, token = make_calendar_link(membership=membership, label="Phone")
    invite, invitation = make_invite(
        membership=membership, role="grower", note="Ana", now=timezone.now()
    )
    helper_link, helper_token = make_helper_link(
        membership=membership, one=one, now=timezone.now()
    )
    viewer = Membership.objects.get(person=cast.viewer)
    key, secret = make_key(
        site=site,
        name="Roof",
        wind_height_m=2.0,
        person=cast.owner,
        now=timezone.now(),
    )
    doubt = DoubtedValue.objects.create(
        series=batch.series,
        batch=batch,
        day=TODAY,
        variable="tmin_c",
        value=-40.0,
        why="spike",
        found_at=timezone.now(),
    )
    session = UserSession.objects.create(
        user=cast.owner, ip="192.0.2.1", session_key="phone", user_agent="Phone"
    )
    device = PushSubscription.objects.create(
        person=cast.owner,
        endpoint=f"https://push.example.org/{mark}1",
        made_at=timezone.now(),
    )
    planting = Planting.objects.create(site=site, name="Beds", begun_on=TODAY)
    wanted = planting.wanted.create(name="Fig", species_key="fig")
    return {
        "session": session.pk,
        "device": device.pk,
        "stop_token": stop_token(cast.owner),
        "member": viewer.pk,
        "invite": invite.pk,
        "invitation": invitation,
        "site": site.slug,
        "tree": pot.public_id,
        "task": task.public_id,
        "round": one.uid,
        "code": code_of(pot.public_id),
        "entry": entry.public_id,
        "photo": photo_of(pot).public_id,
        "block": site.blocks.first().pk,
        "batch": batch.pk,
        "link": link.pk,
        "token": token,
        "helper_link": helper_link.pk,
        "helper_token": helper_token,
        "key": key.pk,
        "key_token": secret,
        "ending": "updateweatherstation.php",
        "doubt": doubt.pk,
        **drawn,
        **ids_of_shifts(site),
        "graft": pot.grafts.create(
            species_key="lemon", cultivar="Meyer", grafted_on=TODAY
        ).pk,
        "planting": wanted.planting.public_id,
        "wanted": wanted.public_id,
        "step": "turf_ring",
        "kind": "apple",
        "cultivar": "apple_anna",
        "figure": "chill_hours_min",
        "own_kind": site.orchard.own_species.create(
            key="own-medlar",
            common_name="Medlar",
            botanical_name="Mespilus germanica",
            like_key="quince",
            source="A book",
        ).key,
        "own_cultivar": site.orchard.own_cultivars.create(
            species_key="apple", name="Old Yard", source="Seen here"
        ).pk,
        "neighbour": NeighbourTree.objects.create(site=site, species_key="apple").pk,
    }
