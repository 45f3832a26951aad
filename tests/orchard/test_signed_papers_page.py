"""Signed papers: a coordinator records them, each member sees their own."""

from datetime import date

import pytest

from orchard.models import Membership, SignedPaper
from tests.orchard.plain_page import errors_of, page_of, text_of

PAGE = "/s/test-site/people/papers/"


@pytest.fixture
def coordinator(cast, client_of):
    return client_of(cast.coordinator)


@pytest.fixture
def values(cast):
    member = Membership.objects.get(person=cast.grower)
    return {"member": member.pk, "what": "Waiver", "signed_on": "2025-03-01"}


def test_a_paper_is_seen_by_coordinators_and_whoever_signed_it(
    coordinator, cast, client_of, values, django_assert_num_queries
):
    assert "Nothing is recorded yet." in text_of(page_of(coordinator.get(PAGE)))
    sent = {**values, "until": "2025-06-30", "note": "Green folder"}
    answer = coordinator.post(PAGE, sent, follow=True)
    text = text_of(page_of(answer))
    assert "Waiver is recorded." in text
    assert "grower: Waiver" in text
    assert "Signed 1 March 2025, ended 30 June 2025" in text
    own = page_of(client_of(cast.grower).get(PAGE))
    assert "Green folder" in text_of(own)
    assert not own.xpath("//main//form")
    assert "Waiver" not in text_of(page_of(client_of(cast.viewer).get(PAGE)))
    assert client_of(cast.grower).post(PAGE, values).status_code == 403
    paper = SignedPaper.objects.get()
    with django_assert_num_queries(7):
        coordinator.get(PAGE)
    for day in range(1, 20):
        SignedPaper.objects.create(
            membership=paper.membership, what="Course", signed_on=date(2025, 1, day)
        )
    with django_assert_num_queries(7):
        coordinator.get(PAGE)
    coordinator.post(f"{PAGE}{paper.pk}/remove/")
    assert not SignedPaper.objects.filter(pk=paper.pk).exists()


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"until": "2025-02-28"}, "before the day it was signed"),
        ({"signed_on": "2025-07-03"}, "still to come"),
        ({"signed_on": ""}, "Choose the day."),
        ({"what": " "}, "Write what it is"),
        ({"member": "0"}, "no member any more"),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(coordinator, values, wrong, words):
    answer = coordinator.post(PAGE, {**values, "note": "Green folder", **wrong})
    assert answer.status_code == 422
    page = page_of(answer)
    found = errors_of(page)
    assert len([each for each in found if words in each]) == 2, found
    assert page.xpath("//input[@name='note']/@value") == ["Green folder"]
    assert not SignedPaper.objects.exists()
