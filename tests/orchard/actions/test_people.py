from datetime import timedelta

import pytest
from django.utils import timezone

from orchard.actions.people import (
    choose_units,
    first_person,
    found_orchard,
    has_accounts,
    hash_of,
    make_signin_link,
    person_of_signin_link,
    use_signin_link,
)
from orchard.models import Membership, Person, Role, SigninLink


def token_of(address):
    return address.rstrip("/").rsplit("/", 1)[1]


@pytest.fixture
def link(cast):
    return token_of(make_signin_link(person=cast.grower))


def test_a_signin_link_works_once(cast, link):
    now = timezone.now()
    assert person_of_signin_link(token=link, now=now) == cast.grower
    assert person_of_signin_link(token=link, now=now) == cast.grower  # looking is free
    assert use_signin_link(token=link, now=now) == cast.grower
    assert use_signin_link(token=link, now=now) is None
    assert person_of_signin_link(token=link, now=now) is None


def test_a_signin_link_expires_after_ten_minutes(cast, link):
    made = SigninLink.objects.get().expires_at - timedelta(minutes=10)
    assert abs(made - timezone.now()) < timedelta(seconds=30)
    late = made + timedelta(minutes=10)
    assert use_signin_link(token=link, now=late) is None
    early = late - timedelta(seconds=1)
    assert use_signin_link(token=link, now=early) == cast.grower


def test_only_the_hash_of_a_link_is_stored(link):
    assert SigninLink.objects.get().token_hash == hash_of(link)
    assert link not in str(SigninLink.objects.values().get())


def test_a_link_of_somebody_who_may_not_sign_in_is_no_use(cast, link):
    Person.objects.filter(pk=cast.grower.pk).update(is_active=False)
    assert use_signin_link(token=link, now=timezone.now()) is None
    assert use_signin_link(token="made up", now=timezone.now()) is None


def test_who_founds_an_orchard_owns_it(cast):
    orchard = found_orchard(person=cast.viewer, name="Second")
    membership = Membership.objects.get(orchard=orchard)
    assert (membership.person, membership.role) == (cast.viewer, Role.OWNER)


def test_the_first_person_is_one_who_governs(cast):
    assert first_person() == cast.owner


def test_units_are_one_persons_own(cast):
    choose_units(person=cast.grower, units="us")
    units = dict(Person.objects.values_list("username", "units"))
    assert units["grower"] == "us"
    assert {units[name] for name in units if name != "grower"} == {"metric"}


def test_the_demonstrations_people_do_not_close_signing_up(db):
    someone = Person.objects.create_user("demo")
    assert not someone.has_usable_password()
    assert not has_accounts()
    Person.objects.create_user("real", password="a good long pass")
    assert has_accounts()


def test_the_start_link_prefers_an_owner_outside_the_demonstration(db):
    assert first_person() is None
    demo = Person.objects.create_user("demo")
    found_orchard(person=demo, name="Demo", is_demo=True)
    assert first_person() == demo
    real = Person.objects.create_user("real", password="a good long pass")
    assert first_person() == demo
    found_orchard(person=real, name="Real")
    assert first_person() == real
