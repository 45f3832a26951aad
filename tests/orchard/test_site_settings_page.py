from datetime import date

import pytest
from django.urls import reverse

from orchard.actions.people import choose_units
from orchard.actions.places import change_site
from orchard.models import Site
from tests.orchard.plain_page import one_error, page_of, text_of


@pytest.fixture
def browser(cast, client_of):
    return client_of(cast.owner)


@pytest.fixture
def url(site):
    return reverse("site_settings", args=[site.slug])


def boxes(browser, url):
    page = page_of(browser.get(url))
    form = max(page.forms, key=lambda each: len(each.fields))
    return dict(form.form_values())


def stored(site):
    return Site.objects.get(pk=site.pk)


def spans(site):
    return set(
        site.feeding_blackouts.values_list(
            "start_month", "start_day", "end_month", "end_day"
        )
    )


def test_saving_unchanged_changes_nothing_but_the_revision(browser, url, site):
    before = Site.objects.values().get(pk=site.pk)
    assert browser.post(url, boxes(browser, url)).url == url
    after = Site.objects.values().get(pk=site.pk)
    assert after.pop("revision") == before.pop("revision") + 1
    assert after == before


def test_a_site_is_changed(browser, url, site):
    changed = {
        "name": "Alder Row",
        "latitude_deg": "-33,9",
        "soil_texture": "clay",
        "time_zone": "europe/lisbon",
        "last_frost_0": "2",
        "last_frost_1": "29",
        "frost_margin_c": "2",
        "feed_nitrogen_percent": "5 %",
        "local_rules": "Water on even days only.",
    }
    browser.post(url, {**boxes(browser, url), **changed})
    found = stored(site)
    assert (found.name, found.latitude_deg) == ("Alder Row", -33.9)
    assert (found.soil_texture, found.time_zone) == ("clay", "Europe/Lisbon")
    assert (found.last_frost_month, found.last_frost_day) == (2, 29)
    assert (found.frost_margin_c, found.feed_nitrogen_percent) == (2.0, 5.0)
    assert found.slug == site.slug  # addresses and calendar links keep working


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"name": ""}, "This field is required"),
        ({"latitude_deg": "91"}, "from -90 to 90"),
        ({"longitude_deg": "west"}, "“west” is not a number"),
        ({"elevation_m": "9000"}, "must be from -430 m to 6000 m"),
        ({"time_zone": "Mars/Base"}, "“Mars/Base” is not a time zone"),
        ({"time_zone": "../etc/passwd"}, "is not a time zone"),
        ({"soil_texture": "moon"}, "Select a valid choice"),
        ({"last_frost_0": "2", "last_frost_1": "30"}, "no such day in that month"),
        ({"last_frost_0": "2", "last_frost_1": ""}, "write the day as a number"),
        ({"first_frost_0": "3", "first_frost_1": "20"}, "cannot be on one day"),
        ({"frost_margin_c": "20"}, "20 °C cannot be right"),
        ({"feed_nitrogen_percent": "0"}, "from 0.1 to 46"),
        ({"feed_nitrogen_percent": "50"}, "from 0.1 to 46"),
        ({"soil_ph": "6,2"}, "On which day was the soil sampled?"),
        ({"soil_nitrogen": "half"}, "On which day was the soil sampled?"),
        ({"soil_tested_on": "2025-07-03"}, "still to come; today is 2025-07-02"),
        ({"soil_tested_on": "2025-06-01", "soil_ph": "12"}, "from 3 to 10"),
        ({"hose_bucket_l": "10"}, "How many seconds did it take to fill?"),
        ({"hose_bucket_s": "30"}, "How much does the bucket hold?"),
        ({"hose_bucket_l": "10", "hose_bucket_s": "0"}, "from 1 to 7200"),
        ({"feed_measure_g": "9000"}, "must be from 20 g to 200 g"),
        ({"water_setback_m": "-3"}, "must be from 0 m to 200 m"),
        ({"span0-starts_0": "6", "span0-starts_1": "1"}, "Give both days"),
        ({"span0-starts_0": "13", "span0-starts_1": "1"}, "no such day"),
    ],
)
def test_a_mistake_is_named_and_nothing_is_lost_or_saved(
    browser, url, site, changed, words
):
    before = Site.objects.values().get(pk=site.pk)
    kept = {"feed_product_name": "Fish meal"}
    answer = browser.post(url, {**boxes(browser, url), **kept, **changed})
    one_error(answer, words)
    page = page_of(answer)
    assert page.xpath("//input[@name='feed_product_name']/@value") == ["Fish meal"]
    assert Site.objects.values().get(pk=site.pk) == before
    assert spans(site) == set()


