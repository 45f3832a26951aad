"""Which kinds fit a site, one kind in full, what ripens when, and the command."""

import json
import re
from datetime import date
from html import unescape
from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from care.planning.fit_site import fit_site
from deploy.demo.scenario import QUAY_STEPS_NORMALS
from orchard.actions.weather import set_normals
from orchard.models import Feature, OwnFigure, Person, Planting, Site
from tests.conftest import TODAY

FIT = "/s/test-site/planting/fit/"


@pytest.fixture
def viewer(cast, client_of):
    return client_of(cast.viewer)


@pytest.fixture
def coast(site):
    """A subtropical coast in the south, twelve typed months and no record."""
    Site.objects.filter(pk=site.pk).update(
        latitude_deg=-27.5, elevation_m=15.0, is_frost_free=True
    )
    site.refresh_from_db()
    set_normals(site=site, months=QUAY_STEPS_NORMALS)
    return site


def text(answer):
    page = answer.content.decode().partition("<main")[2]
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", page)).split())


def said(client, address):
    answer = client.get(address)
    assert answer.status_code == 200
    return text(answer)


def test_without_weather_it_says_so_and_calls_nothing_fitting(viewer, site):
    page = said(viewer, FIT)
    assert "No weather yet" in page
    assert "Not known yet" in page
    assert "Without weather nobody can say how cold it gets." in page
    assert "Fits well" not in page
    # A pot that a kind takes badly is known all the same
    assert "It lives poorly in a pot" in said(viewer, f"{FIT}?place=pot")
    assert "nothing can be proposed" in said(viewer, "/s/test-site/planting/ripening/")


def test_kinds_by_how_well_they_fit_in_few_queries(
    viewer, coast, django_assert_max_num_queries
):
    with django_assert_max_num_queries(30):
        page = said(viewer, FIT)
    assert "30 made-up years from your twelve months" in page
    good, _, rest = page.partition("Fits, with care")
    assert "Mango" in good
    assert "Sweet orange" in good
    assert "Peach" not in good
    assert "even the cultivars that ask for least, 100 hours" in rest
    assert "No free area is drawn" in page
    assert "There is no soil test" in page


def test_filters_keep_what_was_chosen_and_say_what_is_wrong(viewer, coast):
    page = viewer.get(f"{FIT}?q=lemmon&place=pot&evergreen=on&month=1&month=2")
    html = page.content.decode()
    assert "Lemon" in text(page)
    assert "Mango" not in text(page)
    assert 'value="lemmon"' in html
    assert html.count("checked") == 3
    nothing = said(viewer, f"{FIT}?q=zzzzzz")
    assert "No kind is like that." in nothing
    wrong = said(viewer, f"{FIT}?month=13&q=fig")
    assert "Choose months from January to December." in wrong


def test_one_kind_with_its_working_and_its_cultivars(viewer, cast, coast):
    page = said(viewer, f"{FIT}peach/")
    for words in (
        "Fits poorly. Perhaps too little chill",
        "Share of winters = winters with 100 hours or more ÷ winters = 6 ÷ 30 = 0.20",
        "Its cultivars side by side",
        "Contender",
        "Made-up winter 30",
        "Grown in hardiness zones 5 to 9; here 10b.",
        "Winters are wet here: cut it in dry weather only",
        "That is a hint, no limit.",
    ):
        assert words in page
    Person.objects.filter(pk=cast.viewer.pk).update(units="us")
    tender = said(viewer, f"{FIT}mango/")
    assert "it bears 28 °F" in tender
    assert "too heavy for one" in tender  # its pot comes in
    assert viewer.get(f"{FIT}nonsense/").status_code == 404


def test_an_own_figure_goes_before_the_catalogues(viewer, coast):
    OwnFigure.objects.create(
        orchard=coast.orchard,
        species_key="mango",
        figure="damage_temp_mature_c",
        value="1.0",
        source="Our own trees",
        changed_on=TODAY,
    )
    assert "nights of 1 °C hurt it" in said(viewer, f"{FIT}mango/")


def test_room_on_the_plan_counts(viewer, coast):
    Feature.objects.create(
        site=coast, kind="free", points_m=[[0, 0], [3, 0], [3, 3], [0, 3]]
    )
    page = said(viewer, f"{FIT}mango/")
    assert (
        "Grown, it is 9 m wide, but the widest free circle on your plan is 3 m." in page
    )


def test_what_ripens_when_from_this_month_on(viewer, coast, make_tree):
    make_tree("Mango", species_key="mango")
    planting = Planting.objects.create(site=coast, name="Beds", begun_on=TODAY)
    planting.wanted.create(name="Guava", species_key="guava")
    page = said(viewer, "/s/test-site/planting/ripening/")
    # Mangoes from November to March, guavas from February to June
    assert "Nothing ripens here in July, August, September and October." in page
    table = page.partition("Would fill it")[2]
    assert table.startswith(" July (now) nothing nothing")
    assert "November Mango nothing not needed" in table
    assert "April nothing Guava not needed" in table


def asked(*arguments):
    out = StringIO()
    call_command("fit", *arguments, stdout=out)
    return out.getvalue()


def test_the_command_prints_what_is_pinned(coast):
    answer = json.loads(asked("--site", "test-site", "--json"))
    assert answer["schema"] == 1
    by_key = {row["key"]: row for row in answer["species"]}
    assert len(by_key) == len(answer["species"]) > 71
    mango, peach = by_key["mango"], by_key["peach"]
    assert (mango["verdict"], mango["limiting_factor"]) == ("good", None)
    assert (mango["coldest_ground_c"], mango["coldest_pot_c"]) == (-2.2, 7.0)
    assert (peach["verdict"], peach["limiting_factor"]) == ("poor", "chill")
    cherry = by_key["sweet_cherry"]
    assert (cherry["verdict"], cherry["limiting_factor"]) == ("no", "chill")
    assert peach["chill_share"] == 0.2
    assert peach["sources"] == sorted(peach["sources"])
    assert {"crfg_mango", "tamu_mango"} < set(mango["sources"])
    assert answer["basis"]["made_up_winters"] == 30
    one = json.loads(asked("--site", "test-site", "--species", "peach", "--json"))
    assert one["species"] == [
        row for row in answer["species"] if row["species"] == "peach"
    ]
    assert "peach: poor, limited by chill" in asked(
        "--site", "test-site", "--species", "peach"
    )
    with pytest.raises(CommandError, match="no species 'pech'"):
        asked("--site", "test-site", "--species", "pech")


def test_a_fit_does_not_change_by_the_day(coast):
    now, later = (
        fit_site(coast, day, kind_key="apple_anna")
        for day in (TODAY, date(2025, 12, 24))
    )
    assert now.fits == later.fits
