import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from orchard.actions.people import choose_units
from orchard.models import WeatherBatch, WeatherDay
from tests.orchard.plain_page import errors_of, one_error, page_of, text_of
from tests.orchard.sources.answers import fixture

HEAD = "STATION,DATE,LATITUDE,LONGITUDE,ELEVATION,NAME,PRCP,TMAX,TMIN,AWND\n"
ROWS = HEAD + (
    'USW00000001,2025-06-01,{at},112.5,"A FIELD, WA US",25,144,33,40\n'
    'USW00000001,2025-06-02,{at},112.5,"A FIELD, WA US",0,150,41,40\n'
)


@pytest.fixture
def browser(cast, client_of):
    return client_of(cast.coordinator)


@pytest.fixture
def url(site):
    site.latitude_deg, site.longitude_deg, site.elevation_m = 47.45, -122.31, 100.0
    site.save()
    return reverse("weather_import", args=[site.slug])


def send(browser, url, text, name="station.csv"):
    data = text if isinstance(text, bytes) else text.encode()
    return browser.post(url, {"file": SimpleUploadedFile(name, data)})


def boxes(page):
    form = max(page.forms, key=lambda each: len(each.fields))
    return dict(form.form_values())


def kept():
    return list(
        WeatherDay.objects.order_by("day").values_list("tmin_c", "tmax_c", "rain_mm")
    )


def test_a_station_nearby_is_looked_at_and_imported(browser, url):
    page = page_of(send(browser, url, ROWS.format(at="47.50,-122.30")))
    words = text_of(page)
    assert "It stands 6 km from here." in words
    assert "2 days, 1 Jun 2025 to 2 Jun 2025" in words
    assert boxes(page)["units"] == "tenths"
    assert not WeatherDay.objects.exists()
    assert browser.post(url, {**boxes(page), "import": "1"}).status_code == 302
    assert kept() == [(3.3, 14.4, 2.5), (4.1, 15.0, 0.0)]
    assert WeatherBatch.objects.get().label == "GHCN-Daily USW00000001 A FIELD, WA US"
    # FAO-56, equation 47: 4 m/s at 10 m are 2.99 m/s at 2 m.
    assert WeatherDay.objects.first().wind_ms == pytest.approx(2.99, abs=0.01)


def test_a_station_far_away_needs_a_tick(browser, cast, url):
    page = page_of(send(browser, url, ROWS.format(at="51.05,-122.30")))
    words = text_of(page)
    assert "It stands 400 km from here." in words
    assert "its rain and its frosts are another place's" in words
    answer = browser.post(url, {**boxes(page), "import": "1"})
    one_error(answer, "Tick this")
    assert not WeatherDay.objects.exists()
    ticked = {**boxes(page_of(answer)), "accept": "on", "import": "1"}
    assert browser.post(url, ticked).status_code == 302
    choose_units(person=cast.coordinator, units="us")
    assert "249 miles" in text_of(
        page_of(send(browser, url, ROWS.format(at="51.05,-122.30")))
    )


def test_a_station_high_above_needs_a_tick(browser, url):
    text = ROWS.format(at="47.50,-122.30").replace("112.5", "1300.0")
    page = page_of(send(browser, url, text))
    assert "It stands 1200 m higher than this place: colder air." in text_of(page)
    one_error(browser.post(url, {**boxes(page), "import": "1"}), "Tick this")


def test_units_that_nobody_can_tell_are_asked(browser, url):
    text = HEAD + 'USW00000001,2025-06-01,,,,"A FIELD",0,66,50,\n'
    page = page_of(send(browser, url, text))
    assert "In which units are the numbers?" in errors_of(page)
    answer = browser.post(url, {**boxes(page), "units": "us", "import": "1"})
    # Not looked at yet, so not kept.
    page = page_of(answer)
    assert "The file does not say where the station stands." in text_of(page)
    assert "10 °C" in text_of(page)
    browser.post(url, {**boxes(page), "import": "1"})
    assert kept() == [(10.0, pytest.approx(18.89, abs=0.01), 0.0)]


def test_the_nearest_of_several_stations_is_offered(browser, url):
    text = ROWS.format(at="49.00,-122.30") + (
        'USC00000002,2025-06-01,47.46,-122.31,100,"NEAR FIELD",51,144,33,\n'
    )
    page = page_of(send(browser, url, text))
    assert boxes(page)["station"] == "USC00000002"
    other = browser.post(url, {**boxes(page), "station": "USW00000001"})
    assert "It stands 172 km from here." in text_of(page_of(other))


def test_what_the_flags_left_out_is_told(browser, url):
    words = text_of(page_of(send(browser, url, fixture("ghcn_rows.csv"), "x.csv")))
    assert "1 value that failed the archive's own check: out of bounds." in words
    assert "1 day with a trace of rain" in words
    none = "-9999   "
    line = "USW00024233202502MDPR  300   " + none * 30
    page = page_of(send(browser, url, line, "x.dly"))
    assert "Rain of 1 day that was read together with that of other days" in text_of(
        page
    )
    assert not page.xpath("//button[@name='import']")
    one_error(send(browser, url, line[:33], "x.dly"), "cut off within a value")


def test_a_list_of_stations_shows_the_nearest(browser, url):
    page = page_of(send(browser, url, fixture("ghcnd_stations.txt"), "list.txt"))
    cells = [" ".join(row.text_content().split()) for row in page.xpath("//tbody/tr")]
    assert cells[0].startswith("NEAR FIELD WA USW00000001 1 km 10 m higher")
    assert cells[2].endswith("not known")


def test_several_rows_a_day_are_folded(browser, url):
    lines = [f"2025-06-0{day},{h:02}:00,{h},0.1" for day in (1, 2) for h in range(24)]
    page = page_of(send(browser, url, "date,time,temp_c,rain_mm\n" + "\n".join(lines)))
    assert boxes(page)["rows"] == "several"
    browser.post(url, {**boxes(page), "import": "1"})
    assert kept()[0] == (0.0, 23.0, pytest.approx(2.4))


def test_wind_needs_its_height(browser, url):
    page = page_of(send(browser, url, "date,tmin,tmax,rain,wind\n2025-06-01,1,2,3,4\n"))
    assert "How high above the ground is it?" in errors_of(page)
    page = page_of(browser.post(url, {**boxes(page), "wind_height": "10"}))
    browser.post(url, {**boxes(page), "import": "1"})
    assert WeatherDay.objects.get().wind_ms == pytest.approx(2.99, abs=0.01)


def test_strange_units_need_a_tick(browser, url):
    rows = "\n".join(f"2025-05-{day:02},50,75,0" for day in range(1, 9))
    text = "date,tmin_c,tmax_c,rain_mm\n" + rows.replace(",50,75", ",35,49")
    page = page_of(send(browser, url, text))
    assert "Are the temperatures in °F?" in text_of(page)
    one_error(browser.post(url, {**boxes(page), "import": "1"}), "look at the units")
    assert not WeatherDay.objects.exists()
    browser.post(url, {**boxes(page), "units_are_right": "on", "import": "1"})
    assert WeatherDay.objects.count() == 8
