"""Whatever a page changes stands in the trail, with who did it and what it was."""

from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from care.models import Task
from orchard.models import AuditEntry, WeatherBatch
from tests.conftest import TODAY
from tests.orchard.plain_page import page_of

YESTERDAY = TODAY - timedelta(days=1)
FILE = b"date,tmin_c,tmax_c,rain_mm\n2025-06-01,8,20,0\n2025-06-02,9,21,4.5\n"
THREE = {"species": "apple", "grows_in": "ground", "planted": "2024-03-15"}
NORMALS = {
    f"{name}_{month}": value
    for month in range(1, 13)
    for name, value in (("tmin", "4"), ("tmax", "14"), ("rain", "70"))
}


@pytest.fixture
def browser(cast, client_of):
    return client_of(cast.owner)


@pytest.fixture
def address(site):
    return lambda name, *more: reverse(name, args=[site.slug, *more])


@pytest.fixture
def trail(cast, site):
    """Return what was noted since, after checking that it names who did it."""
    seen = set(AuditEntry.objects.values_list("pk", flat=True))

    def read():
        found = AuditEntry.objects.exclude(pk__in=seen).order_by("id")
        assert {entry.person for entry in found} <= {cast.owner}
        assert {entry.orchard for entry in found} <= {site.orchard}
        seen.update(entry.pk for entry in found)
        return [(e.what, e.subject, e.before, e.after) for e in found]

    return read


def boxes(page):
    form = max(page.forms, key=lambda each: len(each.fields))
    return dict(form.form_values())


def test_a_tree_entered_and_changed(browser, address, trail, site):
    browser.post(address("tree_add"), {**THREE, "name": "Old Tom"})
    ((what, subject, before, after),) = trail()
    assert (what, subject, before) == ("tree_added", "Old Tom", {})
    assert after["species_key"] == "apple"
    assert after["planted_on"] == "2024-03-15"
    assert None not in after.values()
    assert "name" not in after  # the subject says it
    edit = address("tree_edit", site.trees.get().public_id)
    browser.post(edit, {**boxes(page_of(browser.get(edit))), "crown_width_m": "2.5"})
    ((what, subject, before, after),) = trail()
    assert (what, subject) == ("tree_changed", "Old Tom")
    assert (before["crown_width_m"], after["crown_width_m"]) == (None, 2.5)
    assert set(before) == set(after) == {"crown_width_m"}


def test_a_tree_saved_as_it_was_is_no_change(browser, address, trail, site):
    browser.post(address("tree_add"), {**THREE, "block_name": "Patio"})
    trail()
    edit = address("tree_edit", site.trees.get().public_id)
    browser.post(edit, boxes(page_of(browser.get(edit))))
    assert trail() == []


def test_a_tree_renamed_is_told_by_its_old_name(browser, address, trail, site):
    browser.post(address("tree_add"), {**THREE, "name": "Old Tom"})
    trail()
    edit = address("tree_edit", site.trees.get().public_id)
    browser.post(edit, {**boxes(page_of(browser.get(edit))), "name": "Tom"})
    assert trail() == [
        ("tree_changed", "Old Tom", {"name": "Old Tom"}, {"name": "Tom"})
    ]


def test_a_pot_and_where_it_stands(browser, address, trail):
    pot = {**THREE, "species": "lemon", "grows_in": "pot", "container_litres": "60"}
    browser.post(address("tree_add"), {**pot, "place": "indoors_unheated"})
    ((_, _, _, after),) = trail()
    assert after["container_litres"] == 60.0
    assert (after["stands"], after["stands_since"]) == ("indoors_unheated", str(TODAY))


def test_a_pasted_list(browser, address, trail):
    pasted = "Old Tom, apple, ground, 1998\nFig, fig, ground, 2001"
    url = address("trees_paste")
    page = page_of(browser.post(url, {"pasted": pasted}))
    seen = page.xpath("//input[@name='seen']/@value")[0]
    values = {"pasted": pasted, "block_name": "Patio", "seen": seen, "enter": "1"}
    browser.post(url, values)
    assert trail() == [
        ("trees_added", "2", {}, {"trees": ["Old Tom", "Fig"], "block": "Patio"})
    ]


def test_the_settings_of_a_place_and_their_spans_without_feed(browser, address, trail):
    url = address("site_settings")
    values = boxes(page_of(browser.get(url)))
    browser.post(url, values)
    assert trail() == []
    browser.post(url, {**values, "name": "Alder Row", "soil_texture": "clay"})
    assert trail() == [
        (
            "site_changed",
            "Test site",
            {"name": "Test site", "soil_texture": "sandy_loam"},
            {"name": "Alder Row", "soil_texture": "clay"},
        )
    ]