def test_where_it_never_freezes_there_are_no_frost_dates(browser, url, site):
    browser.post(url, {**boxes(browser, url), "is_frost_free": "on"})
    found = stored(site)
    assert found.is_frost_free
    assert (found.last_frost_month, found.first_frost_day) == (None, None)


def test_feeding_is_forbidden_and_allowed_again(browser, url, site):
    span = {
        "span0-starts_0": "12",
        "span0-starts_1": "15",
        "span0-ends_0": "1",
        "span0-ends_1": "31",
    }
    browser.post(url, {**boxes(browser, url), **span})
    assert spans(site) == {(12, 15, 1, 31)}
    browser.post(url, boxes(browser, url))
    assert spans(site) == {(12, 15, 1, 31)}
    browser.post(url, {**boxes(browser, url), **dict.fromkeys(span, "")})
    assert spans(site) == set()


def test_local_rules_are_the_owners_to_change(cast, client_of, url, site):
    change_site(site=site, values={}, spans=[(6, 1, 9, 30)], person=cast.owner)
    browser = client_of(cast.coordinator)
    page = page_of(browser.get(url))
    assert "No feeding from 1 June to 30 September" in text_of(page)
    assert not page.xpath("//textarea[@name='local_rules']")
    sly = {"local_rules": "None!", "span0-starts_0": "", "soil_texture": "sand"}
    browser.post(url, {**boxes(browser, url), **sly})
    assert stored(site).soil_texture == "sand"
    assert stored(site).local_rules == ""
    assert spans(site) == {(6, 1, 9, 30)}


def test_us_settings_are_in_us_units(browser, cast, url, site):
    choose_units(person=cast.owner, units="us")
    sent = boxes(browser, url)
    # 1.7 degC is a step of 3.06 degF; 120 m is 393.7 ft (1 ft = 0.3048 m).
    assert (sent["frost_margin_c"], sent["elevation_m"]) == ("3.06", "393.7")
    browser.post(url, {**sent, "frost_margin_c": "5"})
    found = stored(site)
    assert found.frost_margin_c == pytest.approx(25 / 9)
    assert found.elevation_m == 120.0


def test_soils_are_described_in_words(browser, url):
    assert "Loam: a little gritty and a little smooth" in text_of(
        page_of(browser.get(url))
    )


SOIL_AND_WATER = {
    "soil_tested_on": "2025-05-20",
    "soil_ph": "6,2",
    "soil_nitrogen": "half",
    "hose_bucket_l": "10",
    "hose_bucket_s": "40",
    "is_water_salty": "on",
    "has_high_water_table": "on",
    "water_setback_m": "3",
    "feed_measure_g": "95",
}


def test_soil_test_hose_and_water_are_kept(browser, url, site):
    browser.post(url, {**boxes(browser, url), **SOIL_AND_WATER})
    found = stored(site)
    assert (found.soil_tested_on, found.soil_ph) == (date(2025, 5, 20), 6.2)
    assert found.soil_nitrogen == "half"
    assert found.hose_flow_l_per_min == pytest.approx(15.0)  # 10 L in 40 s
    assert (found.is_water_salty, found.has_high_water_table) == (True, True)
    assert found.water_setback_m == 3.0
    assert found.feed_density_g_per_ml == pytest.approx(0.95)
    words = text_of(page_of(browser.get(url)))
    assert "So far: 15 L a minute" in words


def test_saving_soil_and_water_unchanged_changes_nothing(browser, cast, url, site):
    browser.post(url, {**boxes(browser, url), **SOIL_AND_WATER})
    before = Site.objects.values().get(pk=site.pk)
    for units in ("us", "metric"):
        choose_units(person=cast.owner, units=units)
        browser.post(url, boxes(browser, url))
    after = Site.objects.values().get(pk=site.pk)
    assert after.pop("revision") == before.pop("revision") + 2
    assert after == before


def test_what_is_emptied_is_forgotten(browser, url, site):
    browser.post(url, {**boxes(browser, url), **SOIL_AND_WATER})
    emptied = {name: "" for name in SOIL_AND_WATER if not name.startswith(("is_", "h"))}
    emptied |= {"hose_bucket_l": "", "hose_bucket_s": "", "soil_nitrogen": "usual"}
    sent = {**boxes(browser, url), **emptied}
    del sent["is_water_salty"], sent["has_high_water_table"]
    browser.post(url, sent)
    found = stored(site)
    assert (found.soil_tested_on, found.soil_ph, found.soil_nitrogen) == (
        None,
        None,
        "usual",
    )
    assert (found.hose_flow_l_per_min, found.feed_density_g_per_ml) == (None, None)
    assert not found.is_water_salty
    assert not found.has_high_water_table
    assert found.water_setback_m is None


