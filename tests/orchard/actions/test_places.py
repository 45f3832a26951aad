from datetime import date, timedelta

import pytest
from django.db import IntegrityError, transaction

from orchard.actions.places import (
    add_site,
    begin_orchard,
    block_named,
    change_site,
    live_on,
)
from orchard.actions.watering_rules import RuleValues
from orchard.actions.weather import import_days
from orchard.models import FeedingBlackout, Orchard, Site, WateringRule
from tests.conftest import TODAY

PLACE = {"name": "South wall", "latitude_deg": 1.0, "longitude_deg": 2.0}


def revision(site):
    return Site.objects.get(pk=site.pk).revision


def test_an_orchard_begins_with_its_site_or_not_at_all(cast):
    site = begin_orchard(
        person=cast.grower, orchard_name="Quay Steps Garden", site_values=PLACE
    )
    assert site.orchard.memberships.get().role == "owner"
    with pytest.raises(IntegrityError), transaction.atomic():
        begin_orchard(
            person=cast.grower,
            orchard_name="Nowhere",
            site_values={**PLACE, "latitude_deg": 91.0},
        )
    assert not Orchard.objects.filter(name="Nowhere").exists()


def test_sites_of_one_name_get_addresses_of_their_own(site):
    slugs = {add_site(orchard=site.orchard, values=PLACE).slug for _ in range(3)}
    assert slugs == {"south-wall", "south-wall-2", "south-wall-3"}
    assert (
        add_site(orchard=site.orchard, values={**PLACE, "name": "果樹"}).slug == "site"
    )


def test_changing_a_site_raises_the_revision_by_one(site):
    before = revision(site)
    change_site(site=site, values={"soil_texture": "clay", "frost_margin_c": 2.0})
    assert revision(site) == before + 1
    assert Site.objects.get(pk=site.pk).soil_texture == "clay"


def test_facts_and_rules_change_together_or_not_at_all(cast, site):
    before = revision(site)
    spans = [(6, 1, 9, 30), (12, 15, 1, 15)]
    change_site(site=site, values={"name": "Alder Row"}, spans=spans, person=cast.owner)
    assert revision(site) == before + 1
    assert site.feeding_blackouts.filter(entered_by=cast.owner).count() == 2
    with pytest.raises(IntegrityError), transaction.atomic():
        change_site(
            site=site,
            values={"feed_nitrogen_percent": 0.0},
            spans=[],
            person=cast.owner,
        )
    assert site.feeding_blackouts.count() == 2
    assert revision(site) == before + 1


def test_a_rule_that_stays_keeps_who_entered_it(cast, site):
    change_site(site=site, values={}, spans=[(6, 1, 9, 30)], person=cast.owner)
    kept = site.feeding_blackouts.get()
    change_site(
        site=site,
        values={},
        spans=[(6, 1, 9, 30), (1, 1, 2, 1)],
        person=cast.coordinator,
    )
    assert FeedingBlackout.objects.get(pk=kept.pk).entered_by == cast.owner
    change_site(site=site, values={}, spans=[])
    assert not site.feeding_blackouts.exists()


def test_a_block_is_made_once(site):
    before = revision(site)
    patio = block_named(site=site, name="Patio")
    assert revision(site) == before + 1
    assert block_named(site=site, name="Patio") == patio
    assert revision(site) == before + 1
    assert patio.position == 1


def test_a_demonstration_lives_on_by_days(site):
    before = revision(site)
    assert live_on(site=site, days=7) == date(2025, 7, 9)
    assert revision(site) == before + 1


def test_a_site_that_lives_by_the_clock_does_not(site):
    Site.objects.filter(pk=site.pk).update(own_today=None)
    with pytest.raises(ValueError, match="demonstration"):
        live_on(site=site, days=1)


def test_a_demonstration_stops_at_the_end_of_its_record(site):
    end = TODAY + timedelta(days=3)
    import_days(site=site, days=[(end, {"rain_mm": 0.0})], label="x", person=None)
    assert live_on(site=site, days=7) == end
    assert live_on(site=site, days=1) == end


def wednesdays(**changes):
    return RuleValues(**{"start_month": 5, "start_day": 1, "end_month": 9, **changes})


def test_watering_rules_are_kept_changed_and_dropped(cast, site):
    rule = wednesdays(end_day=30, weekdays="2", source="County order 7")
    change_site(site=site, values={}, watering_rules=[rule, rule], person=cast.owner)
    kept = site.watering_rules.get()
    assert (kept.weekdays, kept.entered_by) == ("2", cast.owner)
    other = wednesdays(end_day=15, spares_hand_watering=True)
    change_site(
        site=site, values={}, watering_rules=[rule, other], person=cast.coordinator
    )
    assert WateringRule.objects.get(pk=kept.pk).entered_by == cast.owner
    change_site(site=site, values={"name": "Alder Row"})
    assert site.watering_rules.count() == 2
    change_site(site=site, values={}, watering_rules=[])
    assert not site.watering_rules.exists()


def test_the_trail_tells_what_a_watering_rule_was(cast, site):
    rule = wednesdays(end_day=30, weekdays="25", spares_containers=True)
    change_site(site=site, values={}, watering_rules=[rule], person=cast.owner)
    entry = site.orchard.audit.latest("id")
    assert entry.what == "site_changed"
    assert entry.after["watering_rules"] == ["1/5 to 30/9: Wed, Sat, free: pots"]
    change_site(site=site, values={}, watering_rules=[], person=cast.owner)
    assert site.orchard.audit.latest("id").after["watering_rules"] == []
