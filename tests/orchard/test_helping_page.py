"""Who helps as what, and one member's skills, learner, mentors, under 18."""

import pytest

from orchard.actions.offers import limit_help, offer_weekdays, say_away
from orchard.models import Helping, Membership, Offered, Person
from tests.conftest import TODAY
from tests.orchard.actions.test_helping import NOW
from tests.orchard.plain_page import errors_of, page_of, text_of

PAGE = "/s/test-site/people/helping/"


@pytest.fixture
def coordinator(cast, client_of):
    return client_of(cast.coordinator)


@pytest.fixture
def member(cast):
    def of(role):
        return Membership.objects.get(person=getattr(cast, role))

    return of


def path(member):
    return f"/s/test-site/people/{member.pk}/helping/"


def test_the_list_says_skills_learners_limits_and_what_each_offers(coordinator, member):
    grower = member("grower")
    offer_weekdays(membership=grower, wishes={5: 1, 2: 0}, now=NOW)
    limit_help(membership=grower, most_a_week=1, most_a_season=12, now=NOW)
    say_away(
        membership=grower,
        first=TODAY.replace(day=9),
        last=TODAY.replace(day=12),
        now=NOW,
    )
    values = {
        "skills": ["first_aid"],
        "other_skills": "Grafting",
        "is_under_18": "on",
        "mentors": [member("owner").pk],
    }
    page = page_of(coordinator.post(path(grower), values, follow=True))
    text = text_of(page)
    for words in (
        "grower: kept.",
        "First aid, grafting",
        "Under 18: beside two grown-ups",
        "Learner, beside owner",
        "At most 1 a week and 12 a season",
        "Gladly Saturday; can come Wednesday",
        "6 of the next 28 days offered",
        "Away 9 to 12 July 2025",
        "Only looks on",
        "Has said nothing about days yet.",
    ):
        assert words in text, words
    links = page.xpath("//main//a[contains(@href, '/helping/')]/@href")
    assert path(grower) in links
    people = page_of(coordinator.get("/s/test-site/people/"))
    assert people.xpath(f"//main//a[@href='{PAGE}']")
    again = page_of(coordinator.post(path(grower), values, follow=True))
    assert "nothing was changed" in text_of(again)


def test_what_cannot_be_is_said_at_its_field_and_everything_typed_stays(
    coordinator, member
):
    grower = member("grower")
    hazard = {"skills": ["ladder"], "other_skills": "grafting", "is_under_18": "on"}
    answer = coordinator.post(path(grower), hazard)
    assert answer.status_code == 422
    page = page_of(answer)
    error = page.xpath("//*[@id='helper_skills_error']")[0].text_content()
    assert "Nobody under 18 works on ladders" in error
    assert page.xpath("//input[@name='other_skills']/@value") == ["grafting"]
    assert page.xpath("//input[@name='is_under_18']/@checked")
    typed = {"other_skills": "Chainsaw", "is_under_18": "on"}
    page = page_of(coordinator.post(path(grower), typed))
    assert page.xpath("//*[@id='helper_other_skills_error']")
    for values, words in (
        ({"mentors": [member("owner").pk]}, "for learners"),
        ({"is_learner": "on", "mentors": [grower.pk]}, "cannot be a mentor"),
        ({"skills": ["flying"]}, "no skill of this list"),
        ({"other_skills": "x" * 25}, "at most 24 letters"),
        ({"other_skills": ",".join("abcdefghijklm")}, "12 skills at most"),
    ):
        answer = coordinator.post(path(grower), values)
        assert answer.status_code == 422
        found = errors_of(page_of(answer))
        assert [each for each in found if words in each], found
    assert not Helping.objects.exists()


def test_mentors_offered_are_grown_up_members_who_may_tick(coordinator, member):
    Helping.objects.create(membership=member("coordinator"), is_under_18=True)
    page = page_of(coordinator.get(path(member("grower"))))
    names = page.xpath("//input[@name='mentors']/../text()")
    assert "owner" in " ".join(names)
    assert len(page.xpath("//input[@name='mentors']")) == 1


def test_a_garden_of_sixty_asks_the_database_as_often_as_a_family(
    coordinator, member, site, django_assert_num_queries
):
    one = path(member("grower"))

    def asked():
        with django_assert_num_queries(9):
            coordinator.get(PAGE)
        with django_assert_num_queries(7):
            coordinator.get(one)

    Helping.objects.create(membership=member("grower"), is_learner=True).mentors.add(
        member("owner")
    )
    coordinator.get(PAGE)
    asked()
    for number in range(60):
        row = Membership.objects.create(
            person=Person.objects.create_user(f"grower-{number}"),
            orchard=site.orchard,
            role="grower",
        )
        Offered.objects.create(membership=row, weekday=5, wish=1)
        Helping.objects.create(membership=row, is_learner=True).mentors.add(
            member("owner")
        )
    asked()
