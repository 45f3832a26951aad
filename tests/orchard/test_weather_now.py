"""The weather page's top, its drawing, its sources and what it doubts."""

from datetime import UTC, datetime, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from orchard.actions.station_keys import make_key, take_reading
from orchard.actions.weather import (
    import_days,
    read_series,
    set_normals,
    type_reading,
)
from orchard.models import (
    DoubtedValue,
    SeriesFetch,
    Site,
    WeatherBatch,
    WeatherDay,
    WeatherSeries,
)
from orchard.sources.station_push import PushedReading
from tests.conftest import TODAY
from tests.orchard.plain_page import one_error, page_of, text_of

DAY = timedelta(days=1)
NORMALS = [(month, 5.0, 15.0, 60.0) for month in range(1, 13)]


@pytest.fixture
def browser(cast, client_of):
    return client_of(cast.grower)


@pytest.fixture
def url(site):
    return reverse("weather", args=[site.slug])


def words_of(browser, url):
    return text_of(page_of(browser.get(url)))


def station_file(site, cast, first=1, count=14, **changed):
    days = [
        (
            TODAY - number * DAY,
            {
                "tmin_c": 9.0 + number % 3,
                "tmax_c": 21.0 + number % 2,
                "rain_mm": 0.0,
                **changed.get(f"day_{number}", {}),
            },
        )
        for number in range(first, first + count)
    ]
    return import_days(site=site, days=days, label="s.csv", person=cast.owner)


def forecast(site, days, issued_on=TODAY):
    series = WeatherSeries.objects.create(owner=site, kind="forecast", name="Service")
    read_series(site=site, series=series)
    batch = WeatherBatch.objects.create(series=series, label="issued")
    for ahead, (low, high, rain) in enumerate(days):
        WeatherDay.objects.create(
            batch=batch,
            day=TODAY + ahead * DAY,
            issued_on=issued_on,
            tmin_c=low,
            tmax_c=high,
            rain_mm=rain,
        )
    return series


def test_today_tonight_and_what_comes_stand_first_in_words(browser, site, url):
    forecast(
        site, [(12.0, 24.0, 3.0), (1.5, 20.0, 0.0), (8.0, 33.0, 0.0), (-2.0, 9.0, 22.0)]
    )
    words = words_of(browser, url)
    assert "Today likely up to 24 °C. 3 mm of rain likely." in words
    assert "Tonight likely down to 1.5 °C. Frost on the ground is possible" in words
    assert "Cold on the morning of Saturday: likely -2 °C." in words
    assert "Hot on Friday: likely 33 °C." in words
    assert "22 mm of rain likely on Saturday." in words


def test_a_dry_mild_forecast_is_said_in_two_sentences(browser, site, url):
    forecast(site, [(12.0, 24.0, 0.0), (11.0, 20.0, 0.0)])
    words = words_of(browser, url)
    assert "Today likely up to 24 °C. No rain likely today." in words
    assert "Tonight likely down to 11 °C." in words
    assert "Frost on the ground" not in words


def test_only_usual_weather_is_called_that(browser, site, url):
    set_normals(site=site, months=NORMALS)
    page = page_of(browser.get(url))
    assert "No forecast. Usual for the time of year: 5 °C to 15 °C." in text_of(page)
    assert page.xpath("//*[contains(@class, 'chart__day--usual')]")
    assert not page.xpath("//*[contains(@class, 'chart__day--measured')]")


def test_the_gauge_takes_one_number_and_one_press(browser, url):
    assert (
        browser.post(url, {"rain_mm": "6,5", "gauge": "yesterday"}).status_code == 302
    )
    browser.post(url, {"rain_mm": "2", "gauge": "today"})
    rows = dict(WeatherDay.objects.values_list("day", "rain_mm"))
    assert rows == {TODAY - DAY: 6.5, TODAY: 2.0}
    answer = browser.post(url, {"rain_mm": "much", "gauge": "today"})
    one_error(answer, "“much” is not a number")
    assert "Rain read today: 2 mm." in words_of(browser, url)


def test_forecast_measured_and_usual_are_drawn_and_named_apart(
    browser, cast, site, url
):
    station_file(site, cast)
    set_normals(site=site, months=NORMALS)
    forecast(site, [(12.0, 24.0, 3.0)] * 4)
    page = page_of(browser.get(url))
    words = page.xpath("//*[contains(@class, 'chart')]//*[@class='chart__name']/text()")
    assert words == ["measured", "likely", "usual"]
    likely = page.xpath("//*[contains(@class, 'chart__day--likely')]/@fill")
    assert set(likely) == {"url(#hatch)"}


def test_each_source_says_how_old_it_is_the_most_trusted_first(
    browser, cast, site, url
):
    station_file(site, cast, first=3)
    type_reading(site=site, day=TODAY - DAY, values={"rain_mm": 1.0}, person=None)
    make_key(
        site=site, name="Roof", wind_height_m=2.0, person=cast.owner, now=timezone.now()
    )
    set_normals(site=site, months=NORMALS)
    service = forecast(site, [(12.0, 24.0, 3.0)])
    SeriesFetch.objects.create(
        series=service, fetched_at=timezone.now() - timedelta(hours=50)
    )
    page = page_of(browser.get(url))
    lines = [
        tuple(line.xpath(".//span/span/text()"))
        for line in page.xpath("//section[@aria-labelledby='sources']/ol/li")
    ]
    assert lines[:4] == [
        ("Readings typed in", "up to yesterday"),
        ("Station Roof", "not heard yet"),
        ("Station file", "3 days old"),
        ("Twelve usual months", "where nothing else is known"),
    ]
    assert lines[4][0] == "Service"
    assert lines[4][1].startswith("forecast of ")
    assert lines[4][1].endswith(", 2 days ago")


