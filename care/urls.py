"""Addresses of the pages that show the plan and the log."""

from django.urls import path

from care.views.all_done import all_done
from care.views.away import away
from care.views.calendar_links import calendar_file, calendar_links, calendar_revoke
from care.views.differing_sources import differing_sources
from care.views.fit import fit, fit_kind, ripening_page
from care.views.fresh_plan import fresh_plan
from care.views.helper import (
    helper,
    helper_note,
    helper_open,
    helper_tick,
    helper_undo,
    helper_units,
)
from care.views.helper_links import helper_link_revoke, helper_links
from care.views.hindcast import hindcast, hindcast_wish
from care.views.hose import hose, hose_run
from care.views.logbook import entry_undo, log_page
from care.views.my_shifts import hours, my_shifts
from care.views.partners import (
    neighbour_add,
    neighbour_back,
    neighbour_remove,
    partners,
)
from care.views.photo_addresses import PHOTO_ADDRESSES
from care.views.places import (
    place_accept,
    place_claim,
    place_decline,
    place_hours,
    place_keep,
    place_leave,
    place_missed,
    place_offer,
    place_refuse,
    place_swap,
)
from care.views.placing import placing, placing_back, placing_keep
from care.views.plan import plan, plan_drawing
from care.views.planting_sheet import (
    planting_sheet,
    tree_planting_sheet,
    wanted_sheet,
    wanted_stands,
    wanted_step,
    wanted_step_undo,
)
from care.views.plantings import (
    planting,
    planting_add,
    planting_days,
    planting_edit,
    plantings,
)
from care.views.pocket import pocket
from care.views.rota import rota, rota_clear, rota_propose, rota_publish
from care.views.rota_place import rota_assign
from care.views.round import block_done, home, live_on, round_page
from care.views.season import season
from care.views.sendings import sendings
from care.views.shift_making import series_add, series_end, shift_add
from care.views.shift_page import shift
from care.views.shift_steps import (
    shift_begin,
    shift_cancel,
    shift_edit,
    shift_ladders,
    shift_move,
)
from care.views.shifts import shifts
from care.views.shopping import planting_shopping
from care.views.tasks import task_answer, task_done, task_later, task_page, task_skip
from care.views.tree_labels import tree_labels, tree_scan, tree_tell
from care.views.tree_log import (
    tree_end,
    tree_harvest,
    tree_manure,
    tree_move,
    tree_note,
    tree_observe,
    tree_spray,
    tree_water,
)
from care.views.tree_moves import (
    tree_graft,
    tree_graft_end,
    tree_replace,
    tree_repot,
    tree_to_ground,
    tree_to_pot,
)
from care.views.trees import tree_list, tree_page
from care.views.under_tree import under_tree
from care.views.walk_minutes import round_begin, walk_minutes
from care.views.wanted import wanted_add, wanted_day, wanted_edit, wanted_remove
from care.views.watered import water_all, water_none, water_seen
from care.views.workday_sheet import round_sheet, walk_sheets, workday_sheet
from care.views.working_page import working_page

