"""In my care: take and leave in one tap, arrange for others, see what is nobody's."""

import pytest

from orchard.models import InCare, Membership, Person
from tests.orchard.plain_page import page_of, text_of

PAGE = "/s/test-site/care/"


def taken():
    return {
        (row.membership.person.username, str(row.tree or row.block), row.is_backup)
        for row in InCare.objects.all()
    }


def block_value(site):
    return f"block-{site.blocks.get().pk}"


@pytest.fixture
def grower(cast, client_of):
    return client_of(cast.grower)


@pytest.fixture
def coordinator(cast, client_of):
    return client_of(cast.coordinator)


def test_at_first_nobody_has_anything_and_that_is_no_alarm(grower, make_tree):
    make_tree()
    words = text_of(page_of(grower.get(PAGE)))
    assert "shows everything to everyone" in words
    assert "Nobody looks after these" not in words


def test_somebody_alone_is_told_to_leave_it_so(cast, client_of, make_tree):
    make_tree()
    Membership.objects.exclude(person=cast.owner).delete()
    words = text_of(page_of(client_of(cast.owner).get(PAGE)))
    assert "You are alone here" in words


def test_a_block_is_two_buttons_and_its_trees_are_folded(grower, make_tree, site):
    for number in range(3):
        make_tree(f"Apple {number}")
    page = page_of(grower.get(PAGE))
    (section,) = page.xpath("//section[@id]")
    buttons = section.xpath("./div//button")
    assert [text_of(one) for one in buttons] == [
        "Long row: I look after it",
        "Long row: I stand in",
    ]
    assert "3 trees" in text_of(section)
    assert section.xpath("./details[not(@open)]//li[contains(., 'Apple 2')]")


def test_one_tap_takes_a_block_and_one_leaves_it(grower, make_tree, site):
    make_tree()
    answer = grower.post(f"{PAGE}take/", {"thing": block_value(site)})
    assert answer.headers["Location"] == f"{PAGE}#{block_value(site)}"
    assert taken() == {("grower", "Long row", False)}
    words = text_of(page_of(grower.get(PAGE)))
    assert "You look after Long row." in words
    assert "Looked after by grower." in words
    assert "Everything here is looked after." in words
    grower.post(f"{PAGE}leave/", {"thing": block_value(site)})
    assert taken() == set()


def test_a_carer_may_turn_into_a_backup_and_back(grower, make_tree, site):
    make_tree()
    values = {"thing": block_value(site)}
    grower.post(f"{PAGE}take/", values)
    grower.post(f"{PAGE}take/", {**values, "is_backup": "on"})
    assert taken() == {("grower", "Long row", True)}
    assert "Standing in: grower." in text_of(page_of(grower.get(PAGE)))
    grower.post(f"{PAGE}take/", values)
    assert taken() == {("grower", "Long row", False)}


def test_what_nobody_looks_after_is_listed_by_block_where_it_is_whole(
    grower, make_tree, site
):
    lemon = make_tree("Lemon", block=None)
    make_tree("Apple")
    make_tree("Pear")
    grower.post(f"{PAGE}take/", {"thing": f"tree-{lemon.pk}"})
    page = page_of(grower.get(PAGE))
    listed = page.xpath("//section[@aria-labelledby='uncared']//a")
    assert [(one.get("href"), text_of(one)) for one in listed] == [
        (f"#{block_value(site)}", "Long row (2 trees)")
    ]
    apple = site.trees.get(name="Apple")
    grower.post(f"{PAGE}take/", {"thing": f"tree-{apple.pk}"})
    page = page_of(grower.get(PAGE))
    listed = page.xpath("//section[@aria-labelledby='uncared']//a")
    assert [text_of(one) for one in listed] == ["Pear"]


def test_a_coordinator_gives_and_takes_for_others(coordinator, cast, make_tree, site):
    make_tree()
    member = Membership.objects.get(person=cast.grower).pk
    values = {"thing": block_value(site), "member": member}
    coordinator.post(f"{PAGE}take/", {**values, "is_backup": "on"})
    assert taken() == {("grower", "Long row", True)}
    page = page_of(coordinator.get(PAGE))
    assert "grower stands in for Long row" in text_of(page)
    coordinator.post(f"{PAGE}leave/", values)
    assert taken() == set()


def test_a_grower_gives_nothing_to_others_and_sees_no_form_for_it(
    grower, cast, make_tree, site
):
    make_tree()
    member = Membership.objects.get(person=cast.owner).pk
    values = {"thing": block_value(site), "member": member}
    assert grower.post(f"{PAGE}take/", values).status_code == 403
    assert taken() == set()
    assert not page_of(grower.get(PAGE)).xpath("//details[@id='arrange']")


def test_a_viewer_sees_who_looks_after_what_and_nothing_to_press(
    grower, cast, client_of, make_tree, site
):
    make_tree()
    grower.post(f"{PAGE}take/", {"thing": block_value(site)})
    page = page_of(client_of(cast.viewer).get(PAGE))
    assert "Looked after by grower." in text_of(page)
    assert "Your role may look but not tick." in text_of(page)
    assert not page.xpath("//main//button")


def test_what_is_gone_meanwhile_changes_nothing_and_says_so(grower, make_tree, site):
    tree = make_tree()
    site.trees.filter(pk=tree.pk).update(status="lost", ended_on="2025-07-01")
    for verb in ("take", "leave"):
        answer = grower.post(
            f"{PAGE}{verb}/", {"thing": f"tree-{tree.pk}"}, follow=True
        )
        assert "no longer here" in text_of(page_of(answer))
    assert taken() == set()


def test_a_tree_of_another_orchard_cannot_be_named(cast, client_of, make_tree):
    tree = make_tree()
    stranger = client_of(cast.stranger)
    stranger.post("/s/elsewhere/care/take/", {"thing": f"tree-{tree.pk}"})
    assert taken() == set()


def test_a_site_without_trees_says_so(grower, site):
    assert "no trees here yet" in text_of(page_of(grower.get(PAGE)))


def test_a_garden_of_sixty_asks_the_database_as_often_as_a_family(
    coordinator, cast, make_tree, site, django_assert_num_queries
):
    make_tree()
    coordinator.get(PAGE)
    with django_assert_num_queries(9):
        coordinator.get(PAGE)
    for number in range(60):
        someone = Person.objects.create_user(f"grower-{number}")
        membership = Membership.objects.create(
            person=someone, orchard=site.orchard, role="grower"
        )
        InCare.objects.create(membership=membership, tree=make_tree(f"Plot {number}"))
    with django_assert_num_queries(9):
        page = page_of(coordinator.get(PAGE))
    assert "Looked after by grower-59." in text_of(page)
