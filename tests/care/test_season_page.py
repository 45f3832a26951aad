"""The season of a site, and the chill line on the page of a tree."""

import re
from datetime import UTC, date, datetime, timedelta

import pytest

from care.actions.logbook import observe
from care.views.days import DASH
from orchard.actions.weather import import_days, set_normals
from orchard.models import Person, Site, Stay
from tests.care.science.reference import SeattleRecord

SEASON = "/s/test-site/season/"
WINTER_DAY = date(2015, 2, 1)
# Twelve months of a mild dry-summer climate, made up for these tests.
NORMALS = [
    (month, 2 + 1.5 * warm, 8 + 2.5 * warm, 120 - 17 * warm)
    for month, warm in enumerate((0, 1, 2, 3, 5, 6, 7, 7, 5, 3, 1, 0), start=1)
]


def text(response):
    return " ".join(response.content.decode().split())


def read_seattle(site, first, last):
    record = SeattleRecord()
    days = [
        (
            day,
            {
                "tmin_c": float(record.tmin_c[place]),
                "tmax_c": float(record.tmax_c[place]),
                "rain_mm": float(record.rain_mm[place]),
            },
        )
        for place, day in enumerate(record.days)
        if first <= day <= last
    ]
    import_days(site=site, days=days, label="record", person=None)


@pytest.fixture
def grower(cast, client_of):
    return client_of(cast.grower)


@pytest.fixture
def plant(make_tree):
    """Enter a tree long before the winter of these tests."""

    def enter(**values):
        values = {"planted_on": date(2012, 3, 1), **values}
        return make_tree(entered_on=date(2014, 6, 1), **values)

    return enter


@pytest.fixture
def winter_site(site):
    Site.objects.filter(pk=site.pk).update(own_today=WINTER_DAY)
    site.refresh_from_db()
    return site


@pytest.fixture
def seattle(winter_site):
    """The orchard reads the record of its own place since 2012."""
    read_seattle(winter_site, date(2012, 1, 1), WINTER_DAY - timedelta(days=1))
    return winter_site


def tree_text(client, tree):
    return text(client.get(f"/s/test-site/trees/{tree.public_id}/"))


def test_without_weather_it_says_what_to_do(grower, site):
    page = text(grower.get(SEASON))
    assert "No weather yet" in page
    assert "/s/test-site/weather/" in page


def test_chill_so_far_what_is_likely_and_past_winters(grower, seattle):
    page = text(grower.get(SEASON))
    # tests/care/planning/test_winter.py: 924 to 952 hours, 67.2 to 67.5 portions
    assert "About 940 hours so far; 67 portions." in page
    chill = page.split('<h2 id="chill">')[1].split("</section>")[0]
    likely = re.search(rf"Likely (1,\d\d0){DASH}(\d,\d\d0) by 31 March, from", chill)
    assert likely is not None
    # As the two past winters went on it would be 1,530 to 1,640.
    assert likely[1] <= "1,530"
    assert likely[2] >= "1,640"
    assert f'<th scope="row">2013{DASH}14</th>' in page
    assert f'<th scope="row">2012{DASH}13</th>' in page
    assert "1 earlier winter is left out" in page
    assert '<th scope="col" class="number">Utah units</th>' in page


def test_units_below_zero_are_not_told(grower, winter_site):
    mild = [
        # No two days alike: a sensor that stands still is not believed.
        (
            date(2013, 5, 1) + timedelta(days=day),
            {"tmin_c": 14.0 + day % 3, "tmax_c": 24.0 + day % 3},
        )
        for day in range(600)
    ]
    import_days(site=winter_site, days=mild, label="mild", person=None)
    row = text(grower.get(SEASON)).split(f"2013{DASH}14</th>")[1].split("</tr>")[0]
    assert row.count(DASH) == 1


def test_the_rains_and_the_last_soak(grower, seattle):
    page = text(grower.get(SEASON))
    assert "The rains set in on 13 October 2014." in page
    assert "14 days ago, 6.3 mm or more." in page
    assert "3 days bring 20 mm" in page
    # January 2015 brought 93 mm, read off the record; the four Januaries 115 mm
    assert "<dt>Last 30 days</dt><dd>" in page
    assert "Rain covers half of what plants use from" in page
    assert "Rain is summed from 1 August:" in page


