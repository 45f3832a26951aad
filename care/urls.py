"""Addresses of the pages that show the plan and the log."""

from django.urls import path

from care.views import calendar_links, logbook, round as round_views, tasks, trees

urlpatterns = [
    path("", round_views.home, name="home"),
    path("s/<slug:site>/", round_views.round_page, name="round"),
    path("s/<slug:site>/live-on/", round_views.live_on, name="live_on"),
    path("s/<slug:site>/water-all/", round_views.water_all, name="water_all"),
    path("s/<slug:site>/water-none/", round_views.water_none, name="water_none"),
    path(
        "s/<slug:site>/blocks/<int:block>/done/",
        round_views.block_done,
        name="block_done",
    ),
    path("s/<slug:site>/tasks/<uuid:task>/", tasks.task_page, name="task"),
    path("s/<slug:site>/tasks/<uuid:task>/done/", tasks.task_done, name="task_done"),
    path("s/<slug:site>/tasks/<uuid:task>/skip/", tasks.task_skip, name="task_skip"),
    path("s/<slug:site>/tasks/<uuid:task>/later/", tasks.task_later, name="task_later"),
    path(
        "s/<slug:site>/tasks/<uuid:task>/answer/",
        tasks.task_answer,
        name="task_answer",
    ),
    path("s/<slug:site>/log/", logbook.log_page, name="log"),
    path("s/<slug:site>/log/<uuid:entry>/undo/", logbook.entry_undo, name="entry_undo"),
    path("s/<slug:site>/trees/", trees.tree_list, name="trees"),
    path("s/<slug:site>/trees/<uuid:tree>/", trees.tree_page, name="tree"),
    path(
        "s/<slug:site>/trees/<uuid:tree>/observe/",
        trees.tree_observe,
        name="tree_observe",
    ),
    path(
        "s/<slug:site>/trees/<uuid:tree>/harvest/",
        trees.tree_harvest,
        name="tree_harvest",
    ),
    path("s/<slug:site>/trees/<uuid:tree>/move/", trees.tree_move, name="tree_move"),
    path("s/<slug:site>/trees/<uuid:tree>/end/", trees.tree_end, name="tree_end"),
    path("s/<slug:site>/trees/<uuid:tree>/note/", trees.tree_note, name="tree_note"),
    path(
        "s/<slug:site>/calendar/", calendar_links.calendar_links, name="calendar_links"
    ),
    path(
        "s/<slug:site>/calendar/<int:link>/revoke/",
        calendar_links.calendar_revoke,
        name="calendar_revoke",
    ),
    path("calendar/<str:token>.ics", calendar_links.calendar_file, name="calendar"),
]