def test_a_reading_written_twice_and_removed(browser, address, trail):
    url, day = address("weather"), str(YESTERDAY)
    browser.post(url, {"day": day, "rain_mm": "3"})
    browser.post(url, {"day": day, "rain_mm": "4"})
    browser.post(url, {"day": day, "rain_mm": "4"})
    browser.post(url, {"day": day, "remove": "reading"})
    browser.post(url, {"day": day, "remove": "reading"})
    first, second, removed = trail()
    assert first[:2] == ("reading_typed", day)
    assert first[3]["rain_mm"] == 3.0
    assert second == ("reading_typed", day, {"rain_mm": 3.0}, {"rain_mm": 4.0})
    assert removed == ("reading_taken_back", day, {"rain_mm": 4.0}, {})


def test_what_tonight_may_bring(browser, address, trail):
    url = address("weather")
    browser.post(url, {"tonight-tonight_c": "-3", "tonight": "1"})
    browser.post(url, {"remove": "tonight"})
    typed, removed = trail()
    subject = f"{TODAY}, as expected on {TODAY}"
    assert typed == ("reading_typed", subject, {"tmin_c": None}, {"tmin_c": -3.0})
    assert removed == ("reading_taken_back", subject, {"tmin_c": -3.0}, {})


def test_a_clear_evening(browser, address, trail):
    url, on = address("weather"), str(TODAY)
    typed = {"evening-on": on, "evening-air_c": "4", "evening-dew_point_c": "1"}
    browser.post(url, {**typed, "evening": "1"})
    browser.post(url, {"evening-on": on, "on": on, "remove": "evening"})
    logged, removed = trail()
    assert logged[0] == "evening_logged"
    assert logged[3] == {"air_c": 4.0, "dew_point_c": 1.0}
    assert removed == ("evening_taken_back", on, logged[3], {})


def test_a_stations_file_imported_and_taken_back(browser, address, trail):
    url = address("weather_import")
    page = page_of(browser.post(url, {"file": SimpleUploadedFile("station.csv", FILE)}))
    browser.post(url, {**boxes(page), "import": "1"})
    browser.post(address("weather_take_back", WeatherBatch.objects.get().pk))
    assert trail() == [
        ("weather_imported", "station.csv", {}, {"days": 2}),
        ("weather_taken_back", "station.csv", {"days": 2}, {}),
    ]


def test_the_usual_months(browser, address, trail):
    url = address("weather_normals")
    browser.post(url, NORMALS)
    browser.post(url, NORMALS)
    browser.post(url, {**NORMALS, "rain_5": "80"})
    first, second = trail()
    assert first[:2] == ("normals_set", "Test site")
    assert first[3]["tmin_c"] == [4.0] * 12
    assert set(second[3]) == {"rain_mm"}
    assert (second[2]["rain_mm"][4], second[3]["rain_mm"][4]) == (70.0, 80.0)


def test_a_day_lived_on(browser, address, trail):
    browser.post(address("live_on"), {"days": "1"})
    tomorrow = str(TODAY + timedelta(days=1))
    assert trail() == [
        ("day_moved_on", "Test site", {"day": str(TODAY)}, {"day": tomorrow})
    ]


def test_a_fact_answered_on_a_tasks_page(browser, address, trail, site, make_tree):
    tree = make_tree()  # entered by no page, so by the server
    AuditEntry.objects.filter(person=None).delete()
    task = Task.objects.create(
        site=site,
        tree=tree,
        kind="feeding",
        key="next",
        action="check",
        earliest=TODAY,
        due=TODAY,
        latest=TODAY,
        reason={"code": "feed_ask_past", "facts": [], "would_change": []},
    )
    browser.post(address("task_answer", task.public_id), {"answer": "yes"})
    assert trail() == [
        ("tree_changed", tree.name, {"fed_before": "unknown"}, {"fed_before": "yes"})
    ]


def test_a_calendar_link_made_and_closed(browser, address, trail):
    browser.post(address("calendar_links"), {"label": "My phone"})
    page = page_of(browser.get(address("calendar_links")))
    close = page.xpath("//form[contains(@action, 'revoke')]/@action")[0]
    browser.post(close)
    browser.post(close)
    assert trail() == [
        ("calendar_link_made", "My phone", {}, {}),
        ("calendar_link_closed", "My phone", {}, {}),
    ]


def test_a_new_place_in_the_orchard_and_a_new_orchard(browser, cast, site, client_of):
    AuditEntry.objects.all().delete()
    place = {
        "latitude": "47",
        "longitude": "8",
        "elevation_m": "400",
        "soil_texture": "loam",
    }
    browser.post(
        "/start/",
        {**place, "orchard_name": "Upper field", "orchard": str(site.orchard.pk)},
    )
    newcomer = client_of(cast.viewer)
    newcomer.post("/start/", {**place, "orchard_name": "Own"})
    told = AuditEntry.objects.order_by("id").values_list(
        "what", "subject", "person__username", "orchard__name"
    )
    assert list(told) == [
        ("site_added", "Upper field", "owner", "Test orchard"),
        ("orchard_founded", "Own", "viewer", "Own"),
        ("site_added", "Own", "viewer", "Own"),
    ]