def test_silence_of_days_is_said_with_its_length(browser, cast, site, url):
    station_file(site, cast, first=8)
    set_normals(site=site, months=NORMALS)
    assert "Nothing was measured here for 7 days." in words_of(browser, url)


def test_what_the_station_says_now_stands_first(browser, cast, site, url):
    Site.objects.filter(pk=site.pk).update(own_today=None)
    key, _ = make_key(
        site=site, name="Roof", wind_height_m=2.0, person=cast.owner, now=timezone.now()
    )
    now = timezone.now()
    reading = PushedReading(now - timedelta(minutes=6), temp_c=8.4, rain_day_mm=5.2)
    take_reading(key=key, reading=reading, now=now)
    words = words_of(browser, url)
    assert "8.4 °C at Roof, 6 minutes ago." in words
    day = WeatherDay.objects.get()
    assert day.issued_on == day.day
    if day.day == site.today(now):
        assert "5.2 mm of rain so far today." in words


def test_a_doubt_is_shown_with_its_reason_and_two_answers(browser, cast, site, url):
    station_file(site, cast, count=60, day_9={"tmin_c": -30.0})
    page = page_of(browser.get(url))
    words = text_of(page)
    assert "Mon 23 June 2025: lowest -30 °C" in words
    assert "It stands alone against the days around it." in words
    answers = page.xpath("//button[@name='answer']/@value")
    assert answers == ["right", "wrong"]
    doubt = DoubtedValue.objects.get()
    settle = reverse("doubt_settle", args=[site.slug, doubt.pk])
    told = browser.post(settle, {"answer": "right"}, follow=True)
    assert "It counts from now on." in text_of(page_of(told))
    assert WeatherDay.objects.get(day=doubt.day).tmin_c == -30.0
    assert browser.post(settle, {"answer": "wrong"}).status_code == 404


def test_an_answer_that_cannot_be_is_refused_in_words(browser, cast, site, url):
    station_file(site, cast, day_9={"tmin_c": 14.0, "tmax_c": 12.0})
    for doubt in DoubtedValue.objects.order_by("variable"):
        settle = reverse("doubt_settle", args=[site.slug, doubt.pk])
        told = browser.post(settle, {"answer": "right"}, follow=True)
    assert "would be below its lowest" in text_of(page_of(told))


def test_many_doubts_come_a_few_at_a_time(browser, cast, site, url):
    odd = {f"day_{n}": {"rain_mm": 900.0 + n} for n in range(1, 8)}
    station_file(site, cast, **odd)
    assert "And 3 more; they come up here as you answer." in words_of(browser, url)


def test_a_value_that_came_day_after_day_is_one_question(browser, cast, site, url):
    stuck = {f"day_{n}": {"tmin_c": 9.4} for n in range(2, 14)}
    station_file(site, cast, **stuck)
    words = words_of(browser, url)
    assert "12 days to Mon 30 June 2025: lowest 9.4 °C" in words
    assert words.count("It is right") == 1
    doubt = DoubtedValue.objects.filter(settled_at=None)[0]
    settle = reverse("doubt_settle", args=[site.slug, doubt.pk])
    browser.post(settle, {"answer": "right"})
    assert not DoubtedValue.objects.filter(settled_at=None).exists()
    assert WeatherDay.objects.filter(tmin_c=9.4).count() == 12


def test_who_may_not_write_sees_the_doubt_without_buttons(cast, client_of, site, url):
    station_file(site, cast, count=60, day_9={"tmin_c": -30.0})
    page = page_of(client_of(cast.viewer).get(url))
    assert "Can this be right?" in text_of(page)
    assert not page.xpath("//button[@name='answer']")


def test_imports_are_shown_a_few_at_a_time(browser, cast, site, url):
    for _ in range(12):
        station_file(site, cast)
    page = page_of(browser.get(url))
    assert len(page.xpath("//details[summary='Imported files']/ul/li")) == 5
    older = page.xpath("//a[text()='Older imports']/@href")[0]
    page = page_of(browser.get(url + older.split("#")[0]))
    assert len(page.xpath("//details[@open][summary='Imported files']/ul/li")) == 5
    assert browser.get(f"{url}?before=x").status_code == 200


def test_the_page_asks_the_database_no_more_often_however_much_is_known(
    browser, cast, site, url
):
    def queries():
        with CaptureQueriesContext(connection) as found:
            browser.get(url)
        return len(found)

    station_file(site, cast, count=60, day_9={"tmin_c": -30.0})
    set_normals(site=site, months=NORMALS)
    service = forecast(site, [(12.0, 24.0, 3.0)] * 5)
    SeriesFetch.objects.create(
        series=service, fetched_at=datetime(2025, 7, 2, tzinfo=UTC)
    )
    before = queries()
    for number in range(4):
        station_file(site, cast, count=200)
        make_key(
            site=site,
            name=f"Roof {number}",
            wind_height_m=2.0,
            person=cast.owner,
            now=timezone.now(),
        )
        type_reading(
            site=site, day=TODAY - number * DAY, values={"rain_mm": 1.0}, person=None
        )
    assert queries() == before <= 24
