"""A year in the demonstration, day by day, with a person who ticks everything.

What is asserted is what a grower would check. The weather is real (Seattle, 2014);
the orchard is invented. Thresholds without a named source are common practice.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta

import pytest

from care.actions.tasks import complete_task
from care.models import LogEntry, Round, Task
from care.planning.gather import gather
from care.planning.plan_site import plan_site
from care.planning.propose import outlooks
from deploy.demo import load, scenario
from orchard.actions.people import found_orchard
from orchard.actions.places import add_site, raise_revision
from orchard.models import Person, Site, Stay, Tree

DAY = timedelta(days=1)
pytestmark = pytest.mark.django_db

START = date(2014, 1, 1)
END = date(2015, 1, 1)
FIRST_FROST = date(2014, 11, 12)  # as the demonstration's site has it
EIGHT_WEEKS = timedelta(weeks=8)


@dataclass
class Year:
    """What happened, day by day."""

    site: Site
    ticks: list[LogEntry] = field(default_factory=list)
    windows: list[tuple[date, Task]] = field(default_factory=list)
    idle_replans: list[bool] = field(default_factory=list)
    doubles: list[tuple[date, object]] = field(default_factory=list)
    nights_out: list[tuple[date, str]] = field(default_factory=list)
    sequences: dict[str, list[int]] = field(default_factory=lambda: defaultdict(list))
    apple_share_left: dict[date, float] = field(default_factory=dict)


def demo_site() -> Site:
    person = Person.objects.create_user("marta")
    orchard = found_orchard(person=person, name="Alder Row", is_demo=True)
    values = {**scenario.ALDER_ROW, "own_today": START}
    site = add_site(orchard=orchard, values=values, slug="alder-row")
    load.fill_weather(site, load.record_days())
    load.fill_trees(site, scenario.ALDER_ROW_BLOCKS, scenario.ALDER_ROW_TREES)
    return site


def note_doubles(year: Year, today: date) -> None:
    rows = Task.objects.filter(site=year.site, status__in=["open", "withdrawn"])
    counts = Counter(rows.values_list("tree_id", "kind", "key"))
    year.doubles += [(today, key) for key, count in counts.items() if count > 1]


def tick_everything(year: Year, today: date, now: datetime) -> None:
    due = Task.objects.filter(
        site=year.site, status="open", is_firm=True, round__day__lte=today
    ).select_related("tree", "site")
    for task in due.order_by("id"):
        year.windows.append((today, task))
        outcome = complete_task(task=task, person=None, on=today, now=now)
        year.ticks.append(outcome.entry)


def note_nights(year: Year, today: date, lows: dict[date, float]) -> None:
    """Write down tender pots that stand outdoors in a night they cannot take."""
    places = dict(
        Stay.objects.filter(tree__site=year.site, since__lte=today)
        .order_by("since")
        .values_list("tree__name", "place")
    )
    for name in ("Lemon", "Lime"):
        if lows[today + DAY] < 0 and places.get(name, "outdoors") == "outdoors":
            year.nights_out.append((today, name))


@pytest.fixture(scope="module")
def year(django_db_setup, django_db_blocker):
    with django_db_blocker.unblock():
        lows = {day: values["tmin_c"] for day, values in load.record_days()}
        one = Year(demo_site())
        apple = Tree.objects.get(name="Apple one")
        today = START
        while today < END:
            live_a_day(one, today, apple, lows)
            today += DAY
        yield one
        one.site.orchard.delete()
        Person.objects.filter(username="marta").delete()


def live_a_day(one: Year, today: date, apple: Tree, lows: dict[date, float]) -> None:
    now = datetime.combine(today, time(8), UTC)
    one.site.refresh_from_db()
    one.site.own_today = today
    one.site.save(update_fields=["own_today"])
    plan_site(one.site, today, now)
    note_doubles(one, today)
    if today.day == 15:
        one.idle_replans.append(plan_site(one.site, today, now).is_nothing)
        outlook = outlooks(gather(apple.site, today)).get(apple.pk)
        assert outlook is not None
        one.apple_share_left[today] = outlook.spare_l / outlook.readily_available_l
    tick_everything(one, today, now)
    note_nights(one, today, lows)
    for uid, sequence in Round.objects.values_list("uid", "sequence"):
        one.sequences[str(uid)].append(sequence)
    raise_revision(one.site)


def names(entries: Iterable[LogEntry]) -> Counter[str]:
    return Counter(entry.tree.name for entry in entries if entry.tree)


def of_kind(year: Year, kind: str, action: str | None = None) -> list[LogEntry]:
    return [
        entry
        for entry in year.ticks
        if entry.kind == kind and (action is None or entry.action == action)
    ]


ESTABLISHED = (
    "Apple one",
    "Apple two",
    "Pear at the gate",
    "Plum",
    "Apricot, tall one",
)


def test_established_trees_get_no_water_in_the_wet_winter(year):
    winter = [
        entry
        for entry in of_kind(year, "watering", "water")
        if entry.tree.name in ESTABLISHED and entry.on.month in (11, 12, 1, 2, 3)
    ]
    assert winter == []


def test_the_root_zone_dries_down_from_spring_to_high_summer(year):
    assert year.apple_share_left[date(2014, 3, 15)] > 0.9
    assert (
        year.apple_share_left[date(2014, 7, 15)]
        < year.apple_share_left[date(2014, 5, 15)]
    )


def test_established_trees_drink_seldom_and_only_in_the_dry_half(year):
    waterings = [
        entry
        for entry in of_kind(year, "watering", "water")
        if entry.tree.name in ESTABLISHED
    ]
    # A prototype of the model gave 1.5 to 5 a year for a 4 m apple in this record.
    for name, count in names(waterings).items():
        assert count <= 8, name
    assert {entry.on.month for entry in waterings} <= {5, 6, 7, 8, 9, 10}


def test_pots_and_fresh_root_balls_drink_far_more_often_than_established_trees(year):
    counts = names(of_kind(year, "watering", "water"))
    established = max(counts[name] for name in ESTABLISHED)
    assert established > 0, "a year without any watering proves nothing"
    assert counts["Lemon"] > 2 * established
    assert counts["New quince"] > 2 * established  # planted this April from a pot


def test_nothing_is_fed_within_eight_weeks_of_the_first_frost(year):
    late = [
        entry
        for entry in of_kind(year, "feeding", "feed")
        if entry.on > FIRST_FROST - EIGHT_WEEKS
    ]
    assert late == []


def test_no_tree_gets_more_nitrogen_than_an_orchard_tree_of_its_kind(year):
    from care.planning.species_facts import species_facts

    fed: dict[Tree, float] = defaultdict(float)
    for entry in of_kind(year, "feeding", "feed"):
        fed[entry.tree] += entry.nitrogen_g
    assert fed, "a year without any feeding proves nothing"
    for tree, nitrogen_g in fed.items():
        most = species_facts(tree.species_key).nitrogen_mature_g
        assert most is not None
        assert 0 < nitrogen_g <= most, tree.name


def test_every_tree_is_pruned_at_most_once_a_season(year):
    counts = Counter((e.tree_id, e.key) for e in of_kind(year, "pruning", "prune"))
    assert counts
    assert max(counts.values()) == 1


def test_tender_pots_stand_indoors_in_every_night_below_freezing(year):
    assert of_kind(year, "cold", "move_in")
    assert year.nights_out == []


def test_nothing_was_ever_asked_for_twice(year):
    assert year.doubles == []


def test_planning_again_the_same_morning_changes_nothing(year):
    assert year.idle_replans == [True] * 12


def test_every_task_was_walked_inside_its_window(year):
    # On the first morning work of two years before had piled up, all of it late.
    outside = [
        (today, str(task), task.earliest, task.latest)
        for today, task in year.windows
        if today > START and not task.earliest <= today <= task.latest
    ]
    assert outside == []
    assert all(task.earliest <= today for today, task in year.windows)


def test_a_rounds_sequence_never_falls(year):
    assert all(seen == sorted(seen) for seen in year.sequences.values())


def test_a_year_asks_for_a_walk_on_fewer_than_half_of_the_days(year):
    # Silence is a feature: 21 trees, seven of them in pots.
    assert len({entry.on for entry in year.ticks}) < 183


def test_looks_pots_and_new_trees_add_hardly_a_walk(year):
    quiet = ("planting", "establishing", "potting", "inspection")
    mine = [entry for entry in year.ticks if entry.kind in quiet]
    others = {entry.on for entry in year.ticks if entry.kind not in quiet}
    assert {entry.kind for entry in mine} == set(quiet) - {"planting"}
    # One more walk a month at the very most, and eight tasks a month for 21 trees.
    assert len({entry.on for entry in mine} - others) <= 12
    assert len(mine) <= 12 * 8
