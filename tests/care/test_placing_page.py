"""Places proposed on a page, kept, let go, tried again and taken back."""

import re

import pytest

from care.science.placing import MOST_TREES, Proposal, WhyNot
from care.views.placing_words import why_not_words
from orchard.actions.people import choose_units
from orchard.models import AuditEntry, Corner, Feature, Planting, WantedTree
from tests.care.science.placing_cases import feature, layout
from tests.conftest import TODAY


def text(response):
    return " ".join(response.content.decode().split())


def digest_of(page):
    return re.search(r'name="digest" value="(\w+)"', page)[1]


@pytest.fixture
def coordinator(cast, client_of):
    return client_of(cast.coordinator)


@pytest.fixture
def planting(site):
    return Planting.objects.create(site=site, name="Spring", begun_on=TODAY)


@pytest.fixture
def address(planting):
    return f"/s/test-site/planting/{planting.public_id}/placing/"


@pytest.fixture
def yard(site):
    """Make the yard of 12 by 20 m, its house and two corners."""
    Feature.objects.create(
        site=site, kind="boundary", points_m=[[0, 0], [12, 0], [12, 20], [0, 20]]
    )
    Feature.objects.create(
        site=site, kind="building", name="House", points_m=[[0, 0], [8, 0], [8, 4]]
    )
    Corner.objects.create(site=site, name="House NE", x_m=8.0, y_m=4.0)
    Corner.objects.create(site=site, name="Gate", x_m=12.0, y_m=0.0)
    return site


def want(planting, name, kind, **more):
    return WantedTree.objects.create(
        planting=planting, name=name, species_key=kind, **more
    )


def test_first_it_says_what_is_missing(coordinator, planting, address, site):
    page = text(coordinator.get(address))
    assert "First the room for trees" in page
    Feature.objects.create(
        site=site, kind="free", points_m=[[0, 0], [9, 0], [9, 9], [0, 9]]
    )
    page = text(coordinator.get(f"{address}?goal=fastest&attempt=-3"))
    assert "No trees to place" in page


def test_places_are_kept_let_go_and_taken_back(
    coordinator, cast, planting, address, yard, django_assert_max_num_queries
):
    fig = want(planting, "Fig", "fig")
    peach = want(planting, "Peach", "peach")
    gala = want(planting, "Gala", "apple", cultivar="Gala", x_m=10.0, y_m=17.0)
    with django_assert_max_num_queries(30):
        page = text(coordinator.get(address))
    assert page.count('name="keep"') == 3
    assert " m from House NE, " in page
    assert "Needs a partner within 30 m" in page
    assert '<svg class="chart plan"' in page
    choose_units(person=cast.coordinator, units="us")
    assert " ft from House NE, " in text(coordinator.get(address))
    asked = {"goal": "most", "attempt": "0", "digest": digest_of(page)}
    kept = [str(fig.public_id), str(gala.public_id)]
    answer = coordinator.post(f"{address}keep/", {**asked, "keep": kept}, follow=True)
    page = text(answer)
    assert "Kept 2 places." in page
    assert "Places you kept" in page
    fig.refresh_from_db()
    peach.refresh_from_db()
    assert fig.is_pinned
    assert fig.x_m is not None
    assert peach.x_m is None
    entry = AuditEntry.objects.get(what="places_kept")
    assert entry.subject == "Spring"
    assert entry.before["Gala"] == "10 m right, 17 m up, free to move"
    # The pinned fig stays, the peach is proposed, and letting the fig go is one untick.
    page = text(coordinator.get(f"{address}?goal=best&attempt=1"))
    assert page.count('name="keep"') == 1
    assert page.count('name="stay"') == 2
    released = {"goal": "best", "attempt": "1", "digest": digest_of(page)}
    page = text(
        coordinator.post(
            f"{address}keep/",
            {**released, "stay": str(gala.public_id)},
            follow=True,
        )
    )
    assert "1 may be moved again." in page
    page = text(coordinator.post(f"{address}back/", follow=True))
    assert "Took back 1 of 1." in page
    fig.refresh_from_db()
    assert fig.is_pinned
    again = text(coordinator.post(f"{address}back/", follow=True))
    assert "There are no places to take back any more." in again


def test_what_changed_since_is_neither_kept_nor_taken_back(
    coordinator, planting, address, yard
):
    fig = want(planting, "Fig", "fig")
    asked = {"goal": "most", "keep": str(fig.public_id)}
    page = text(
        coordinator.post(f"{address}keep/", {**asked, "digest": "old"}, follow=True)
    )
    assert "Nothing was kept: look at them again." in page
    asked["digest"] = digest_of(page)
    coordinator.post(f"{address}keep/", asked)
    WantedTree.objects.update(x_m=1.0, y_m=1.0)
    page = text(coordinator.post(f"{address}back/", follow=True))
    assert "Nothing was taken back. The others were changed since." in page
    fig.refresh_from_db()
    assert fig.x_m == 1.0
    asked = {"goal": "most", "stay": str(fig.public_id), "digest": digest_of(page)}
    page = text(coordinator.post(f"{address}keep/", asked, follow=True))
    assert "No place was ticked, so nothing was kept." in page


def test_a_tree_without_a_place_is_told_why(coordinator, planting, address, site):
    Feature.objects.create(
        site=site, kind="free", points_m=[[0, 0], [4, 0], [4, 2], [0, 2]]
    )
    Feature.objects.create(
        site=site, kind="septic", name="Field", points_m=[[5, 0], [7, 0], [7, 2]]
    )
    want(planting, "Fig", "fig")
    page = text(coordinator.get(address))
    assert "No place for 1" in page
    assert "It would stand too near to Field wherever it stood." in page


def test_close_places_say_how_close(coordinator, planting, address, site):
    Feature.objects.create(
        site=site, kind="free", points_m=[[0, 0], [8, 0], [8, 0.5], [0, 0.5]]
    )
    for number in range(3):
        want(planting, f"Peach {number}", "peach")
    page = text(coordinator.get(address))
    assert "4.6 m is recommended, so both need more pruning." in page


@pytest.mark.parametrize("why", set(WhyNot) - {WhyNot.KEPT_OFF})
def test_every_reason_has_its_words(why):
    where = layout(feature(1, "free", ((0, 0), (1, 0), (1, 1))))
    assert why_not_words(Proposal("wanted-1", None, why), where).endswith(".")
    assert str(MOST_TREES) in why_not_words(
        Proposal("wanted-1", None, WhyNot.TOO_MANY), where
    )
