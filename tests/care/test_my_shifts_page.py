"""My shifts and what is pressed there; everybody's hours for those who arrange."""

from datetime import timedelta
from html import unescape

import pytest
from django.urls import reverse

from care.actions.places import ask_for_cover
from care.models import Shift, ShiftPlace
from orchard.models import Message
from tests.care.shift_people import NOW, SUNDAY, helper, hold, places_of, shift_on
from tests.conftest import TODAY


def shown(browser, site, name="my_shifts"):
    answer = browser.get(reverse(name, args=[site.slug]))
    assert answer.status_code == 200
    return " ".join(unescape(answer.content.decode()).split())


def press(browser, site, verb, place, **sent):
    address = reverse(f"place_{verb}", args=[site.slug, place.pk])
    answer = browser.post(address, sent, follow=True)
    assert answer.status_code == 200
    return " ".join(unescape(answer.content.decode()).split())


@pytest.fixture
def ana(site, keep_plan):
    keep_plan()
    return helper(site, "ana")


def test_without_shifts_the_page_says_what_to_do_first(
    site, cast, keep_plan, client_of
):
    keep_plan()
    page = shown(client_of(cast.coordinator), site)
    assert "There are no shifts here yet." in page
    assert "make the first one, or leave it and go by the round" in page
    assert reverse("my_days", args=[site.slug]) in page
    page = shown(client_of(cast.grower), site)
    assert "When somebody who arranges the work makes one" in page
    assert "You could take" not in page
    assert "Your role may look but not take part." in shown(
        client_of(cast.viewer), site
    )


def test_one_shift_from_yes_to_cover_to_somebody_else(site, ana, client_of):
    per = helper(site, "per", days=[6])
    saturday = shift_on(site)
    place = hold(places_of(saturday)[0], ana)
    hers, his = client_of(ana.person), client_of(per.person)
    page = shown(hers, site)
    assert "Long row 5" in page
    assert "Saturday 5 July, 9:00\N{EN DASH}11:00" in page
    assert "I can come" in page
    assert "Ask for cover" not in page  # first the answer
    assert "You are on it. Thank you." in press(hers, site, "accept", place)
    page = shown(hers, site)
    assert page.index("Ask for cover") < page.index("I can't come")
    assert '<option value="">Everybody who may</option>' in page
    page = press(hers, site, "offer", place, to="")
    assert "It is still yours until somebody takes it." in page
    assert "You ask anybody for cover" in page
    page = shown(his, site)
    assert "ana asks anybody for cover" in page
    assert page.count("Take it") == 1  # two alike of one shift; hers goes first
    assert "Note: you did not offer this day." in page
    page = press(his, site, "claim", place)
    assert "It is yours. Note: you did not offer this day." in page
    # Quicker than Ana's change of mind.
    assert "This place is not yours, so it stays as it is." in press(
        hers, site, "keep", place
    )
    assert "Somebody was quicker: this place is taken." in press(
        hers, site, "claim", place
    )
    page = press(his, site, "leave", place)
    assert "You are off it, and no reason is asked." in page
    assert ShiftPlace.objects.get(pk=place.pk).holder is None


def test_a_swap_is_asked_on_one_page_and_answered_on_another(site, ana, client_of):
    per = helper(site, "per")
    mine = hold(places_of(shift_on(site))[0], ana)
    theirs = hold(places_of(shift_on(site, SUNDAY))[0], per)
    for place in (mine, theirs):
        ShiftPlace.objects.filter(pk=place.pk).update(accepted_at=NOW)
    hers, his = client_of(ana.person), client_of(per.person)
    assert "Choose which of your shifts" in press(hers, site, "swap", theirs, give="x")
    page = press(hers, site, "swap", theirs, give=mine.pk)
    assert "Both keep their own until the answer is yes." in page
    page = shown(his, site)
    assert "You are asked" in page
    assert "ana asks you for a swap" in page
    assert f'<input type="hidden" name="give" value="{theirs.pk}">' in page
    assert "You swapped." in press(his, site, "swap", mine, give=theirs.pk)
    ask_for_cover(place=theirs, by=ana, to=per.person_id, now=NOW)
    assert "You said no." in press(his, site, "decline", theirs)
    assert "No, not me" not in shown(his, site)


def test_after_the_shift_hours_are_written_and_missed_stays_among_few(
    site, cast, ana, client_of
):
    per, out = helper(site, "per"), helper(site, "out")
    shift = shift_on(site, TODAY - timedelta(days=1))
    hers, his = hold(places_of(shift)[0], ana), hold(places_of(shift)[1], per)
    browser = client_of(ana.person)
    page = shown(browser, site)
    assert "How long was it?" in page
    assert 'value="120"' in page
    assert "Was not there" not in page  # one's own is for others to say
    for wrong, says in (
        ("", "Write how many minutes it was, such as 120."),
        ("two hours", "Write the minutes as a whole number"),
        ("-5", "Minutes cannot be fewer than none."),
        ("2000", "A day has 1,440 minutes"),
    ):
        assert says in press(browser, site, "hours", hers, minutes=wrong)
    assert "The time is written down." in press(
        browser, site, "hours", hers, minutes="95"
    )
    assert "1 h 35 min in all." in shown(browser, site)
    assert "Those who arrange the shifts see it" in press(browser, site, "missed", his)
    assert "You, missed" in shown(client_of(per.person), site)
    assert "missed" not in shown(client_of(out.person), site)
    page = shown(client_of(cast.coordinator), site, "shift_hours")
    assert page.index(">ana<") < page.index(">out<") < page.index(">per<")
    assert "1 missed" in page
    refused = client_of(ana.person).get(reverse("shift_hours", args=[site.slug]))
    assert refused.status_code == 403


def test_drafts_and_other_gardens_places_are_not_there(site, cast, ana, client_of):
    draft = places_of(shift_on(site, status=Shift.Status.DRAFT))[0]
    ours = places_of(shift_on(site))[0]
    for browser, place in (
        (client_of(ana.person), draft),
        (client_of(cast.stranger), ours),
    ):
        address = reverse("place_claim", args=[site.slug, place.pk])
        assert browser.post(address).status_code == 404
    assert f"place-{draft.pk}" not in shown(client_of(ana.person), site)
    # A reader of a shared address who is let in, and a place that is not at that site.
    elsewhere = reverse("place_claim", args=["elsewhere", ours.pk])
    assert client_of(cast.stranger).post(elsewhere).status_code == 404


def test_the_page_asks_as_often_however_many_shifts_there_are(
    site, ana, client_of, django_assert_max_num_queries
):
    browser = client_of(ana.person)
    shift_on(site)
    hold(places_of(shift_on(site, SUNDAY))[0], ana)
    with django_assert_max_num_queries(60) as few:
        shown(browser, site)
    for day in range(8, 20):
        helper(site, f"more{day}")
        shift_on(site, TODAY + timedelta(days=day), learners=1)
    site.refresh_from_db()
    with django_assert_max_num_queries(len(few)):
        shown(browser, site)
    assert Message.objects.count() == 0
