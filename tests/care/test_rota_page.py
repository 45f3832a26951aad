"""The rota's pages: weeks and lists, proposing, publishing, one place by hand."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from care.actions.rota_places import put_on_place
from care.models import Shift, ShiftPlace
from care.planning.rota_changes import last_published
from orchard.models import Membership, Message
from tests.care.rota_garden import MONDAY, SATURDAY, draft, helper

WEEK = timedelta(days=7)


@pytest.fixture
def browser(client_of, cast):
    return client_of(cast.coordinator)


def address(name, site, *more, **query):
    path = reverse(name, args=[site.slug, *more])
    return f"{path}?from={query['first']}" if query else path


def text_of(answer):
    return " ".join(answer.content.decode().split())


def test_before_the_first_shift_it_says_what_a_rota_is_for(site, browser):
    said = text_of(browser.get(address("rota", site)))
    assert "No shift yet" in said
    assert "For one or two people the round is enough" in said
    for typed, told in (
        ("tomorrow", "Write a day, such as"),
        ("9999-12-31", "within five years"),
    ):
        wrong = browser.get(address("rota", site, first=typed))
        assert wrong.status_code == 422
        assert told in text_of(wrong)
        assert f'value="{typed}"' in text_of(wrong)
    draft(site, SATURDAY, is_hazardous=True)
    said = text_of(browser.get(address("rota", site)))
    assert "Nobody is alone with a ladder" in said
    assert "Nobody offered a day in these weeks" in said
    assert "Propose who comes" not in said


def test_from_proposing_to_publishing(site, browser, client_of, cast):
    ana = helper(site, "Ana", weekdays=[5], most_a_week=1)
    helper(site, "Per", weekdays=[0], skills=["first_aid"])
    shift = draft(site, SATURDAY, ("first_aid", ""))
    grower = client_of(cast.grower)
    said = text_of(browser.get(address("rota", site)))
    assert "Ana could come, and nothing stands in the way: ask them." in said
    assert "2 places open" in said
    browser.post(address("rota_propose", site), {"from": MONDAY.isoformat()})
    said = text_of(browser.get(address("rota", site, first=MONDAY)))
    assert "1 place filled. Nobody is told before you publish." in said
    # As `sources/rounds_rota` words it: the cheapest cure first.
    assert (
        "Nobody with first aid offered Saturday 12 July. 1 person offered the day: let "
        "this place ask for no skill; or ask Per (who has the skill)." in said
    )
    assert "<dt>Ana</dt><dd>1 of about 1</dd>" in said
    assert not Message.objects.exists()
    assert "Watering" not in text_of(grower.get(address("rota", site)))
    looked = text_of(browser.get(address("rota_publish", site, first=MONDAY)))
    assert "<dt>Ana</dt><dd>Watering, Saturday 12 July, 9:00</dd>" in looked
    seal = looked.split('name="seal" value="')[1].split('"')[0]
    stale = browser.post(address("rota_publish", site), {"from": MONDAY, "seal": "old"})
    assert (stale.status_code, last_published(site)) == (409, None)
    browser.post(address("rota_publish", site), {"from": MONDAY, "seal": seal})
    assert Message.objects.get().person == ana.person
    seen = text_of(grower.get(address("rota", site)))
    assert "Watering" in seen
    assert "Ana" in seen
    assert "How much each does" not in seen
    assert "Change" not in seen
    place = shift.places.get(number=2)
    by = Membership.objects.get(person=cast.coordinator, orchard=site.orchard)
    put_on_place(place=place, person_id=None, by=by, now=timezone.now())
    said = text_of(grower.get(address("rota", site)))
    assert "Saturday 12 July, Watering: nobody instead of Ana" in said


def test_one_place_offers_those_who_may_and_says_why_others_rather_not(site, browser):
    glad = helper(site, "Ana", weekdays=[5])
    glad.offered.update(wish=1)
    helper(site, "Ben", weekdays=[0])
    young = helper(site, "Kim", is_under_18=True)
    place = draft(site, SATURDAY).places.get()
    path = address("rota_assign", site, place.pk)
    said = text_of(browser.get(path))
    assert said.index("Ana: gladly") < said.index("Ben: said they cannot come that day")
    assert "Kim" not in said
    refused = browser.post(path, {"person": young.person_id})
    assert refused.status_code == 422
    assert "They may not hold this place now" in text_of(refused)
    browser.post(path, {"person": glad.person_id})
    place.refresh_from_db()
    assert place.holder == glad.person
    Shift.objects.update(status=Shift.Status.CANCELLED)
    assert browser.get(path).status_code == 404


def test_sixty_people_ask_the_database_no_more_than_three(
    site, browser, django_assert_max_num_queries, django_assert_num_queries
):
    def grow(people, shifts):
        for number in range(people):
            helper(site, f"{people}-{number}", skills=["ladder"])
        for number in range(shifts):
            one = draft(site, MONDAY + timedelta(days=number % 28), ("", "ladder"))
            ShiftPlace.objects.filter(shift=one, number=1).update(number=3)

    grow(3, 2)
    path = address("rota", site)
    browser.get(path)
    with django_assert_max_num_queries(45) as few:
        browser.get(path)
    grow(57, 40)
    with django_assert_num_queries(len(few)):
        said = text_of(browser.get(path))
    assert "57-56" in said
