"""One round, a link to it, and browsers that came through the link."""

import pytest
from django.core.cache import cache
from django.test import Client
from django.utils import timezone

from care.actions.helper_links import make_helper_link
from orchard.models import Membership
from tests.conftest import TODAY


@pytest.fixture(autouse=True)
def no_guesses_yet():
    cache.clear()


@pytest.fixture
def anna(make_tree, make_task):
    return make_task(
        make_tree("Anna", position=1), cautions=["heat_work_early", "not_when_soil_wet"]
    )


@pytest.fixture
def berta(make_tree, make_task):
    return make_task(
        make_tree("Berta", position=2),
        kind="feeding",
        key="2025/2",
        action="feed",
        amount=480.0,
        unit="g",
        reason={"code": "feed_split", "facts": [["product", "10-10-10"]]},
    )


@pytest.fixture
def link(cast, anna, berta, make_round, keep_plan):
    one = make_round(TODAY, [anna, berta])
    keep_plan()
    maker = Membership.objects.get(person=cast.coordinator)
    return make_helper_link(membership=maker, one=one, now=timezone.now())


@pytest.fixture
def come(link):
    """Return a browser that came through the link under a name."""

    def enter(name="Sam"):
        browser = Client()
        answer = browser.post(f"/h/{link[1]}/", {"name": name})
        assert answer.status_code == 302
        return browser

    return enter


@pytest.fixture
def sam(come):
    return come()