urlpatterns = [
    path("", home, name="home"),
    path("where-sources-differ/", differing_sources, name="differing_sources"),
    path("s/<slug:site>/", round_page, name="round"),
    path("s/<slug:site>/pocket/", pocket, name="pocket"),
    path("s/<slug:site>/sending/", sendings, name="sendings"),
    path("s/<slug:site>/live-on/", live_on, name="live_on"),
    path("s/<slug:site>/begin/", round_begin, name="round_begin"),
    path("s/<slug:site>/fresh-plan/", fresh_plan, name="fresh_plan"),
    path("s/<slug:site>/walk-minutes/", walk_minutes, name="walk_minutes"),
    path("s/<slug:site>/all-done/", all_done, name="all_done"),
    path("s/<slug:site>/hose/", hose, name="hose"),
    path("s/<slug:site>/hose/run/", hose_run, name="hose_run"),
    path("s/<slug:site>/round/tree/", under_tree, name="under_tree"),
    path("s/<slug:site>/water-all/", water_all, name="water_all"),
    path("s/<slug:site>/water-none/", water_none, name="water_none"),
    path("s/<slug:site>/water-seen/", water_seen, name="water_seen"),
    path(
        "s/<slug:site>/blocks/<int:block>/done/",
        block_done,
        name="block_done",
    ),
    path("s/<slug:site>/tasks/<uuid:task>/", task_page, name="task"),
    path(
        "s/<slug:site>/tasks/<uuid:task>/working/",
        working_page,
        name="task_working",
    ),
    path("s/<slug:site>/tasks/<uuid:task>/done/", task_done, name="task_done"),
    path("s/<slug:site>/tasks/<uuid:task>/skip/", task_skip, name="task_skip"),
    path("s/<slug:site>/tasks/<uuid:task>/later/", task_later, name="task_later"),
    path(
        "s/<slug:site>/tasks/<uuid:task>/answer/",
        task_answer,
        name="task_answer",
    ),
    path("s/<slug:site>/planting/", plantings, name="plantings"),
    path("s/<slug:site>/planting/add/", planting_add, name="planting_add"),
    path("s/<slug:site>/planting/<uuid:planting>/", planting, name="planting"),
    path(
        "s/<slug:site>/planting/<uuid:planting>/edit/",
        planting_edit,
        name="planting_edit",
    ),
    path(
        "s/<slug:site>/planting/<uuid:planting>/days/",
        planting_days,
        name="planting_days",
    ),
    path(
        "s/<slug:site>/planting/<uuid:planting>/trees/add/",
        wanted_add,
        name="wanted_add",
    ),
    path("s/<slug:site>/wanted/<uuid:wanted>/edit/", wanted_edit, name="wanted_edit"),
    path(
        "s/<slug:site>/wanted/<uuid:wanted>/remove/",
        wanted_remove,
        name="wanted_remove",
    ),
    path("s/<slug:site>/wanted/<uuid:wanted>/day/", wanted_day, name="wanted_day"),
    path("s/<slug:site>/planting/fit/", fit, name="fit"),
    path("s/<slug:site>/planting/fit/<slug:kind>/", fit_kind, name="fit_kind"),
    path("s/<slug:site>/planting/ripening/", ripening_page, name="ripening"),
    path("s/<slug:site>/planting/partners/", partners, name="partners"),
    path(
        "s/<slug:site>/planting/partners/neighbours/",
        neighbour_add,
        name="neighbour_add",
    ),
    path(
        "s/<slug:site>/planting/partners/neighbours/back/",
        neighbour_back,
        name="neighbour_back",
    ),
    path(
        "s/<slug:site>/planting/partners/neighbours/<int:neighbour>/remove/",
        neighbour_remove,
        name="neighbour_remove",
    ),
    path(
        "s/<slug:site>/planting/<uuid:planting>/sheet/",
        planting_sheet,
        name="planting_sheet",
    ),
    path(
        "s/<slug:site>/planting/<uuid:planting>/shopping/",
        planting_shopping,
        name="planting_shopping",
    ),
    path("s/<slug:site>/wanted/<uuid:wanted>/", wanted_sheet, name="wanted_sheet"),
    path(
        "s/<slug:site>/wanted/<uuid:wanted>/steps/<slug:step>/",
        wanted_step,
        name="wanted_step",
    ),
    path(
        "s/<slug:site>/wanted/<uuid:wanted>/steps/<slug:step>/undo/",
        wanted_step_undo,
        name="wanted_step_undo",
    ),
    path(
        "s/<slug:site>/wanted/<uuid:wanted>/stands/",
        wanted_stands,
        name="wanted_stands",
    ),
    path("s/<slug:site>/planting/<uuid:planting>/placing/", placing, name="placing"),
    path(
        "s/<slug:site>/planting/<uuid:planting>/placing/keep/",
        placing_keep,
        name="placing_keep",
    ),
    path(
        "s/<slug:site>/planting/<uuid:planting>/placing/back/",
        placing_back,
        name="placing_back",
    ),
    path("s/<slug:site>/my-shifts/", my_shifts, name="my_shifts"),
    path("s/<slug:site>/shifts/hours/", hours, name="shift_hours"),
    path(
        "s/<slug:site>/shifts/places/<int:place>/accept/",
        place_accept,
        name="place_accept",
    ),
    path(
        "s/<slug:site>/shifts/places/<int:place>/refuse/",
        place_refuse,
        name="place_refuse",
    ),
    path(
        "s/<slug:site>/shifts/places/<int:place>/offer/",
        place_offer,
        name="place_offer",
    ),
    path(
        "s/<slug:site>/shifts/places/<int:place>/keep/", place_keep, name="place_keep"
    ),
    path(
        "s/<slug:site>/shifts/places/<int:place>/claim/",
        place_claim,
        name="place_claim",
    ),
    path(
        "s/<slug:site>/shifts/places/<int:place>/leave/",
        place_leave,
        name="place_leave",
    ),
    path(
        "s/<slug:site>/shifts/places/<int:place>/swap/", place_swap, name="place_swap"
    ),
    path(
        "s/<slug:site>/shifts/places/<int:place>/decline/",
        place_decline,
        name="place_decline",
    ),
    path(
        "s/<slug:site>/shifts/places/<int:place>/missed/",
        place_missed,
        name="place_missed",
    ),
    path(
        "s/<slug:site>/shifts/places/<int:place>/hours/",
        place_hours,
        name="place_hours",
    ),
    path("s/<slug:site>/rota/", rota, name="rota"),
    path("s/<slug:site>/rota/propose/", rota_propose, name="rota_propose"),
    path("s/<slug:site>/rota/clear/", rota_clear, name="rota_clear"),
    path("s/<slug:site>/rota/publish/", rota_publish, name="rota_publish"),
    path("s/<slug:site>/rota/places/<int:place>/", rota_assign, name="rota_assign"),
    path("s/<slug:site>/shifts/", shifts, name="shifts"),
    path("s/<slug:site>/shifts/add/", shift_add, name="shift_add"),
    path("s/<slug:site>/shifts/repeat/", series_add, name="series_add"),
    path(
        "s/<slug:site>/shifts/repeat/<int:series>/end/",
        series_end,
        name="series_end",
    ),
    path("s/<slug:site>/shifts/<uuid:shift>/", shift, name="shift"),
    path("s/<slug:site>/shifts/<uuid:shift>/edit/", shift_edit, name="shift_edit"),
    path(
        "s/<slug:site>/shifts/<uuid:shift>/cancel/",
        shift_cancel,
        name="shift_cancel",
    ),
    path("s/<slug:site>/shifts/<uuid:shift>/move/", shift_move, name="shift_move"),
    path("s/<slug:site>/shifts/<uuid:shift>/begin/", shift_begin, name="shift_begin"),
    path(
        "s/<slug:site>/shifts/<uuid:shift>/ladders/",
        shift_ladders,
        name="shift_ladders",
    ),
    path("s/<slug:site>/log/", log_page, name="log"),
    path("s/<slug:site>/log/<uuid:entry>/undo/", entry_undo, name="entry_undo"),
    path("s/<slug:site>/season/", season, name="season"),
    path("s/<slug:site>/looking-back/", hindcast, name="hindcast"),
    path("s/<slug:site>/looking-back/wish/", hindcast_wish, name="hindcast_wish"),
    path("s/<slug:site>/away/", away, name="away"),
    path("s/<slug:site>/plan/", plan, name="plan"),
    path("s/<slug:site>/plan/drawing/", plan_drawing, name="plan_drawing"),
    path("s/<slug:site>/trees/", tree_list, name="trees"),
    path("s/<slug:site>/trees/labels/", tree_labels, name="tree_labels"),
    path("t/<str:code>/", tree_scan, name="tree_scan"),
    path("t/<str:code>/tell/", tree_tell, name="tree_tell"),
    path("s/<slug:site>/rounds/sheets/", walk_sheets, name="walk_sheets"),
    path(
        "s/<slug:site>/rounds/<uuid:round>/sheet/",
        round_sheet,
        name="round_sheet",
    ),
    path(
        "s/<slug:site>/shifts/<uuid:shift>/sheet/",
        workday_sheet,
        name="workday_sheet",
    ),
    path("s/<slug:site>/trees/<uuid:tree>/", tree_page, name="tree"),
    path(
        "s/<slug:site>/trees/<uuid:tree>/observe/",
        tree_observe,
        name="tree_observe",
    ),
    path(
        "s/<slug:site>/trees/<uuid:tree>/harvest/",
        tree_harvest,
        name="tree_harvest",
    ),
    path("s/<slug:site>/trees/<uuid:tree>/water/", tree_water, name="tree_water"),
    path("s/<slug:site>/trees/<uuid:tree>/spray/", tree_spray, name="tree_spray"),
    path("s/<slug:site>/trees/<uuid:tree>/manure/", tree_manure, name="tree_manure"),
    path("s/<slug:site>/trees/<uuid:tree>/move/", tree_move, name="tree_move"),
    path("s/<slug:site>/trees/<uuid:tree>/end/", tree_end, name="tree_end"),
    path("s/<slug:site>/trees/<uuid:tree>/repot/", tree_repot, name="tree_repot"),
    path(
        "s/<slug:site>/trees/<uuid:tree>/to-ground/",
        tree_to_ground,
        name="tree_to_ground",
    ),
    path("s/<slug:site>/trees/<uuid:tree>/to-pot/", tree_to_pot, name="tree_to_pot"),
    path("s/<slug:site>/trees/<uuid:tree>/replace/", tree_replace, name="tree_replace"),
    path("s/<slug:site>/trees/<uuid:tree>/grafts/", tree_graft, name="tree_graft"),
    path(
        "s/<slug:site>/trees/<uuid:tree>/grafts/<int:graft>/end/",
        tree_graft_end,
        name="tree_graft_end",
    ),
    path("s/<slug:site>/trees/<uuid:tree>/note/", tree_note, name="tree_note"),
    *PHOTO_ADDRESSES,
    path(
        "s/<slug:site>/trees/<uuid:tree>/planting-sheet/",
        tree_planting_sheet,
        name="tree_planting_sheet",
    ),
    path("s/<slug:site>/calendar/", calendar_links, name="calendar_links"),
    path(
        "s/<slug:site>/calendar/<int:link>/revoke/",
        calendar_revoke,
        name="calendar_revoke",
    ),
    path("calendar/<str:token>.ics", calendar_file, name="calendar"),
    path("s/<slug:site>/helpers/", helper_links, name="helper_links"),
    path(
        "s/<slug:site>/helpers/<int:helper_link>/revoke/",
        helper_link_revoke,
        name="helper_link_revoke",
    ),
    path("h/", helper, name="helper"),
    path("h/units/", helper_units, name="helper_units"),
    path("h/tick/<uuid:task>/", helper_tick, name="helper_tick"),
    path("h/note/<uuid:task>/", helper_note, name="helper_note"),
    path("h/undo/<uuid:entry>/", helper_undo, name="helper_undo"),
    path("h/<str:helper_token>/", helper_open, name="helper_open"),
]
