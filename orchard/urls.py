"""Addresses of the pages that edit what exists."""

from django.urls import path

from orchard.views import (
    signin,
    site_settings,
    start,
    trees,
    trees_paste,
    weather,
    weather_import,
    weather_normals,
    you,
)

urlpatterns = [
    path("signin/<str:token>/", signin.signin_once, name="signin_once"),
    path("start/", start.start, name="start"),
    path("you/", you.you, name="you"),
    path("s/<slug:site>/trees/add/", trees.tree_add, name="tree_add"),
    path("s/<slug:site>/trees/paste/", trees_paste.trees_paste, name="trees_paste"),
    path("s/<slug:site>/trees/<uuid:tree>/edit/", trees.tree_edit, name="tree_edit"),
    path("s/<slug:site>/settings/", site_settings.site_settings, name="site_settings"),
    path("s/<slug:site>/weather/", weather.weather, name="weather"),
    path(
        "s/<slug:site>/weather/import/",
        weather_import.weather_import,
        name="weather_import",
    ),
    path(
        "s/<slug:site>/weather/normals/",
        weather_normals.weather_normals,
        name="weather_normals",
    ),
    path(
        "s/<slug:site>/weather/<int:batch>/take-back/",
        weather.weather_take_back,
        name="weather_take_back",
    ),
]
