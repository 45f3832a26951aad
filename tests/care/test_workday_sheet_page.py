"""The sheet of a shift and of a round: what is on it, for whom, in how many queries."""

from datetime import time, timedelta

import pytest
from django.utils import timezone

from care.actions.holds import log_spray
from care.actions.shifts import make_shift
from care.models import Shift
from orchard.models import EmergencyContact, WayIn
from tests.conftest import TODAY

SATURDAY = TODAY + timedelta(days=3)


def text(response):
    return " ".join(response.content.decode().split())


@pytest.fixture
def written(site):
    WayIn.objects.create(
        site=site,
        gate="Green gate, lift the bar",
        key_note="Under the third pot",
        tap="Left of the shed",
        tools_at="In the shed",
        first_aid="Red box",
        harvest_rule="Half to who picks.",
    )
    EmergencyContact.objects.create(site=site, name="Garden phone", phone="555-0142")


@pytest.fixture
def make_published(site, cast):
    def make(day=SATURDAY, **values):
        now = timezone.now()
        facts = {"name": "Garden morning", "starts_at": time(9), "minutes": 180}
        shift = make_shift(
            site=site,
            values={"day": day, **facts, **values},
            skills=["", "ladder"],
            person=cast.owner,
            now=now,
        )
        Shift.objects.filter(pk=shift.pk).update(status="published", published_at=now)
        shift.places.filter(number=1).update(
            state="held", holder=cast.grower, busy_on=day
        )
        return shift

    return make


@pytest.fixture
def work(make_tree, make_task, make_round):
    """Three trees' work of Saturday, of which one takes a ladder."""
    anna = make_tree("Anna", position=2, tag="R1-2")
    berta = make_tree("Berta", position=1)
    tasks = [
        make_task(anna, days=3),
        make_task(berta, days=3),
        make_task(
            anna,
            days=3,
            kind="pruning",
            key="2025",
            action="prune",
            amount=None,
            unit="",
            cautions=["ladder"],
            effort_minutes=40,
        ),
    ]
    return make_round(SATURDAY, tasks)


def address(shift):
    return f"/s/test-site/shifts/{shift.uid}/sheet/"


def test_a_shifts_sheet_holds_all_that_the_day_needs(
    cast, client_of, site, written, work, make_published, keep_plan
):
    tree = site.trees.get(name="Anna")
    facts = {"product": "Soap", "person": cast.owner, "now": timezone.now()}
    log_spray(site=site, trees=[tree], waiting_days=14, on=TODAY, **facts)
    shift = make_published(note="Coffee at ten.")
    keep_plan()
    page = client_of(cast.grower).get(address(shift))
    words = text(page)
    assert "Saturday 5 July, 9:00\N{EN DASH}12:00" in words
    order = (
        *(
            "Garden morning",
            "Coffee at ten.",
            "At the first thunder",
            "nobody does that",
        ),
        *("Do not pick or eat", "Do not pick before 16 July: Soap", "Who comes"),
        *("grower", "Open: nobody yet (Ladders)", "Green gate", "Under the third pot"),
        *("Left of the shed", "Red box", "555-0142", "Water, with hose or cans: 36 L"),
        *(
            "Three-legged orchard ladder",
            'id="walk-1">Long row',
            "Water Berta",
            "Water Anna",
        ),
        *("fruit held until 15 July", "Half to who picks.", "Done? Tick it here"),
    )
    places = [words.index(one) for one in order]
    assert places == sorted(places)
    assert words.count("18 L") == 2
    assert "[R1-2]" in words
    assert "40 min" in words
    assert "of work for one person" in words
    assert "<svg" in words
    assert "style=" not in words


def test_viewers_read_no_key_and_drafts_are_for_who_arranges(
    cast, client_of, site, written, work, make_published, keep_plan
):
    shift = make_published()
    keep_plan()
    page = text(client_of(cast.viewer).get(address(shift)))
    assert "Under the third pot" not in page
    assert "Green gate" in page
    assert client_of(cast.stranger).get(address(shift)).status_code == 404
    elsewhere = address(shift).replace("test-site", "elsewhere")
    assert client_of(cast.stranger).get(elsewhere).status_code == 404
    Shift.objects.update(status="draft", published_at=None)
    assert client_of(cast.grower).get(address(shift)).status_code == 404
    assert client_of(cast.coordinator).get(address(shift)).status_code == 200


def test_a_shift_that_rain_emptied_or_somebody_cancelled_says_so(
    cast, client_of, site, make_published, keep_plan
):
    shift = make_published()
    keep_plan()
    grower = client_of(cast.grower)
    page = text(grower.get(address(shift)))
    assert "No work is planned for it now." in page
    assert "Call your local emergency number before anything else." in page
    assert "Bring" not in page
    Shift.objects.update(status="cancelled", cancelled_why="Thunder")
    assert "Cancelled: Thunder" in text(grower.get(address(shift)))


def test_a_round_has_a_sheet_too_and_both_are_listed(
    cast, client_of, site, written, work, make_published, keep_plan
):
    shift = make_published()
    keep_plan()
    viewer = client_of(cast.viewer)
    listed = text(viewer.get("/s/test-site/rounds/sheets/"))
    sheet = f"/s/test-site/rounds/{work.uid}/sheet/"
    assert sheet in listed
    assert address(shift) in listed
    page = text(viewer.get(sheet))
    assert "Round: Long row" in page
    assert page.index("Water Berta") < page.index("Water Anna")
    assert "Who comes" not in page
    assert "Half to who picks." in page
    elsewhere = sheet.replace("test-site", "elsewhere")
    assert client_of(cast.stranger).get(elsewhere).status_code == 404
    cast.viewer.units = "us"
    cast.viewer.save()
    assert "4.8 gal" in text(viewer.get(sheet))
    assert "Water, with hose or cans: 9.5 gal" in text(viewer.get(sheet))


def test_a_sheet_of_many_trees_takes_as_few_queries_as_one_of_two(
    cast,
    client_of,
    work,
    make_published,
    make_tree,
    make_task,
    keep_plan,
    django_assert_max_num_queries,
):
    shift = make_published()
    keep_plan()
    grower = client_of(cast.grower)
    sheet = f"/s/test-site/rounds/{work.uid}/sheet/"
    paths = (address(shift), sheet, "/s/test-site/rounds/sheets/")
    counts = []
    for _ in range(2):
        for path in paths:
            with django_assert_max_num_queries(20) as asked:
                grower.get(path)
            counts.append(len(asked))
        for number in range(12):
            task = make_task(make_tree(f"Tree {number}"), days=3)
            task.round = work
            task.save()
        keep_plan()
    assert counts[:3] == counts[3:]
