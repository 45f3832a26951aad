import pytest
from django.urls import reverse

from orchard.actions.people import choose_units
from orchard.models import NormalMonth, WeatherSeries
from orchard.sources.known_days import normals_of
from tests.orchard.plain_page import one_error, page_of

PASTED = "\n".join(f"{month} 4 14 70" for month in range(1, 13))


@pytest.fixture
def browser(cast, client_of):
    return client_of(cast.owner)


@pytest.fixture
def url(site):
    return reverse("weather_normals", args=[site.slug])


def boxes(**changed):
    values = {}
    for month in range(1, 13):
        values |= {f"tmin_{month}": "4", f"tmax_{month}": "14", f"rain_{month}": "70"}
    return values | changed


def test_a_pasted_table_fills_the_boxes_and_is_kept_on_a_second_press(
    browser, url, site
):
    page = page_of(browser.post(url, {"pasted": PASTED, "read": "1"}))
    assert page.xpath("//input[@name='rain_7']/@value") == ["70"]
    assert not NormalMonth.objects.exists()
    assert browser.post(url, boxes()).url == reverse("weather", args=[site.slug])
    assert normals_of(site).tmax_c == (14.0,) * 12


def test_a_bad_table_stays_in_its_box_with_the_line_named(browser, url):
    text = "\n" + PASTED.replace("7 4 14 70", "7 x 14 70")
    answer = browser.post(url, {"pasted": text, "read": "1"})
    one_error(answer, "Line 8")
    assert "7 x 14 70" in page_of(answer).xpath("string(//textarea)")


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"tmax_3": "1"}, "March high: the high, 1 °C, is below the low, 4 °C"),
        ({"rain_5": ""}, "May rain: is missing"),
        ({"rain_5": "-1"}, "must be from 0 mm"),
        ({"tmin_1": "warm"}, "“warm” is not a number"),
        ({"tmax_1": "99"}, "cannot be right"),
        ({"tmax_1": "55"}, "a mean of 55 °C is not possible"),
        ({f"rain_{month}": "3000" for month in range(1, 13)}, "in a year"),
    ],
)
def test_a_bad_month_is_named_and_nothing_is_lost_or_kept(browser, url, changed, words):
    answer = browser.post(url, boxes(**changed))
    one_error(answer, words)
    page = page_of(answer)
    assert page.xpath("//input[@name='tmin_12']/@value") == ["4"]
    assert not NormalMonth.objects.exists()
    assert not WeatherSeries.objects.exists()


def test_us_boxes_hold_us_units(browser, cast, url, site):
    choose_units(person=cast.owner, units="us")
    values = {}
    for month in range(1, 13):
        values |= {f"tmin_{month}": "41", f"tmax_{month}": "59", f"rain_{month}": "2"}
    browser.post(url, values)
    table = normals_of(site)
    assert table.tmin_c == pytest.approx([5.0] * 12)
    assert table.rain_mm == pytest.approx([50.8] * 12)
    page = page_of(browser.get(url))
    assert page.xpath("//input[@name='rain_1']/@value") == ["2"]


def test_the_first_run_goes_on_to_the_first_trees(browser, url, site):
    page = page_of(browser.get(url + "?first=1"))
    trees = reverse("tree_add", args=[site.slug]) + "?first=1"
    assert page.xpath("//a[contains(., 'Skip this')]/@href") == [trees]
    assert browser.post(url + "?first=1", boxes()).url == trees
