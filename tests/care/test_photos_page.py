"""Photos of a tree on its pages: added, seen, described, taken back, put back."""

from datetime import date, timedelta

import pytest
from django.core.files.storage import default_storage
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from care.models import LogEntry, Photo
from care.views import photo_keeping
from tests.care.actions.photo_samples import large_png, photo_of, tiny
from tests.conftest import TODAY


def file(content: bytes, name: str = "IMG_1.jpg") -> SimpleUploadedFile:
    return SimpleUploadedFile(name, content, "image/jpeg")


@pytest.fixture
def tree(make_tree):
    return make_tree("Apple by the gate")


@pytest.fixture
def browser(cast, client_of):
    return client_of(cast.grower)


def at(name, tree):
    return reverse(name, args=[tree.site.slug, tree.public_id])


def of(name, photo):
    return reverse(name, args=[photo.site.slug, photo.public_id])


def add(browser, tree, *contents, **fields):
    sent = {"photo": [file(one) for one in contents], **fields}
    answer = browser.post(at("tree_photo", tree), sent, follow=True)
    return answer.content.decode()


def test_several_photos_are_kept_in_one_line_of_the_log(browser, cast, tree):
    page = add(browser, tree, tiny(1), tiny(2), tiny(3), caption="In bloom")
    assert "3 photos are kept." in page
    photos = Photo.objects.all()
    assert {photo.person for photo in photos} == {cast.grower}
    assert {photo.caption for photo in photos} == {"In bloom"}
    entry = LogEntry.objects.get()
    assert (entry.kind, entry.note) == ("photo", "In bloom")
    log = browser.get(reverse("log", args=[tree.site.slug])).content.decode()
    assert "Photographed Apple by the gate" in log
    assert log.count("/small/") == 3
    page = browser.get(at("tree", tree)).content.decode()
    assert page.count("/small/") == 6  # in its strip and in its log


def test_each_photo_has_its_own_fate(browser, tree):
    page = add(browser, tree, tiny(1), b"<svg/>", tiny(1), tiny(2)[:900], large_png())
    assert Photo.objects.count() == 1
    assert "The photo is kept. One photo was here already." in page
    assert "Photo 2 of 5: That is a drawing (SVG), not a photo." in page
    assert "Photo 4 of 5: The photo arrived broken or in part." in page
    assert "Photo 5 of 5: The photo has too many dots" in page


def test_of_fifty_at_once_twenty_are_taken_in_and_the_rest_is_told_of(browser, tree):
    page = add(browser, tree, *[tiny(shade) for shade in range(50)])
    assert "20 photos are kept." in page
    assert "send the other 30 again" in page
    page = add(browser, tree, *[tiny(shade) for shade in range(20, 40)])
    assert "20 photos are kept." in page
    assert Photo.objects.count() == 40


def test_a_form_larger_than_all_its_photos_may_be_is_dropped_as_it_comes(
    browser, tree, monkeypatch
):
    monkeypatch.setattr(photo_keeping, "MOST_BYTES", 1000)
    answer = browser.post(at("tree_photo", tree), {"photo": file(tiny(1) + b"x" * 999)})
    assert answer.status_code == 422
    assert "The photos are too large together." in answer.content.decode()
    assert Photo.objects.count() == 0


def test_adding_photos_needs_the_forms_key(cast, tree):
    browser = Client(enforce_csrf_checks=True)
    browser.force_login(
        cast.grower, backend="allauth.account.auth_backends.AuthenticationBackend"
    )
    answer = browser.post(at("tree_photo", tree), {"photo": file(tiny(1))})
    assert answer.status_code == 403
    assert Photo.objects.count() == 0


def test_nothing_chosen_is_said_at_the_form(browser, tree):
    answer = browser.post(at("tree_photo", tree), {"caption": "Nothing"})
    assert answer.status_code == 422
    assert "Take a photo or choose one first." in answer.content.decode()


def test_the_day_is_the_typed_one_or_the_cameras_or_the_scripts_or_today(browser, tree):
    add(browser, tree, tiny(1), on="2023-08-01")
    add(browser, tree, tiny(2))
    named = {"photo": [file(tiny(3), "taken-2022-02-03.jpg")]}
    browser.post(at("tree_photo", tree), named)
    named = {"photo": [file(tiny(4), "taken-2099-02-03.jpg")]}
    browser.post(at("tree_photo", tree), named)
    days = set(Photo.objects.values_list("on", flat=True))
    # The camera of the samples wrote 6 May 2024; a day to come is nobody's.
    assert days == {date(2023, 8, 1), date(2024, 5, 6), date(2022, 2, 3), TODAY}


def test_a_photo_is_sent_as_nothing_but_a_photo(browser, tree):
    photo = photo_of(tree)
    for name in ("photo", "photo_small"):
        answer = browser.get(of(name, photo))
        assert answer.headers["Content-Type"] == "image/jpeg"
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        assert answer.headers["Cache-Control"] == "private, max-age=86400"
        assert answer.headers["Content-Security-Policy"].startswith(
            "default-src 'none'"
        )
        shown = answer.headers["Content-Disposition"]
        assert shown == 'inline; filename="photo-2025-07-02.jpg"'
        assert answer.content.startswith(b"\xff\xd8\xff")


