"""Two orchards that have one of everything, each marked by a word of its own."""

from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from django.core.cache import cache
from django.db.models import Model
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from care.actions.calendar_links import make_calendar_link
from care.actions.helper_links import make_helper_link
from care.actions.holds import log_spray
from care.actions.logbook import log_harvest, log_loss, write_note
from care.actions.plantings import make_planting, want_trees
from care.actions.tasks import complete_task
from care.models import (
    CalendarLink,
    HelperLink,
    LogEntry,
    PlantingStep,
    Round,
    Task,
)
from care.planning.plan_site import ensure_planned
from orchard.actions.in_care import take
from orchard.actions.invites import make_invite
from orchard.actions.members import remove_member
from orchard.actions.neighbours import add_neighbour
from orchard.actions.people import found_orchard
from orchard.actions.places import add_site, block_named, change_site
from orchard.actions.station_keys import make_key
from orchard.actions.trees import Company, add_tree
from orchard.actions.weather import import_days, log_evening, set_normals, type_reading
from orchard.models import (
    AuditEntry,
    Block,
    Corner,
    DoubtedValue,
    Feature,
    FrostEvening,
    Graft,
    InCare,
    Invite,
    Membership,
    Message,
    NeighbourTree,
    NormalMonth,
    Orchard,
    OwnCultivar,
    OwnFigure,
    OwnSpecies,
    Person,
    Planting,
    Site,
    SitePlan,
    StationKey,
    Tree,
    WantedTree,
    WeatherDay,
)
from tests.care.actions.photo_samples import photo_of
from tests.conftest import TODAY, person
from tests.ids_of_shifts import help_out, rows_of_shifts
from tests.plan_addresses import draw_something

# Words that no page says by itself.
MARKS = ("Quaggaholm", "Zorilladale")


@dataclass
class Half:
    """One of the two orchards, with what its addresses name."""

    mark: str
    orchard: Orchard
    site: Site
    owner: Person
    grower: Person
    former: Person
    secrets: dict[str, list[str]] = field(default_factory=dict)
    helpers: list[Client] = field(default_factory=list)

    def membership(self, someone: Person) -> Membership:
        return Membership.objects.get(person=someone, orchard=self.orchard)

    @property
    def fresh_site(self) -> Site:
        return Site.objects.select_related("orchard").get(pk=self.site.pk)

    def trees(self) -> list[Tree]:
        return list(Tree.objects.filter(site=self.site))

    def canaries(self) -> set[str]:
        """Return every text that only this orchard's own people may read."""
        ids = Tree.objects.filter(site=self.site).values_list("public_id", flat=True)
        entries = LogEntry.objects.filter(site=self.site)
        tasks = Task.objects.filter(site=self.site)
        rows = (
            ids,
            *(each.values_list("public_id", flat=True) for each in (entries, tasks)),
        )
        tokens = {each for kind in self.secrets.values() for each in kind}
        return {self.mark} | tokens | {str(one) for row in rows for one in row}

    def footprint(self) -> tuple[object, ...]:
        """Return what any write to this orchard would change."""
        own: dict[type[Model], dict[str, object]] = {
            Tree: {"site": self.site},
            Graft: {"tree__site": self.site},
            Block: {"site": self.site},
            LogEntry: {"site": self.site},
            Task: {"site": self.site},
            Round: {"site": self.site},
            HelperLink: {"site": self.site},
            CalendarLink: {"membership__orchard": self.orchard},
            InCare: {"membership__orchard": self.orchard},
            Membership: {"orchard": self.orchard},
            Invite: {"orchard": self.orchard},
            AuditEntry: {"orchard": self.orchard},
            Message: {"orchard": self.orchard},
            WeatherDay: {"batch__series__owner": self.site},
            FrostEvening: {"site": self.site},
            NormalMonth: {"series__owner": self.site},
            StationKey: {"site": self.site},
            NeighbourTree: {"site": self.site},
            OwnSpecies: {"orchard": self.orchard},
            OwnCultivar: {"orchard": self.orchard},
            OwnFigure: {"orchard": self.orchard},
            SitePlan: {"site": self.site},
            Corner: {"site": self.site},
            Feature: {"site": self.site},
            Planting: {"site": self.site},
            WantedTree: {"planting__site": self.site},
            PlantingStep: {"wanted__planting__site": self.site},
            DoubtedValue: {"series__owner": self.site},
            Site: {"orchard": self.orchard},
            **rows_of_shifts(self.orchard),
        }
        return tuple(
            tuple(model._default_manager.filter(**rows).order_by("pk").values_list())
            for model, rows in own.items()
        )


