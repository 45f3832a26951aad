"""My days: weekdays, single days, absences, limits, and what is refused."""

from datetime import date, timedelta

import pytest

from orchard.models import Helping, Membership, Offered
from tests.conftest import TODAY
from tests.orchard.plain_page import errors_of, page_of, text_of

PAGE = "/s/test-site/days/"
SATURDAY = date(2025, 7, 5)


@pytest.fixture
def grower(cast, client_of):
    return client_of(cast.grower)


def offered():
    return {(row.weekday, row.day): row.wish for row in Offered.objects.all()}


def send(browser, part, **values):
    sent = {name.replace("_", "-", 1): value for name, value in values.items()}
    return browser.post(PAGE, {"part": part, **sent}, follow=True)


def test_the_first_use_says_what_it_changes_and_offers_all_forms(grower, site):
    page = page_of(grower.get(PAGE))
    text = text_of(page)
    assert "You have said nothing yet." in text
    assert "walks will fall on these days" in text
    assert "shifts are proposed only on days you offer" in text
    radios = page.xpath("//form[@id='weekdays']//input[@type='radio']")
    assert len(radios) == 7 * 4
    days = page.xpath("//form[@id='days']//select")
    assert len(days) == 28
    assert days[0].get("name") == f"day-{TODAY}"
    for control in page.xpath("//main//select | //main//input[@type!='hidden']"):
        assert page.xpath(f"//label[@for='{control.get('id')}']"), control.get("name")
    bar = page.xpath("//nav[@aria-label='Pages']//a[text()='My days']/@href")
    assert bar == [PAGE]


def test_weekdays_are_kept_and_forgotten(grower):
    answer = send(grower, "weekdays", weekday_5="gladly", weekday_2="can")
    page = page_of(answer)
    assert "Your weekdays are kept." in text_of(page)
    assert answer.redirect_chain[0][0] == f"{PAGE}#weekdays"
    assert offered()[5, None] == 1
    assert offered()[0, None] is None
    chosen = page.xpath("//form[@id='weekdays']//input[@checked]/@value")
    assert chosen == ["not", "not", "can", "not", "not", "gladly", "not"]
    assert f"Sat {SATURDAY.day} July gladly As always" in text_of(page)
    again = send(grower, "weekdays", weekday_5="gladly", weekday_2="can")
    assert "written already" in text_of(page_of(again))
    assert "forgotten" in text_of(page_of(send(grower, "forget")))
    assert offered() == {}


def test_a_single_day_is_said_and_left_to_its_weekday_again(grower):
    name = f"day_{SATURDAY}"
    page = page_of(send(grower, "days", **{name: "rather_not"}))
    assert offered() == {(None, SATURDAY): -1}
    assert page.xpath(f"//select[@name='day-{SATURDAY}']/option[@selected]/@value") == [
        "rather_not"
    ]
    # A day that the page did not show stays as it is.
    send(grower, "days", **{f"day_{SATURDAY + timedelta(days=1)}": "can"})
    assert len(offered()) == 2
    send(grower, "days", **{name: ""})
    assert (None, SATURDAY) not in offered()


def test_who_is_away_says_so_in_one_form_and_takes_it_back(grower):
    values = {"away_first": "2025-06-20", "away_last": "2025-07-04"}
    page = page_of(send(grower, "away", **values))
    assert "You are away 2 to 4 July 2025." in text_of(page)
    assert len(offered()) == 3  # what is over needs no row
    back = page.xpath("//section[@id='away']//input[@type='hidden']/@value")
    assert back[1:3] == ["2025-07-02", "2025-07-04"]
    send(grower, "back", away_first=back[1], away_last=back[2])
    assert offered() == {}


@pytest.mark.parametrize(
    ("first", "last", "words"),
    [
        ("2025-07-10", "2025-07-09", "before the first day"),
        ("2025-06-10", "2025-06-12", "These days are over"),
        ("2025-07-10", "2026-07-12", "longer than a year"),
        ("2027-07-01", "2027-07-05", "more than two years ahead"),
        ("", "2025-07-12", "Choose the day."),
        ("tomorrow", "2025-07-12", "year-month-day"),
    ],
)
def test_a_span_that_cannot_be_is_refused_at_its_field(grower, first, last, words):
    answer = send(grower, "away", away_first=first, away_last=last)
    assert answer.status_code == 422
    assert [each for each in errors_of(page_of(answer)) if words in each]
    assert f'value="{first}"' in answer.content.decode() or not first
    assert offered() == {}


def test_other_bad_input_is_refused_at_its_field_and_writes_nothing(grower):
    for part, values, words in (
        ("weekdays", {}, "at least one weekday"),
        ("weekdays", {"weekday_5": "maybe"}, "one of the answers"),
        ("days", {f"day_{SATURDAY}": "maybe"}, "one of the answers"),
        ("limits", {"limit_most_a_week": "two"}, "whole number from 1 to 7"),
        ("limits", {"limit_most_a_week": "0"}, "say that you are away"),
        ("limits", {"limit_most_a_season": "999"}, "from 1 to 200"),
    ):
        answer = send(grower, part, **values)
        assert answer.status_code == 422
        found = errors_of(page_of(answer))
        assert len([each for each in found if words in each]) >= 2, found
    assert "Choose what to save" in text_of(page_of(send(grower, "nonsense")))
    words = text_of(page_of(send(grower, "back", away_first="x")))
    assert "Nothing was changed." in words
    assert offered() == {}
    assert not Helping.objects.exists()


def test_limits_are_kept(grower, cast):
    send(grower, "limits", limit_most_a_week="2")
    row = Helping.objects.get(membership__person=cast.grower)
    assert (row.most_a_week, row.most_a_season) == (2, None)


def test_a_year_of_days_asks_the_database_as_often_as_none(
    grower, cast, django_assert_num_queries
):
    grower.get(PAGE)
    with django_assert_num_queries(7):
        grower.get(PAGE)
    member = Membership.objects.get(person=cast.grower)
    days = [TODAY + timedelta(days=n) for n in range(366)]
    Offered.objects.bulk_create(Offered(membership=member, day=day) for day in days)
    with django_assert_num_queries(7):
        page = page_of(grower.get(PAGE))
    assert "2 July 2025 to 2 July 2026" in text_of(page)
