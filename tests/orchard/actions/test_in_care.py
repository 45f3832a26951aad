"""Who looks after what: taking, leaving, arranging, and what the rows come to."""

from datetime import UTC, datetime

import pytest
from django.core.exceptions import PermissionDenied

from orchard.actions.in_care import care_of_site, leave, take
from orchard.actions.trees import add_tree
from orchard.models import AuditEntry, InCare, Membership, Role, Site
from tests.conftest import TODAY

NOW = datetime(2025, 7, 2, 12, 0, tzinfo=UTC)


@pytest.fixture
def member(cast):
    def of(role):
        return Membership.objects.get(person=getattr(cast, role))

    return of


def carers(site, tree):
    care = care_of_site(site)
    names = [
        [one.person.username for one in found(tree.pk, tree.block_id).values()]
        for found in (care.carers, care.backups)
    ]
    return tuple(names)


def own(member, thing, **values):
    return take(by=member, member=member, thing=thing, now=NOW, **values)


def test_who_takes_a_block_looks_after_all_its_trees(site, member, make_tree):
    tree, other = make_tree("One"), make_tree("Elsewhere", block=None)
    assert own(member("grower"), tree.block)
    assert carers(site, tree) == (["grower"], [])
    assert carers(site, other) == ([], [])


def test_a_trees_own_carers_and_backups_stand_in_the_place_of_its_blocks(
    site, member, make_tree
):
    tree, other = make_tree("One"), make_tree("Two")
    own(member("grower"), tree.block)
    own(member("coordinator"), tree.block, is_backup=True)
    own(member("owner"), tree)
    assert carers(site, tree) == (["owner"], ["coordinator"])
    assert carers(site, other) == (["grower"], ["coordinator"])


def test_one_thing_is_taken_once_as_carer_or_as_backup(member, make_tree):
    grower, tree = member("grower"), make_tree()
    assert own(grower, tree)
    assert not own(grower, tree)
    assert own(grower, tree, is_backup=True)
    assert InCare.objects.get().is_backup


def test_leaving_is_news_once(site, member, make_tree):
    grower, tree = member("grower"), make_tree()
    own(grower, tree)
    assert leave(by=grower, member=grower, thing=tree, now=NOW)
    assert not leave(by=grower, member=grower, thing=tree, now=NOW)
    assert not care_of_site(site).is_arranged


@pytest.mark.parametrize(
    ("who", "may"),
    [("owner", True), ("coordinator", True), ("grower", False), ("viewer", False)],
)
def test_only_who_may_arrange_gives_or_takes_from_others(who, may, member, make_tree):
    by, owner, tree = member(who), member("owner"), make_tree()
    other = member("grower") if who != "grower" else owner
    if may:
        assert take(by=by, member=other, thing=tree, now=NOW)
        assert leave(by=by, member=other, thing=tree, now=NOW)
        return
    with pytest.raises(PermissionDenied):
        take(by=by, member=other, thing=tree, now=NOW)
    own(other, tree)
    with pytest.raises(PermissionDenied):
        leave(by=by, member=other, thing=tree, now=NOW)
    assert InCare.objects.count() == 1


def test_a_viewer_looks_after_nothing_and_is_given_nothing(member, make_tree):
    tree = make_tree()
    with pytest.raises(PermissionDenied):
        own(member("viewer"), tree)
    with pytest.raises(PermissionDenied):
        take(by=member("owner"), member=member("viewer"), thing=tree, now=NOW)


def test_who_may_no_longer_tick_no_longer_counts(site, member, make_tree):
    grower, tree = member("grower"), make_tree()
    own(grower, tree)
    grower.role = Role.VIEWER
    grower.save()
    assert carers(site, tree) == ([], [])
    assert not care_of_site(site).has(grower)


def test_who_leaves_the_orchard_leaves_their_trees_to_everyone(site, member, make_tree):
    own(member("grower"), tree := make_tree())
    member("grower").delete()
    assert carers(site, tree) == ([], [])


def test_nobody_takes_a_tree_of_another_orchard(cast, member, make_tree):
    theirs = Site.objects.get(slug="elsewhere")
    tree = add_tree(
        site=theirs, values={"name": "T", "species_key": "apple"}, today=TODAY
    )
    with pytest.raises(PermissionDenied):
        own(member("owner"), tree)
    stranger = Membership.objects.get(person=cast.stranger)
    with pytest.raises(PermissionDenied):
        take(by=member("owner"), member=stranger, thing=make_tree(), now=NOW)
    with pytest.raises(PermissionDenied):
        leave(by=stranger, member=stranger, thing=make_tree("Two"), now=NOW)


def test_another_site_of_the_orchard_has_its_own_carers(site, member, make_tree):
    second = Site.objects.create(
        orchard=site.orchard, name="Two", slug="two", latitude_deg=1, longitude_deg=1
    )
    own(member("grower"), make_tree())
    assert not care_of_site(second).is_arranged


def test_each_change_is_in_the_trail(member, make_tree):
    owner, grower, tree = member("owner"), member("grower"), make_tree("Fig")
    take(by=owner, member=grower, thing=tree, now=NOW)
    take(by=owner, member=grower, thing=tree, is_backup=True, now=NOW)
    leave(by=grower, member=grower, thing=tree, now=NOW)
    trail = AuditEntry.objects.filter(what__startswith="care_").order_by("pk")
    assert [
        (one.what, one.person_name, one.subject, one.before, one.after) for one in trail
    ] == [
        ("care_taken", "owner", "Fig: grower", {}, {"is_backup": False}),
        (
            "care_taken",
            "owner",
            "Fig: grower",
            {"is_backup": False},
            {"is_backup": True},
        ),
        ("care_left", "grower", "Fig: grower", {"is_backup": True}, {}),
    ]


def test_the_care_of_a_site_is_one_query(
    site, member, make_tree, django_assert_num_queries
):
    for number in range(5):
        own(member("grower"), make_tree(f"Tree {number}"))
    with django_assert_num_queries(1):
        care = care_of_site(site)
        assert {
            one.person.username
            for c in care.trees.values()
            for one in c.carers.values()
        } == {"grower"}