def browser_of(someone: Person) -> Client:
    client = Client()
    client.force_login(
        someone, backend="allauth.account.auth_backends.AuthenticationBackend"
    )
    return client


def make_half(mark: str) -> Half:
    """Found an orchard with people, trees, work, weather and a former member."""
    cache.clear()  # it counts uploads and guesses
    people = {
        what: person(f"{mark}-{what}".lower()) for what in ("owner", "grower", "former")
    }
    orchard = found_orchard(person=people["owner"], name=f"{mark} orchard")
    site = add_site(
        orchard=orchard,
        values={
            "name": f"{mark} site",
            "latitude_deg": 47.45,
            "longitude_deg": -122.31,
            "time_zone": "America/Los_Angeles",
            "soil_texture": "sandy_loam",
            "own_today": TODAY,
        },
    )
    for what in ("grower", "former"):
        Membership.objects.create(person=people[what], orchard=orchard, role="grower")
    three = people["owner"], people["grower"], people["former"]
    half = Half(mark, orchard, site, *three)
    half.secrets = {"calendar": [], "helper": [], "invite": [], "station": []}
    by = half.membership(half.owner)
    remove_member(by=by, member_id=half.membership(half.former).pk, now=timezone.now())
    _fill(half, by)
    return half


def _fill(half: Half, by: Membership) -> None:
    now = timezone.now()
    block = block_named(site=half.site, name=f"{half.mark} row")
    for name in ("lemon", "apple"):
        plant(half, block, name)
    set_normals(site=half.site, months=[(m, 12.0, 30.0, 2.0) for m in range(1, 13)])
    import_days(
        site=half.site,
        days=[(TODAY - timedelta(days=9), {"rain_mm": 1.0})],
        label=f"{half.mark} station",
        person=half.owner,
    )
    _doubt(half)
    add_neighbour(
        site=half.site,
        values={"species_key": "apple", "note": f"{half.mark} wild apple"},
        person=half.owner,
    )
    half.orchard.own_species.create(
        key=f"{half.mark.lower()}-medlar",
        common_name=f"{half.mark} medlar",
        botanical_name=f"Mespilus {half.mark}",
        like_key="quince",
        source=f"{half.mark} book",
    )
    half.orchard.own_cultivars.create(
        species_key=f"{half.mark.lower()}-medlar",
        name=f"{half.mark} seedling",
        values={"chill_hours_min": "300"},
        source=f"{half.mark} book",
    )
    half.orchard.own_figures.create(
        species_key="fig",
        figure="move_in_temp_c",
        value="-4",
        source=f"{half.mark} winter",
        changed_by=half.owner,
        changed_on=TODAY,
    )
    planting = make_planting(
        site=half.site, name=f"{half.mark} beds", today=TODAY, person=half.owner
    )
    want_trees(
        planting=planting,
        values={"species_key": "fig"},
        names=[f"{half.mark} fig"],
        person=half.owner,
    )
    read_rain(half, TODAY - timedelta(days=1), 3.0)
    log_evening(site=half.site, on=TODAY, air_c=9.0, dew_point_c=4.0, person=half.owner)
    photo_of(half.trees()[0], caption=f"{half.mark} in leaf")
    write_note(
        site=half.site,
        tree=half.trees()[0],
        note=f"{half.mark} leaves curl",
        person=half.owner,
        on=TODAY,
        now=now,
    )
    half.trees()[0].grafts.create(
        species_key="lemon", cultivar=f"{half.mark} Meyer", grafted_on=TODAY
    )
    take(by=by, member=by, thing=block, now=now)
    draw_something(half.site, half.owner, half.mark)
    help_out(half.site, by, half.mark)
    ensure_planned(half.fresh_site, TODAY)
    invite(half, "viewer")
    link_calendar(half, half.owner, only_in_care=False)
    link_helper(half)


