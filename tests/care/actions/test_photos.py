"""Photos are kept once each, with their files or not at all, and swept up later."""

import errno
import os
import shutil
import uuid
from datetime import timedelta
from pathlib import Path
from threading import Barrier, Thread

import pytest
from django.core.files.storage import FileSystemStorage, default_storage
from django.db import connection, transaction
from django.utils import timezone

from care.actions.photo_changes import (
    KEPT_BACK,
    ORPHAN_AGE,
    describe_photo,
    put_back_photo,
    sweep_photos,
    take_back_photo,
)
from care.actions.photos import PhotoError, keep_photo, read_picture
from care.jobs import sweep_up_photos
from care.models import LogEntry, Photo
from tests.care.actions.photo_samples import photo_of, tiny
from tests.conftest import TODAY


@pytest.fixture(autouse=True)
def folder(settings, tmp_path):
    """A folder of one's own for photos."""
    kept = {**settings.STORAGES["default"], "OPTIONS": {"location": tmp_path}}
    settings.STORAGES = {**settings.STORAGES, "default": kept}
    return tmp_path


@pytest.fixture
def tree(make_tree):
    return make_tree()


def names(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir()}


def test_a_photo_is_two_files_with_names_nobody_can_guess(folder, tree):
    photo = photo_of(tree)
    assert names(folder) == {photo.file_name, photo.small_file_name}
    assert photo.file_id != photo.public_id
    assert photo.size_bytes == sum(path.stat().st_size for path in folder.iterdir())


def test_the_same_photo_of_a_tree_is_kept_once(folder, make_tree, tree):
    first = photo_of(tree)
    assert photo_of(tree).pk == first.pk
    assert len(names(folder)) == 2
    other = photo_of(make_tree("Plum", species_key="plum"))
    assert other.pk != first.pk
    take_back_photo(photo=first, person=None, now=timezone.now())
    assert photo_of(tree).pk != first.pk


def test_an_id_that_is_taken_is_no_way_to_anothers_photo(tree):
    taken = photo_of(tree)
    photo = photo_of(tree, shade=1, photo_id=taken.public_id)
    assert photo.public_id != taken.public_id
    mine = uuid.uuid4()
    assert photo_of(tree, shade=2, photo_id=mine).public_id == mine


def test_a_row_that_fails_takes_its_files_along(folder, tree, monkeypatch):
    def fail(*_args, **_named):
        raise RuntimeError

    monkeypatch.setattr(Photo, "save", fail)
    with pytest.raises(RuntimeError):
        photo_of(tree)
    assert names(folder) == set()
    assert LogEntry.objects.count() == 0


def test_a_full_disk_is_said_and_leaves_nothing_behind(folder, tree, monkeypatch):
    save = FileSystemStorage._save

    def fill_up(self, name, content):
        if "small" in name:
            raise OSError(errno.ENOSPC, "No space left on device")
        return save(self, name, content)

    monkeypatch.setattr(FileSystemStorage, "_save", fill_up)
    with pytest.raises(PhotoError, match="disk is full"):
        photo_of(tree)
    assert names(folder) == set()


def test_a_disk_nearly_full_takes_no_photo(tree, monkeypatch):
    usage = shutil.disk_usage("/")._replace(free=1000)
    monkeypatch.setattr(shutil, "disk_usage", lambda _path: usage)
    with pytest.raises(PhotoError, match="disk is full"):
        photo_of(tree)


def test_a_place_takes_as_many_bytes_as_it_may(tree, settings):
    first = photo_of(tree)
    settings.ORCHARD_PHOTOS_BYTES = first.size_bytes
    with pytest.raises(PhotoError, match="no room for more photos of this place"):
        photo_of(tree, shade=1)
    assert photo_of(tree).pk == first.pk  # it is there already
    settings.ORCHARD_PHOTOS_BYTES = 3 * first.size_bytes
    assert photo_of(tree, shade=1).pk != first.pk


