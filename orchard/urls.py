"""Addresses of the pages that edit what exists."""

from django.urls import path

from orchard.views import (
    doubts,
    helping,
    in_care,
    irrigation,
    join,
    kind_figures,
    kinds,
    messages,
    my_days,
    people,
    plan_corners,
    plan_features,
    plan_files,
    plan_measure,
    signed_papers,
    signin,
    site_settings,
    start,
    station_keys,
    trail,
    trees,
    trees_paste,
    ways_in,
    weather,
    weather_import,
    weather_normals,
    weather_sources,
    you,
)

urlpatterns = [
    path("signin/<str:token>/", signin.signin_once, name="signin_once"),
    path("join/<str:invitation>/", join.join, name="join"),
    path("start/", start.start, name="start"),
    path(
        "station/<str:key_token>", station_keys.station_push, name="station_push_bare"
    ),
    path("station/<str:key_token>/", station_keys.station_push, name="station_push"),
    path(
        "station/<str:key_token>/<path:ending>",
        station_keys.station_push,
        name="station_push_ending",
    ),
    path("you/", you.you, name="you"),
    path("you/messages/", messages.message_choices, name="message_choices"),
    path("you/sessions/<int:session>/end/", you.session_end, name="session_end"),
    path("s/<slug:site>/trees/add/", trees.tree_add, name="tree_add"),
    path("s/<slug:site>/trees/paste/", trees_paste.trees_paste, name="trees_paste"),
    path("s/<slug:site>/trees/<uuid:tree>/edit/", trees.tree_edit, name="tree_edit"),
    path("s/<slug:site>/irrigation/", irrigation.irrigation, name="irrigation"),
    path(
        "s/<slug:site>/irrigation/end/",
        irrigation.irrigation_end,
        name="irrigation_end",
    ),
    path("s/<slug:site>/kinds/", kinds.kinds, name="kinds"),
    path("s/<slug:site>/kinds/add/", kinds.kind_add, name="kind_add"),
    path("s/<slug:site>/kinds/<slug:kind>/", kinds.kind, name="kind"),
    path(
        "s/<slug:site>/kinds/<slug:own_kind>/remove/",
        kinds.kind_remove,
        name="kind_remove",
    ),
    path(
        "s/<slug:site>/kinds/<slug:kind>/figures/<slug:figure>/",
        kind_figures.kind_figure,
        name="kind_figure",
    ),
    path(
        "s/<slug:site>/kinds/<slug:kind>/cultivars/add/",
        kinds.cultivar_add,
        name="cultivar_add",
    ),
    path(
        "s/<slug:site>/kinds/<slug:kind>/cultivars/<int:own_cultivar>/remove/",
        kinds.cultivar_remove,
        name="cultivar_remove",
    ),
    path(
        "s/<slug:site>/kinds/<slug:kind>/cultivars/<slug:cultivar>/figures/"
        "<slug:figure>/",
        kind_figures.cultivar_figure,
        name="cultivar_figure",
    ),
    path(
        "s/<slug:site>/trees/<uuid:tree>/figures/<slug:figure>/",
        kind_figures.tree_figure,
        name="tree_figure",
    ),
    path("s/<slug:site>/settings/", site_settings.site_settings, name="site_settings"),
    path("s/<slug:site>/people/", people.people, name="people"),
    path("s/<slug:site>/people/invite/", people.people_invite, name="people_invite"),
    path(
        "s/<slug:site>/people/invites/<int:invite>/revoke/",
        people.invite_revoke,
        name="invite_revoke",
    ),
    path("s/<slug:site>/people/leave/", people.people_leave, name="people_leave"),
    path(
        "s/<slug:site>/people/<int:member>/role/",
        people.people_role,
        name="people_role",
    ),
    path(
        "s/<slug:site>/people/<int:member>/help-in/",
        people.people_help_in,
        name="people_help_in",
    ),
    path(
        "s/<slug:site>/people/<int:member>/remove/",
        people.people_remove,
        name="people_remove",
    ),
    path("s/<slug:site>/people/trail/", trail.people_trail, name="people_trail"),
    path(
        "s/<slug:site>/people/trail.csv",
        trail.people_trail_csv,
        name="people_trail_csv",
    ),
    path("s/<slug:site>/people/helping/", helping.helpings, name="helpings"),
    path("s/<slug:site>/people/<int:member>/helping/", helping.helping, name="helping"),
    path(
        "s/<slug:site>/people/papers/",
        signed_papers.signed_papers,
        name="signed_papers",
    ),
    path(
        "s/<slug:site>/people/papers/<int:paper>/remove/",
        signed_papers.signed_paper_remove,
        name="signed_paper_remove",
    ),
    path("s/<slug:site>/days/", my_days.my_days, name="my_days"),
    path("s/<slug:site>/ways-in/", ways_in.ways_in, name="ways_in"),
    path("s/<slug:site>/ways-in/edit/", ways_in.way_in_edit, name="way_in_edit"),
    path(
        "s/<slug:site>/ways-in/contacts/add/", ways_in.contact_add, name="contact_add"
    ),
    path(
        "s/<slug:site>/ways-in/contacts/<int:contact>/",
        ways_in.contact_edit,
        name="contact_edit",
    ),
    path(
        "s/<slug:site>/ways-in/contacts/<int:contact>/remove/",
        ways_in.contact_remove,
        name="contact_remove",
    ),
    path("s/<slug:site>/care/", in_care.in_care, name="in_care"),
    path("s/<slug:site>/care/take/", in_care.in_care_take, name="in_care_take"),
    path("s/<slug:site>/care/leave/", in_care.in_care_leave, name="in_care_leave"),
    path("s/<slug:site>/plan/measure/", plan_measure.plan_measure, name="plan_measure"),
    path(
        "s/<slug:site>/plan/measure/place/", plan_measure.plan_place, name="plan_place"
    ),
    path("s/<slug:site>/plan/measure/row/", plan_measure.plan_row, name="plan_row"),
    path(
        "s/<slug:site>/plan/measure/forget/",
        plan_measure.plan_place_clear,
        name="plan_place_clear",
    ),
    path("s/<slug:site>/plan/corners/", plan_corners.plan_corners, name="plan_corners"),
    path("s/<slug:site>/plan/corners/add/", plan_corners.corner_add, name="corner_add"),
    path("s/<slug:site>/plan/corners/axes/", plan_corners.plan_axes, name="plan_axes"),
    path(
        "s/<slug:site>/plan/corners/<int:corner>/",
        plan_corners.corner_edit,
        name="corner_edit",
    ),
    path(
        "s/<slug:site>/plan/corners/<int:corner>/remove/",
        plan_corners.corner_remove,
        name="corner_remove",
    ),
    path(
        "s/<slug:site>/plan/features/",
        plan_features.plan_features,
        name="plan_features",
    ),
    path(
        "s/<slug:site>/plan/features/add/",
        plan_features.feature_add,
        name="feature_add",
    ),
    path(
        "s/<slug:site>/plan/features/<int:feature>/",
        plan_features.feature_edit,
        name="feature_edit",
    ),
    path(
        "s/<slug:site>/plan/features/<int:feature>/remove/",
        plan_features.feature_remove,
        name="feature_remove",
    ),
    path(
        "s/<slug:site>/plan/plan.geojson",
        plan_files.plan_geojson,
        name="plan_geojson",
    ),
    path("s/<slug:site>/plan/import/", plan_files.plan_import, name="plan_import"),
    path(
        "s/<slug:site>/plan/import/<int:plan_file>/take-back/",
        plan_files.plan_import_undo,
        name="plan_import_undo",
    ),
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
        "s/<slug:site>/weather/services/",
        weather_sources.weather_sources,
        name="weather_sources",
    ),
    path(
        "s/<slug:site>/weather/services/ask/",
        weather_sources.weather_ask,
        name="weather_ask",
    ),
    path(
        "s/<slug:site>/weather/<int:batch>/take-back/",
        weather.weather_take_back,
        name="weather_take_back",
    ),
    path(
        "s/<slug:site>/weather/doubts/<int:doubt>/",
        doubts.doubt_settle,
        name="doubt_settle",
    ),
    path(
        "s/<slug:site>/weather/station/",
        station_keys.station_keys,
        name="station_keys",
    ),
    path(
        "s/<slug:site>/weather/station/<int:key>/revoke/",
        station_keys.station_key_revoke,
        name="station_key_revoke",
    ),
]
