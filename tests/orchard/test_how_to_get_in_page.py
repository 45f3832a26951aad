"""How to get in and whom to call; the key is told to those who help alone."""

import pytest

from orchard.models import EmergencyContact, WayIn
from orchard.views.ways_in_words import way_in_of
from tests.orchard.plain_page import errors_of, page_of, text_of

PAGE = "/s/test-site/ways-in/"
VALUES = {"gate": "Green gate", "key_note": "Under the pot", "harvest_rule": "Half"}


@pytest.fixture
def coordinator(cast, client_of):
    return client_of(cast.coordinator)


def test_nothing_written_says_what_to_do_next(coordinator, cast, client_of):
    assert "Write where the gate, the tap" in text_of(page_of(coordinator.get(PAGE)))
    viewer = page_of(client_of(cast.viewer).get(PAGE))
    assert "Ask an owner or coordinator" in text_of(viewer)
    assert not viewer.xpath("//main//form | //main//a[contains(@href, 'edit')]")
    round_page = page_of(coordinator.get("/s/test-site/"))
    assert not round_page.xpath(f"//main//a[@href='{PAGE}']")


def test_what_is_written_everybody_reads_but_for_the_key(
    coordinator, cast, client_of, site, django_assert_num_queries
):
    coordinator.post(f"{PAGE}edit/", VALUES)
    call = {"name": "On call", "phone": "(0) 555-0142 ext. 7", "note": "Saturdays"}
    answer = coordinator.post(f"{PAGE}contacts/add/", call, follow=True)
    assert "On call is written down." in text_of(page_of(answer))
    for who in ("owner", "grower"):
        text = text_of(page_of(client_of(getattr(cast, who)).get(PAGE)))
        assert "Under the pot" in text
    viewer = page_of(client_of(cast.viewer).get(PAGE))
    text = text_of(viewer)
    assert "Green gate" in text
    assert "Under the pot" not in text
    assert "only those read who help here" in text
    assert viewer.xpath("//main//a[starts-with(@href, 'tel:')]/@href") == [
        "tel:05550142"
    ]
    assert "emergency number of the country first" in text
    with django_assert_num_queries(2):
        shown = way_in_of(site, with_key=True)
    assert shown.lines == (("Gate", "Green gate"), ("Key", "Under the pot"))
    assert shown.harvest_rule == "Half"
    round_page = page_of(client_of(cast.viewer).get("/s/test-site/"))
    assert round_page.xpath(f"//main//a[@href='{PAGE}']")


def test_the_form_shows_what_is_written_and_keeps_what_is_too_long(coordinator, site):
    WayIn.objects.create(site=site, tap="By the shed")
    page = page_of(coordinator.get(f"{PAGE}edit/"))
    assert page.xpath("//input[@name='tap']/@value") == ["By the shed"]
    answer = coordinator.post(f"{PAGE}edit/", {**VALUES, "tap": "x" * 201})
    assert answer.status_code == 422
    assert page_of(answer).xpath("//input[@name='gate']/@value") == ["Green gate"]
    assert WayIn.objects.get().tap == "By the shed"


@pytest.mark.parametrize(
    "phone", ["", "ask Ana", "12", "call 555-0142", "555-0142 or 555-0143"]
)
def test_a_number_nobody_could_dial_is_refused_at_its_field(coordinator, phone):
    values = {"name": "On call", "phone": phone}
    answer = coordinator.post(f"{PAGE}contacts/add/", values)
    assert answer.status_code == 422
    found = errors_of(page_of(answer))
    assert [each for each in found if "Write the number in digits" in each]
    assert not EmergencyContact.objects.exists()


def test_contacts_are_changed_struck_off_and_few(coordinator, site):
    for number in range(6):
        EmergencyContact.objects.create(site=site, name=f"C{number}", phone="112")
    values = {"name": "On call", "phone": "112"}
    answer = coordinator.post(f"{PAGE}contacts/add/", values)
    assert answer.status_code == 422
    assert "6 are enough" in text_of(page_of(answer))
    row = EmergencyContact.objects.first()
    path = f"{PAGE}contacts/{row.pk}/"
    page = page_of(coordinator.get(path))
    assert page.xpath("//input[@name='name']/@value") == ["C0"]
    coordinator.post(path, values)
    row.refresh_from_db()
    assert row.name == "On call"
    coordinator.post(f"{path}remove/")
    assert EmergencyContact.objects.count() == 5
