"""A helper's photos: of their round's trees, seen and taken back by them alone."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from care.models import Helper, LogEntry, Photo
from care.views import helper_photos
from tests.care.actions.photo_samples import photo_of, tiny


def send(browser, task, *contents):
    files = [SimpleUploadedFile("a.jpg", one, "image/jpeg") for one in contents]
    answer = browser.post(f"/h/photo/{task.public_id}/", {"photo": files}, follow=True)
    return answer.content.decode()


def test_a_helper_shows_a_tree_in_photos_and_sees_them(sam, anna, cast, client_of):
    page = send(sam, anna, tiny(1), b"no photo")
    assert "The photo is kept." in page
    assert "Photo 2 of 2: That file is no photo." in page
    photo = Photo.objects.get()
    assert (photo.helper, photo.person) == (Helper.objects.get(), None)
    assert photo.tree == anna.tree
    assert f"/h/photos/{photo.public_id}/" in page
    small = sam.get(f"/h/photos/{photo.public_id}/")
    assert small.content.startswith(b"\xff\xd8\xff")
    assert small.headers["Cache-Control"] == "no-store"
    site = anna.site
    log = client_of(cast.grower).get(f"/s/{site.slug}/log/").content.decode()
    assert "Photographed Anna" in log
    assert "Sam (helper)" in log


def test_a_helper_sees_and_takes_back_no_other_photos(come, sam, anna):
    theirs = photo_of(anna.tree)
    assert sam.get(f"/h/photos/{theirs.public_id}/").status_code == 404
    send(sam, anna, tiny(1))
    own = Photo.objects.get(helper__isnull=False)
    lea = come("Lea")
    assert lea.get(f"/h/photos/{own.public_id}/").status_code == 200
    undo = f"/h/photos/{own.public_id}/undo/"
    assert undo not in lea.get("/h/").content.decode()
    assert lea.post(undo).status_code == 404
    assert undo in sam.get("/h/").content.decode()
    assert sam.post(undo).status_code == 302
    own.refresh_from_db()
    assert own.voided_by_helper == own.helper
    assert LogEntry.objects.get(pk=own.entry_id).voided_by_helper == own.helper
    assert sam.get(f"/h/photos/{own.public_id}/").status_code == 404


def test_a_photo_of_a_tree_outside_the_round_is_not_taken(sam, make_tree, make_task):
    other = make_task(make_tree("Far away"))
    assert sam.post(f"/h/photo/{other.public_id}/").status_code == 404


def test_a_link_takes_no_end_of_photos(sam, anna, monkeypatch):
    monkeypatch.setattr(helper_photos, "MOST_OF_LINK", 1)
    send(sam, anna, tiny(1))
    assert "as many photos as it may" in send(sam, anna, tiny(2))
    assert Photo.objects.count() == 1


@pytest.mark.parametrize("sent", [{}, {"photo": ""}])
def test_nothing_chosen_is_said(sam, anna, sent):
    answer = sam.post(f"/h/photo/{anna.public_id}/", sent, follow=True)
    assert "Take a photo or choose one first." in answer.content.decode()
