"""Addresses of photos, the helpers' among them."""

from django.urls import path

from care.views.helper_photos import (
    helper_photo,
    helper_photo_add,
    helper_photo_undo,
)
from care.views.photo_files import photo, photo_small
from care.views.photos import (
    photo_back,
    photo_edit,
    photo_page,
    photo_remove,
    tree_photo,
    tree_photos,
)

OF_TREE = "s/<slug:site>/trees/<uuid:tree>/photos/"
OF_PHOTO = "s/<slug:site>/photos/<uuid:photo>/"

PHOTO_ADDRESSES = [
    path(OF_TREE, tree_photos, name="tree_photos"),
    path(f"{OF_TREE}add/", tree_photo, name="tree_photo"),
    path(OF_PHOTO, photo, name="photo"),
    path(f"{OF_PHOTO}small/", photo_small, name="photo_small"),
    path(f"{OF_PHOTO}page/", photo_page, name="photo_page"),
    path(f"{OF_PHOTO}edit/", photo_edit, name="photo_edit"),
    path(f"{OF_PHOTO}take-back/", photo_remove, name="photo_remove"),
    path(f"{OF_PHOTO}put-back/", photo_back, name="photo_back"),
    path("h/photo/<uuid:task>/", helper_photo_add, name="helper_photo_add"),
    path("h/photos/<uuid:photo>/", helper_photo, name="helper_photo"),
    path("h/photos/<uuid:photo>/undo/", helper_photo_undo, name="helper_photo_undo"),
]