def test_a_us_member_weighs_a_cup(browser, cast, url, site):
    choose_units(person=cast.owner, units="us")
    assert "One cup of it weighs (oz)" in text_of(page_of(browser.get(url)))
    browser.post(url, {**boxes(browser, url), "feed_measure_g": "8.3"})
    # NIST Handbook 44, appendix C: a cup is 8 fl oz, 236.59 mL; an ounce 28.3495 g.
    density = 8.3 * 28.3495 / 236.59
    assert stored(site).feed_density_g_per_ml == pytest.approx(density, rel=1e-4)


def test_the_distance_to_water_is_the_owners_to_change(cast, client_of, url, site):
    change_site(site=site, values={"water_setback_m": 5.0})
    browser = client_of(cast.coordinator)
    assert "No feeding nearer than 5 m to water" in text_of(page_of(browser.get(url)))
    browser.post(url, {**boxes(browser, url), "water_setback_m": "0"})
    assert stored(site).water_setback_m == 5.0


def test_what_is_offered_is_folded_and_a_mistake_unfolds_its_fold(browser, url):
    def folds(answer):
        return [
            (fold.find("summary").text, "open" in fold.attrib)
            for fold in page_of(answer).xpath("//details[contains(@class, 'fold')]")
        ]

    titles = ["Place", "Soil", "Water", "Frost", "Feeding", "Local rules"]
    shown = folds(browser.get(url))
    assert [title for title, _ in shown if title in titles] == titles
    assert not any(is_open for _, is_open in shown)
    wrong = folds(browser.post(url, {**boxes(browser, url), "soil_ph": "12"}))
    assert [title for title, is_open in wrong if is_open] == ["Soil"]


WATER = {
    "water0-starts_0": "11",
    "water0-starts_1": "15",
    "water0-ends_0": "2",
    "water0-ends_1": "28",
    "water0-weekdays": ["2", "5"],
    "water0-spares_containers": "on",
    "water0-source": "County order 7",
}


def watering_rules(site):
    return list(site.watering_rules.values_list("weekdays", "source"))


def test_watering_days_are_limited_and_freed_again(browser, url, site):
    browser.post(url, {**boxes(browser, url), **WATER})
    assert watering_rules(site) == [("25", "County order 7")]
    rule = site.watering_rules.get()
    assert (rule.start_month, rule.end_day) == (11, 28)
    assert (rule.spares_containers, rule.spares_hand_watering) == (True, False)
    kept = {**boxes(browser, url), "water0-weekdays": ["2", "5"]}
    browser.post(url, kept)
    assert site.watering_rules.get() == rule
    emptied = {key: "" for key in WATER if key != "water0-weekdays"}
    sent = {**kept, **emptied}
    for name in ("water0-weekdays", "water0-spares_containers"):
        sent.pop(name)
    browser.post(url, sent)
    assert watering_rules(site) == []


def test_no_weekday_ticked_means_no_water(browser, url, site):
    none = {key: value for key, value in WATER.items() if "weekdays" not in key}
    browser.post(url, {**boxes(browser, url), **none})
    assert watering_rules(site) == [("", "County order 7")]


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"water0-ends_0": "", "water0-ends_1": ""}, "From which day until which?"),
        ({"water0-starts_0": "2", "water0-starts_1": "30"}, "no such day"),
        ({"water0-weekdays": ["9"]}, "Select a valid choice"),
        ({"water0-weekdays": list("0123456")}, "forbids nothing"),
        ({"water0-source": "x" * 121}, "at most 120"),
    ],
)
def test_a_mistake_in_a_watering_rule_is_named(browser, url, site, changed, words):
    answer = browser.post(url, {**boxes(browser, url), **WATER, **changed})
    assert words in text_of(page_of(answer))
    opened = page_of(answer).xpath("//details[@id='watering-rules']/@open")
    assert opened in (["open"], [""])
    assert watering_rules(site) == []


def test_watering_rules_are_the_owners_to_change(cast, client_of, browser, url, site):
    browser.post(url, {**boxes(browser, url), **WATER})
    coordinator = client_of(cast.coordinator)
    words = text_of(page_of(coordinator.get(url)))
    assert (
        "From 15 November to 28 February water on Wednesday, Saturday only; "
        "watering of pots is free (County order 7)." in words
    )
    assert "Watering is free all year." not in words
    sly = {**boxes(coordinator, url), "water0-starts_0": "", "soil_texture": "sand"}
    coordinator.post(url, sly)
    assert watering_rules(site) == [("25", "County order 7")]