def test_enough_chill_for_the_orchards_own_species(grower, seattle, plant):
    plant()
    plant(name="Second apple")
    plant(name="Lemon", species_key="lemon")
    page = text(grower.get(SEASON))
    # The catalogue's apple: 250 to 1,000 hours. tests/care/planning/test_chill_needs.py
    least, most = (
        page.split(f"Apple, cultivars that need {word}</th>")[1].split("</tr>")[0]
        for word in ("least", "most")
    )
    assert ">250</td>" in least
    assert "Enough since" in least
    assert "2 of 2</td>" in least
    assert ">1,000</td>" in most
    assert "Likely" in most
    assert page.count("Apple, cultivars that need least") == 1
    assert "Lemon, cultivars" not in page


def test_stages_of_the_year_and_what_they_rest_on(grower, seattle, plant):
    apple = plant()
    page = text(grower.get(SEASON))
    ahead, row = (part.split("</tr>")[0] for part in page.split(">Apple</th>")[1:3])
    assert "Likely" in ahead
    assert "8 of 10 courses that the weather may take" in page
    assert "reckoned" in row
    assert "degree days above" in page
    Site.objects.filter(pk=seattle.pk).update(own_today=date(2015, 4, 20))
    observe(
        tree=apple,
        what="bloom_stage",
        word="full_bloom",
        person=None,
        on=date(2015, 4, 2),
        now=datetime(2015, 4, 2, 12, tzinfo=UTC),
    )
    page = text(grower.get(SEASON))
    ahead, row = (part.split("</tr>")[0] for part in page.split(">Apple</th>")[1:3])
    assert "On 2 April" in ahead
    assert "2 April, seen" in row


def test_an_onset_that_is_news_stands_on_the_round(grower, site):
    Site.objects.filter(pk=site.pk).update(own_today=date(2014, 10, 25))
    read_seattle(site, date(2012, 1, 1), date(2014, 12, 24))
    news = "The rains seem to have set in since 13 October; still uncertain until 15"
    assert news in text(grower.get("/s/test-site/"))
    assert news in text(grower.get(SEASON))
    Site.objects.filter(pk=site.pk).update(own_today=date(2014, 12, 25))
    assert "The rains" not in text(grower.get("/s/test-site/"))


def test_dry_days_within_the_rains_tell_when_watering_resumes(grower, site, make_tree):
    Site.objects.filter(pk=site.pk).update(own_today=date(2013, 10, 25))
    make_tree(planted_on=date(2005, 3, 1), entered_on=date(2012, 1, 1))
    read_seattle(site, date(2012, 1, 1), date(2013, 10, 24))
    round_page = text(grower.get("/s/test-site/"))
    # The record has no day of 1 mm from 13 to 24 October 2013.
    words = round_page.split("Dry for 12 days again: ")[1].split(".")[0]
    assert re.match("watering of trees in the ground resumes about|no tree", words)
    assert f"Dry for 12 days again: {words}" in text(grower.get(SEASON))


def test_it_speaks_in_the_readers_units(grower, cast, seattle):
    Person.objects.filter(pk=cast.grower.pk).update(units="us")
    page = text(grower.get(SEASON))
    assert "0.25 in or more" in page
    assert "32°F" in page.replace(" ", "").replace("\N{NO-BREAK SPACE}", "")


def test_only_usual_weather_is_called_that(grower, winter_site):
    set_normals(site=winter_site, months=NORMALS)
    page = text(grower.get(SEASON))
    assert "Nobody observed it: this is what the usual weather here brings" in page
    assert "No whole winter is on record yet" in page
    assert "nobody has measured rain" in page
    assert "Likely about" in page
    assert "from 30 generated years" in page
    assert "going by" not in page


def test_too_few_days_give_no_sum(grower, winter_site):
    read_seattle(winter_site, date(2015, 1, 25), date(2015, 1, 31))
    page = text(grower.get(SEASON))
    assert "Unknown: the weather of only 7 of 92 days this winter is known." in page
    assert "hours so far" not in page