def test_a_file_that_is_gone_is_not_found(browser, tree):
    photo = photo_of(tree)
    default_storage.delete(photo.file_name)
    assert browser.get(of("photo", photo)).status_code == 404
    assert browser.get(of("photo_page", photo)).status_code == 200


def test_photos_of_one_season_stand_side_by_side(browser, site, tree):
    days = [date(2023, 7, 1), date(2024, 6, 30), date(2024, 8, 20), TODAY]
    for shade, day in enumerate(days):
        photo_of(tree, day, shade)
    page = browser.get(at("tree_photos", tree)).content.decode()
    part = page[page.index("Side by side") : page.index("By day")]
    assert '<h3 id="season-1">Summer</h3>' in part
    assert part.count("<img") == 3
    assert part.index("2023") < part.index("2024") < part.index("2025")
    site.latitude_deg = -33.0
    site.save()
    assert ">Winter</h3>" in browser.get(at("tree_photos", tree)).content.decode()


def test_words_and_day_of_a_photo_change_and_its_log_line_follows(browser, tree):
    photo = photo_of(tree)
    day = TODAY - timedelta(days=400)
    answer = browser.post(
        of("photo_edit", photo), {"caption": "Canker", "on": str(day)}, follow=True
    )
    assert "<h1>Canker</h1>" in answer.content.decode()
    entry = LogEntry.objects.get()
    assert (entry.note, entry.on) == ("Canker", day)
    wrong = browser.post(of("photo_edit", photo), {"on": "2099-01-01"})
    assert wrong.status_code == 422


def test_a_photo_taken_back_is_hidden_and_can_be_put_back(
    browser, cast, client_of, tree
):
    photo = photo_of(tree)
    viewer = client_of(cast.viewer)
    page = browser.post(of("photo_remove", photo), follow=True).content.decode()
    assert "Taken back by grower. It is removed for good on " in page
    for name in ("photo", "photo_small", "photo_page"):
        assert viewer.get(of(name, photo)).status_code == 404
        assert browser.get(of(name, photo)).status_code == 200
    assert "/small/" not in browser.get(at("tree_photos", tree)).content.decode()
    entry = LogEntry.objects.get()
    assert entry.voided_by == cast.grower
    assert "The photo is back." in (
        browser.post(of("photo_back", photo), follow=True).content.decode()
    )
    assert viewer.get(of("photo", photo)).status_code == 200
    assert LogEntry.objects.get().voided_at is None


def test_taking_its_log_line_back_hides_the_photo(browser, cast, site, tree):
    photo = photo_of(tree)
    browser.post(reverse("entry_undo", args=[site.slug, photo.entry.public_id]))
    photo.refresh_from_db()
    assert photo.voided_at is not None
    assert photo.voided_by == cast.grower


def test_a_photo_goes_with_a_tick_and_stays_when_the_tick_is_taken_back(
    browser, site, tree, make_task, keep_plan
):
    task = make_task(tree)
    keep_plan()
    sent = {"photo": [file(tiny(5))], "amount": "18", "on": str(TODAY)}
    browser.post(reverse("task_done", args=[site.slug, task.public_id]), sent)
    photo = Photo.objects.get()
    assert (photo.entry.what, photo.entry.task) == ("done", task)
    assert LogEntry.objects.count() == 1
    browser.post(reverse("entry_undo", args=[site.slug, photo.entry.public_id]))
    photo.refresh_from_db()
    assert photo.voided_at is None


def test_a_photo_of_work_that_is_asked_about_is_the_trees_own(
    browser, site, tree, make_task, keep_plan
):
    LogEntry.objects.create(
        site=site,
        tree=tree,
        what="done",
        kind="feeding",
        action="feed",
        key="2025/1",
        on=TODAY,
        recorded_at=timezone.now(),
        amount=100.0,
        unit="g",
    )
    task = make_task(
        tree, kind="feeding", key="2025/1", action="feed", amount=100.0, unit="g"
    )
    keep_plan()
    sent = {"photo": [file(tiny(6))], "amount": "100", "on": str(TODAY)}
    page = browser.post(reverse("task_done", args=[site.slug, task.public_id]), sent)
    task.refresh_from_db()
    assert task.status == "open", page.content.decode()
    photo = Photo.objects.get()
    assert (photo.tree, photo.entry.kind) == (tree, "photo")


def test_pages_of_many_photos_ask_the_database_as_often_as_of_few(
    browser, tree, django_assert_num_queries, django_assert_max_num_queries
):
    photo_of(tree, shade=1)
    with django_assert_max_num_queries(25) as few:
        browser.get(at("tree_photos", tree))
    for shade in range(2, 12):
        photo_of(tree, TODAY - timedelta(days=shade), shade)
    with django_assert_num_queries(len(few)):
        browser.get(at("tree_photos", tree))
    with django_assert_max_num_queries(60) as log:
        browser.get(reverse("log", args=[tree.site.slug]))
    for shade in range(12, 22):
        photo_of(tree, TODAY - timedelta(days=shade), shade)
    with django_assert_num_queries(len(log)):
        browser.get(reverse("log", args=[tree.site.slug]))
