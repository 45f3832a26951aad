"""Every message is written in the language of whoever reads it, whoever sets it off."""

from datetime import UTC, datetime, timedelta

import pytest
from django.utils import translation

from care.actions.place_swaps import ask_to_swap, decline
from care.actions.places import ask_for_cover, claim, leave
from care.actions.rota_publish import publish
from care.actions.shift_changes import cancel_shift, move_shift, revive_shift
from care.actions.tree_reports import tell_of_tree
from care.views.evening_messages import write_evenings
from care.views.shift_reminders import remind_of_tomorrow
from orchard.actions.arriving_weather import keep_failure, take_lease
from orchard.actions.invites import accept_invite, make_invite
from orchard.actions.members import change_role, remove_member
from orchard.actions.messages import Told
from orchard.actions.weather_services import choose_source
from orchard.models import Membership, Message, Person, Role, SeriesFetch
from tests.care import rota_garden
from tests.care.shift_people import NOW, SUNDAY, helper, hold, places_of, shift_on
from tests.conftest import TODAY

#: Seven in the evening at the site, whose own day is 2 July.
EVENING = datetime(2025, 7, 3, 2, tzinfo=UTC)
DAY = timedelta(days=1)


@pytest.fixture
def written(monkeypatch, cast):
    """In which language each message was written, and for whom.

    Half of the people read Spanish; those who set things off may be of either half.
    """
    found = []
    save = Message.save

    def noted(self, *args, **named):
        wanted = Person.objects.get(pk=self.person_id).language or "en"
        found.append((Told(self.what), wanted, translation.get_language()))
        save(self, *args, **named)

    monkeypatch.setattr(Message, "save", noted)
    Person.objects.filter(username__in=["owner", "grower"]).update(language="es")
    return found


def spanish(member):
    member.person.language = "es"
    member.person.save()
    return member


@pytest.fixture(params=["en", "es"])
def asker(request):
    """The language of the page on which it happens."""
    with translation.override(request.param):
        yield request.param


def whats(written):
    assert all(wanted == active for _, wanted, active in written)
    assert {wanted for _, wanted, _ in written} == {"en", "es"}
    return {what for what, _, _ in written}


def test_what_happens_to_places_and_shifts(site, written, asker):
    ana, per = spanish(helper(site, "ana")), helper(site, "per")
    eve = helper(site, "eve", role="coordinator")
    shift = shift_on(site, skills=("", "", ""))
    first, second, _ = places_of(shift)
    hold(first, ana)
    hold(second, per)
    mine = hold(places_of(shift_on(site, SUNDAY))[0], per)
    ask_for_cover(place=first, by=ana, now=NOW, to=eve.person_id)
    leave(place=second, by=per, now=NOW)
    ask_for_cover(place=mine, by=per, now=NOW)
    claim(place=mine, by=ana, now=NOW)
    swap_of(site, ana, per)
    move_shift(
        shift=shift,
        day=SUNDAY + DAY,
        starts_at=first.shift.starts_at,
        person=None,
        now=NOW,
    )
    cancel_shift(shift=shift, why="", person=None, now=NOW)
    revive_shift(shift=shift, person=None, now=NOW)
    assert whats(written) == {
        Told.COVER_ASKED,
        Told.PLACE_LEFT,
        Told.PLACE_OPEN,
        Told.PLACE_TAKEN,
        Told.SHIFT_CHANGED,
    }
    moved = Message.objects.filter(person=ana.person, what=Told.SHIFT_CHANGED).first()
    assert "lunes" in moved.body["title"]


def swap_of(site, ana, per):
    days = [SUNDAY + number * DAY for number in (5, 6)]
    ours, theirs = (places_of(shift_on(site, day))[0] for day in days)
    asked = hold(theirs, per)
    ask_to_swap(place=hold(ours, ana), other=asked, by=ana, now=NOW)
    decline(place=ours, by=per, now=NOW)


def test_a_rota_that_is_published(site, cast, written, asker):
    people = [rota_garden.helper(site, name) for name in ("ana", "ben")]
    spanish(people[0])
    shift = rota_garden.draft(site, rota_garden.SATURDAY, ("", ""))
    for place, member in zip(places_of(shift), people, strict=True):
        hold(place, member)
    publish(rota_garden.span(site, cast.coordinator))
    assert whats(written) == {Told.SHIFT_PROPOSED}


def test_an_evening_and_the_eve_of_a_shift(
    site, cast, make_tree, make_task, keep_plan, written, asker
):
    make_task(
        make_tree("Lemon"),
        kind="cold",
        action="move_in",
        is_urgent=True,
        amount=None,
        unit="",
    )
    keep_plan()
    shift = shift_on(site, TODAY + DAY)
    for place, role in zip(places_of(shift), ("grower", "coordinator"), strict=True):
        hold(place, Membership.objects.get(person=getattr(cast, role)))
    assert write_evenings(EVENING)
    assert remind_of_tomorrow(site, EVENING) == 2
    assert whats(written) == {Told.COLD_TONIGHT, Told.SHIFT_TOMORROW}


def test_what_a_passer_by_tells(make_tree, cast, written, asker):
    tell_of_tree(tree=make_tree("Anna"), words="A branch hangs.", now=NOW)
    assert whats(written) == {Told.TREE_TOLD_OF}


def test_what_happens_to_members(site, cast, written, asker):
    owner, coordinator, grower, viewer = (
        Membership.objects.get(person=getattr(cast, role), orchard=site.orchard)
        for role in ("owner", "coordinator", "grower", "viewer")
    )
    for by, name in ((owner, "ines"), (coordinator, "ida")):
        _, token = make_invite(membership=by, role=Role.GROWER, note=name, now=NOW)
        accept_invite(token=token, person=Person.objects.create_user(name), now=NOW)
    for member in (grower, coordinator):
        change_role(by=owner, member_id=member.pk, role=Role.VIEWER, now=NOW)
    remove_member(by=owner, member_id=grower.pk, now=NOW)
    remove_member(by=owner, member_id=viewer.pk, now=NOW)
    assert whats(written) == {Told.INVITE_ACCEPTED, Told.ROLE_CHANGED, Told.REMOVED}


def test_a_forecast_that_is_silent(site, cast, written, asker):
    site.own_today = None
    site.save(update_fields=["own_today"])
    choose_source(site=site, key="us")
    for number in range(8):
        now = NOW + number * DAY
        fetch = take_lease(SeriesFetch.objects.get().pk, now)
        keep_failure(
            fetch=fetch, words="Silence.", memory={}, is_lasting=False, now=now
        )
    assert whats(written) == {Told.FORECAST_SILENT}