def test_in_summer_it_tells_of_last_winter(grower, site):
    Site.objects.filter(pk=site.pk).update(own_today=date(2014, 7, 14))
    read_seattle(site, date(2012, 1, 1), date(2014, 7, 13))
    page = text(grower.get(SEASON))
    assert "About 1,700 hours last winter;" in page
    chill = page.split('<h2 id="chill">')[1].split("</section>")[0]
    assert "likely" not in chill
    assert page.index("Warmth beside other years") < page.index("Chill beside other")
    ended = "The rains seem to have ended on 28 June, 15 days dry since"
    assert f"{ended}; still uncertain until 19 July." in page


def test_more_winters_ask_the_database_no_more_often(
    grower, winter_site, django_assert_num_queries
):
    read_seattle(winter_site, date(2014, 11, 1), date(2015, 1, 31))
    grower.get(SEASON)
    with django_assert_num_queries(20):
        grower.get(SEASON)
    read_seattle(winter_site, date(2012, 1, 1), date(2015, 1, 31))
    with django_assert_num_queries(20):
        grower.get(SEASON)


def test_the_weather_page_leads_there(grower, seattle):
    assert SEASON in text(grower.get("/s/test-site/weather/"))


def test_a_tree_that_drops_its_leaves_tells_its_chill(grower, seattle, plant):
    page = tree_text(grower, plant())
    # Apple, 250 to 1,000 hours by cultivar: the catalogue's figures
    assert f"About 940 hours so far (needs 250{DASH}1,000 by cultivar" in page
    assert "Cultivars that need least: since " in page


def test_a_tree_tells_when_it_likely_blooms_and_ripens(grower, seattle, plant):
    page = tree_text(grower, plant(planted_on=date(2005, 3, 1)))
    for label in ("Enough chill", "Full bloom", "First ripe"):
        assert f"<dt>{label}</dt>" in page
    assert "past years" in page.split("<dt>Full bloom</dt>")[1][:120]
    lemon = tree_text(grower, plant(name="Lemon", species_key="lemon"))
    assert "<dt>Full bloom</dt>" not in lemon


def test_a_need_from_memory_is_called_unverified(grower, seattle, plant):
    page = tree_text(grower, plant(species_key="pear"))
    assert "by cultivar, unverified); 67 portions." in page


@pytest.mark.parametrize("species", ["lemon", "elderberry"])
def test_a_species_without_a_known_need_tells_none(grower, seattle, plant, species):
    page = tree_text(grower, plant(species_key=species))
    assert "<dt>Chill</dt>" not in page


def test_without_weather_the_chill_is_unknown(grower, winter_site, plant):
    page = tree_text(grower, plant())
    assert f"Unknown without weather (needs 250{DASH}1,000 by cultivar" in page


def test_a_pot_kept_in_a_heated_room_has_less(grower, seattle, plant):
    pot = plant(in_container=True, container_litres=60.0)
    assert "heated" not in tree_text(grower, pot).split("<dt>Chill</dt>")[1][:400]
    for place, since in (
        ("indoors_heated", date(2014, 12, 1)),
        ("outdoors", date(2014, 12, 11)),
    ):
        Stay.objects.create(tree=pot, place=place, since=since)
    page = tree_text(grower, pot)
    assert (
        "this pot stood in a heated room for 10 of these 92 days, so its own chill is"
        " less." in page
    )


def test_a_warm_place_has_hardly_any(grower, winter_site):
    warm = [(month, 20.0, 30.0, 50.0) for month in range(1, 13)]
    set_normals(site=winter_site, months=warm)
    page = text(grower.get(SEASON))
    words = "Too little to matter: likely hardly any so far, and none of your trees asks for any."
    assert words in page
    assert "Chill beside other winters" not in page


def test_other_ways_to_count_are_there_for_who_compares(grower, seattle):
    page = text(grower.get(SEASON))
    assert "Other ways to count" in page
    for words in (
        "Chill since 1 November",
        "Hours below 7.2 °C",
        "Positive Utah units",
        "Degree days, mean of low and high",
        "Degree days, one sine a day, cut off at 30 °C",
        "Growing degree hours",
    ):
        assert words in page