def test_the_last_photo_taken_back_takes_the_log_line_along(tree):
    now = timezone.now()
    first, second = photo_of(tree), photo_of(tree, shade=1)
    assert first.entry == second.entry
    take_back_photo(photo=first, person=None, now=now)
    assert LogEntry.objects.get().voided_at is None
    assert take_back_photo(photo=second, person=None, now=now)
    assert not take_back_photo(photo=second, person=None, now=now)
    assert LogEntry.objects.get().voided_at == now
    assert put_back_photo(photo=first)
    assert LogEntry.objects.get().voided_at is None


def test_a_photo_added_anew_meanwhile_is_not_doubled_by_putting_it_back(tree):
    first = photo_of(tree)
    take_back_photo(photo=first, person=None, now=timezone.now())
    photo_of(tree)
    assert not put_back_photo(photo=first)
    assert Photo.objects.filter(voided_at=None).count() == 1


def test_one_of_several_photos_is_described_alone(tree):
    first, second = photo_of(tree), photo_of(tree, shade=1)
    describe_photo(photo=first, caption="Canker", on=TODAY - timedelta(days=9))
    entry = LogEntry.objects.get()
    assert (entry.note, entry.on) == ("", TODAY)
    second.refresh_from_db()
    assert second.caption == ""


def test_what_was_taken_back_is_swept_up_after_thirty_days(folder, tree):
    now = timezone.now()
    gone, kept = photo_of(tree), photo_of(tree, shade=1)
    take_back_photo(photo=gone, person=None, now=now)
    assert sweep_photos(now + KEPT_BACK) == sweep_up_photos() == 0
    assert sweep_photos(now + KEPT_BACK + timedelta(minutes=1)) == 1
    assert list(Photo.objects.all()) == [kept]
    assert names(folder) == {kept.file_name, kept.small_file_name}


def test_files_of_no_photo_are_swept_up_when_they_are_old(folder, site, tree):
    now = timezone.now()
    lost, kept = photo_of(tree), photo_of(tree, shade=1)
    Photo.objects.filter(pk=lost.pk).delete()
    (folder / "notes.txt").write_text("Not ours.")
    for path in folder.iterdir():
        old = (now - ORPHAN_AGE - timedelta(hours=1)).timestamp()
        os.utime(path, (old, old))
    fresh = photo_of(tree, shade=2)
    Photo.objects.filter(pk=fresh.pk).delete()  # somebody may be just writing it
    assert sweep_photos(now) == 1
    assert names(folder) == {
        "notes.txt",
        *(kept.file_name, kept.small_file_name),
        *(fresh.file_name, fresh.small_file_name),
    }
    site.orchard.delete()
    assert sweep_photos(now + 2 * ORPHAN_AGE) == 2
    assert names(folder) == {"notes.txt"}


def test_a_sweep_before_the_first_photo_finds_nothing(settings, tmp_path, db):
    away = {
        **settings.STORAGES["default"],
        "OPTIONS": {"location": tmp_path / "not" / "there"},
    }
    settings.STORAGES = {**settings.STORAGES, "default": away}
    assert sweep_photos(timezone.now()) == 0


def test_a_transaction_that_fails_later_leaves_files_to_the_sweep(folder, tree):
    with transaction.atomic():
        photo_of(tree)
        transaction.set_rollback(True)
    assert Photo.objects.count() == 0
    assert sweep_photos(timezone.now() + 2 * ORPHAN_AGE) == 1
    assert names(folder) == set()


@pytest.mark.postgresql
@pytest.mark.django_db(transaction=True)
def test_of_many_who_send_the_same_photo_at_once_one_keeps_it(folder, tree):
    picture, together, kept = read_picture(tiny()), Barrier(8), []

    def send():
        together.wait()
        try:
            photo = keep_photo(
                site=tree.site,
                tree=tree,
                person=None,
                helper=None,
                on=TODAY,
                now=timezone.now(),
                data=picture,
            )
            kept.append(photo.pk)
        finally:
            connection.close()

    threads = [Thread(target=send) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(kept) == 8
    assert len(set(kept)) == 1
    assert Photo.objects.count() == LogEntry.objects.count() == 1
    assert len(names(folder)) == 2
    assert default_storage.exists(Photo.objects.get().file_name)
