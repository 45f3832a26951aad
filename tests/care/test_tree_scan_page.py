"""A scanned label: members are led on; strangers see its name and can tell of a problem."""

from datetime import timedelta
from uuid import UUID

import pytest
from django.core.cache import cache
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from care.actions.tree_reports import MOST_A_DAY, EnoughError, tell_of_tree
from care.charts.labels import LONG, code_of
from care.planning.tree_codes import codes_of, tree_of_code
from orchard.models import AuditEntry, Membership, Message, Tree
from orchard.views.guess_limit import MOST_REPORTS
from tests.said_by_orchard import PASSING

SEEN = "A branch   hangs\nover the path."


@pytest.fixture(autouse=True)
def uncounted():
    cache.clear()


@pytest.fixture
def tree(make_tree):
    return make_tree("Anna", tag="R1-4")


@pytest.fixture
def path(tree):
    return reverse("tree_scan", args=[code_of(tree.public_id)])


def text(response):
    return " ".join(response.content.decode().split())


def test_a_member_is_led_to_the_tree_however_the_code_is_typed(
    cast, client_of, tree, path
):
    target = reverse("tree", args=["test-site", tree.public_id])
    viewer = client_of(cast.viewer)
    for typed in (path, path.lower(), f"/t/{path[3:7]}%20{path[7:]}"):
        assert viewer.get(typed)["Location"] == target
    assert viewer.post(f"{path}tell/", {"seen": SEEN})["Location"] == target
    assert not Message.objects.filter(what="tree_told_of").exists()


def test_a_stranger_sees_what_hangs_on_the_tree_and_nothing_else(
    cast, client_of, site, tree, path
):
    for browser in (Client(), client_of(cast.stranger)):
        page = browser.get(path)
        words = page.content.decode()
        assert "Anna" in words
        assert "Apple" in words
        for secret in (site.name, site.orchard.name, "Long row", "owner", "R1-4"):
            assert secret not in words
        for secret in (site.slug, str(tree.public_id), str(site.latitude_deg), "2020"):
            assert secret not in words
        assert page.headers["X-Robots-Tag"] == "noindex"
        assert "no-store" in page.headers["Cache-Control"]
    assert "Sign in to see more" in text(Client().get(path))
    assert reverse("account_login") in text(Client().get(path))


def test_what_a_stranger_tells_goes_to_those_who_arrange_the_work_and_nowhere_else(
    cast, client, tree, path
):
    tree.site.refresh_from_db()
    revision = tree.site.revision
    page = text(client.post(f"{path}tell/", {"seen": SEEN}, follow=True))
    assert "Thank you." in page
    assert "A branch hangs" not in page
    told = Message.objects.filter(what="tree_told_of")
    assert {one.person for one in told} == {cast.owner, cast.coordinator}
    body = told.first().body
    assert body["title"] == "Somebody tells of Anna"
    assert body["lines"][0] == "They write: “A branch hangs over the path.”"
    assert body["path"] == reverse("tree", args=["test-site", tree.public_id])
    trail = AuditEntry.objects.get(what="tree_told_of")
    assert (trail.person, trail.person_name) == (None, "Somebody who read a label")
    tree.site.refresh_from_db()
    assert (tree.log.count(), tree.site.revision) == (0, revision)


@pytest.mark.parametrize(
    ("seen", "why"), [("  ", "Write what you saw."), ("x" * 501, "at most 500 letters")]
)
def test_too_little_and_too_much_is_refused_and_kept(client, path, seen, why):
    answer = client.post(f"{path}tell/", {"seen": seen})
    assert answer.status_code == 422
    assert why in text(answer)
    assert seen.strip() in text(answer)
    assert not Message.objects.exists()


def test_one_home_tells_of_a_few_trees_an_hour(client, path):
    codes = [
        client.post(f"{path}tell/", {"seen": f"Dry {number}"}).status_code
        for number in range(MOST_REPORTS + 1)
    ]
    assert codes == [*[302] * MOST_REPORTS, 429]
    answer = client.post(f"{path}tell/", {"seen": "Dry again"})
    assert "this was not sent" in text(answer)
    assert "Dry again" in text(answer)
    elsewhere = client.post(
        f"{path}tell/", {"seen": "Dry"}, headers={"X-Forwarded-For": "198.51.100.7"}
    )
    assert elsewhere.status_code == 429  # nobody's own word on where they are counts


def test_one_orchard_is_told_so_much_a_day(tree):
    now = timezone.now()
    for number in range(MOST_A_DAY):
        tell_of_tree(tree=tree, words="Dry", now=now + timedelta(seconds=number))
    with pytest.raises(EnoughError):
        tell_of_tree(tree=tree, words="Dry", now=now + timedelta(hours=1))
    assert tell_of_tree(tree=tree, words="Dry", now=now + timedelta(days=2)) == 1


def test_unknown_and_gone_look_alike(client, cast, client_of, tree, path):
    gone = client.get
    unknown = client.get("/t/ZZZZZZZZ/")
    no_code = client.get("/t/hello/")
    Tree.objects.filter(pk=tree.pk).update(status="lost", ended_on="2025-06-01")
    told = [client.post(f"{one}tell/", {"seen": "x"}) for one in (path, "/t/ZZZZZZZZ/")]
    asked = [unknown, no_code, gone(path)]
    assert {one.status_code for one in asked + told} == {404}
    for answers in (asked, told):
        assert len({PASSING.sub("", one.content.decode()) for one in answers}) == 1
    assert client_of(cast.viewer).get(path).status_code == 302


def test_guessing_codes_is_ended(client, path):
    assert {client.get("/t/ZZZZZZZZ/").status_code for _ in range(20)} == {404}
    assert client.get(path).status_code == 429


def test_a_code_that_two_trees_share_is_printed_longer(
    make_tree, cast, django_assert_num_queries
):
    start = "cad9f1ab-c5{}-43ad-89e7-55513f6d9c39"
    twins = [make_tree(name) for name in ("Anna", "Berta")]
    for one, more in zip(twins, ("f5", "a1"), strict=True):
        one.public_id = UUID(start.format(more))
        one.save()
    other = make_tree("Cleo")
    with django_assert_num_queries(1):
        codes = codes_of([*twins, other])
    assert [len(codes[one.pk]) for one in (*twins, other)] == [LONG, LONG, 8]
    assert tree_of_code("SBCZ3AY5", None) == (None, False)
    assert tree_of_code("SBCZ3AY5", cast.viewer) == (None, False)
    assert tree_of_code(codes[twins[1].pk], None) == (twins[1], False)
    assert tree_of_code(codes[twins[1].pk], cast.viewer) == (twins[1], True)
    # In two orchards the old, short code still leads each to their own.
    elsewhere = Membership.objects.get(person=cast.stranger).orchard.sites.get()
    Tree.objects.filter(pk=twins[1].pk).update(site=elsewhere, block=None)
    assert tree_of_code("SBCZ3AY5", cast.viewer) == (twins[0], True)
    assert tree_of_code("SBCZ3AY5", cast.stranger) == (twins[1], True)
    assert tree_of_code("SBCZ3AY5", None) == (None, False)