def _doubt(half: Half) -> None:
    """Let a station send, and doubt a value of the file."""
    batch = half.site.private_series.get(kind="station").batches.get()
    DoubtedValue.objects.create(
        series=batch.series,
        batch=batch,
        day=TODAY - timedelta(days=9),
        variable="tmin_c",
        value=-40.0,
        why="spike",
        found_at=timezone.now(),
    )
    _, secret = make_key(
        site=half.site,
        name=f"{half.mark} roof",
        wind_height_m=2.0,
        person=half.owner,
        now=timezone.now(),
    )
    half.secrets["station"].append(secret)


def plant(half: Half, block: Block | None, species: str) -> Tree:
    pot: dict[str, Any] = {"in_container": True, "container_litres": 20.0}
    return add_tree(
        site=half.fresh_site,
        values={
            "name": f"{half.mark} {species}",
            "species_key": species,
            "planted_on": date(2020, 3, 1),
            "block": block,
            "crown_width_m": 1.5,
            **(pot if species == "lemon" else {}),
        },
        company=Company(clump_name=f"{half.mark} hedge"),
        today=TODAY,
        person=half.owner,
    )


def read_rain(half: Half, day: date, rain_mm: float) -> None:
    type_reading(
        site=half.fresh_site, day=day, values={"rain_mm": rain_mm}, person=half.owner
    )


def invite(half: Half, role: str) -> str:
    _, token = make_invite(
        membership=half.membership(half.owner),
        role=role,
        note=f"{half.mark} neighbour",
        now=timezone.now(),
    )
    half.secrets["invite"].append(token)
    return token


def link_calendar(half: Half, someone: Person, *, only_in_care: bool) -> None:
    _, token = make_calendar_link(
        membership=half.membership(someone),
        label=f"{half.mark} phone",
        only_in_care=only_in_care,
    )
    half.secrets["calendar"].append(token)


def link_helper(half: Half) -> None:
    """Make a link to today's round and let one volunteer in by it."""
    one = Round.objects.filter(site=half.site, day=TODAY, is_withdrawn=False).first()
    if one is None:
        return
    _, token = make_helper_link(
        membership=half.membership(half.owner), one=one, now=timezone.now()
    )
    half.secrets["helper"].append(token)
    helper = Client()
    address = reverse("helper_open", args=[token])
    assert helper.post(address, {"name": f"{half.mark} Sam"}).status_code == 302
    half.helpers.append(helper)


def live_on(half: Half) -> None:
    """Do there what would show if any page of another orchard counted it."""
    now, site, owner = timezone.now(), half.fresh_site, half.owner
    by = half.membership(owner)
    block_named(site=site, name="Second row")
    made = [plant(half, None, "lemon"), plant(half, None, "apple")]
    take(by=by, member=by, thing=made[0], now=now)
    given: dict[str, Any] = {"person": owner, "now": now, "on": TODAY}
    log_loss(tree=made[1], status="lost", reason="Frost", **given)
    log_harvest(tree=made[0], mass_kg=2.0, **given)
    log_spray(site=site, trees=made[:1], product="Soap", waiting_days=9, **given)
    days = [TODAY - timedelta(days=number) for number in range(2, 6)]
    for day in days:
        read_rain(half, day, 8.0)
        log_evening(site=site, on=day, air_c=3.0, dew_point_c=-4.0, person=owner)
    import_days(
        site=site,
        days=[(day, {"tmin_c": 1.0, "tmax_c": 30.0}) for day in days],
        label="Other",
        person=owner,
    )
    tomorrow = TODAY + timedelta(days=1)
    type_reading(site=site, day=tomorrow, values={"tmin_c": -9.0}, person=owner)
    tonight = {"tmin_c": -5.0}
    type_reading(site=site, day=TODAY, values=tonight, person=owner, issued_on=TODAY)
    change_site(site=site, values={}, spans=[(1, 1, 12, 31)], person=owner)
    ensure_planned(half.fresh_site, TODAY)
    link_calendar(half, owner, only_in_care=True)
    link_helper(half)
    task = Task.objects.filter(site=site, status="open", is_firm=True)[0]
    complete_task(task=task, **given)
