"""The addresses of helping, ways in, shifts and the rota: what each role gets."""

from tests.address_roles import EDIT, EDIT_PAGE, LOGIN, SEE, TICK, row

TICK_PAGE = row(LOGIN, 403, 200, 200, 200, 404)

# A label: a member is led to the tree, anybody else sees what hangs on it.
SCAN = row(200, 302, 302, 302, 302, 200)

ROWS: dict[str, tuple[str, dict[str, int], dict[str, object]]] = {
    "my_days": ("get", TICK_PAGE, {}),
    "helpings": ("get", EDIT_PAGE, {}),
    "helping": ("get", EDIT_PAGE, {}),
    "signed_papers": ("get", SEE, {}),
    "signed_paper_remove": ("post", EDIT, {}),
    "ways_in": ("get", SEE, {}),
    "way_in_edit": ("get", EDIT_PAGE, {}),
    "contact_add": ("get", EDIT_PAGE, {}),
    "contact_edit": ("get", EDIT_PAGE, {}),
    "contact_remove": ("post", EDIT, {}),
    "under_tree": ("get", SEE, {}),
    "hose": ("get", TICK_PAGE, {}),
    # Whoever may log is told that no tree was chosen.
    "hose_run": ("post", row(LOGIN, 403, 422, 422, 422, 404), {}),
    "round_begin": ("post", TICK, {}),
    "walk_minutes": ("post", TICK, {"minutes": "40"}),
    "fresh_plan": ("get", EDIT_PAGE, {}),
    "walk_sheets": ("get", SEE, {}),
    "round_sheet": ("get", SEE, {}),
    "workday_sheet": ("get", SEE, {}),
    "tree_labels": ("get", SEE, {}),
    "tree_scan": ("get", SCAN, {}),
    "tree_tell": ("post", row(*[302] * 6), {"seen": "A branch broke."}),
    "shifts": ("get", SEE, {}),
    "shift": ("get", SEE, {}),
    "shift_add": ("get", EDIT_PAGE, {}),
    "shift_edit": ("get", EDIT_PAGE, {}),
    "shift_cancel": ("post", EDIT, {"why": "Fair in town"}),
    "shift_move": ("get", EDIT_PAGE, {}),
    "shift_begin": ("post", TICK, {}),
    "shift_ladders": ("post", EDIT, {}),
    "series_add": ("get", EDIT_PAGE, {}),
    "series_end": ("post", EDIT, {}),
    "my_shifts": ("get", SEE, {}),
    "shift_hours": ("get", EDIT_PAGE, {}),
    "place_accept": ("post", TICK, {}),
    "place_refuse": ("post", TICK, {}),
    "place_offer": ("post", TICK, {}),
    "place_keep": ("post", TICK, {}),
    "place_claim": ("post", TICK, {}),
    "place_leave": ("post", TICK, {}),
    "place_swap": ("post", TICK, {}),
    "place_decline": ("post", TICK, {}),
    "place_missed": ("post", TICK, {}),
    "place_hours": ("post", TICK, {"minutes": "60"}),
    "rota": ("get", SEE, {}),
    "rota_propose": ("post", EDIT, {}),
    "rota_clear": ("post", EDIT, {}),
    "rota_publish": ("get", EDIT_PAGE, {}),
    "rota_assign": ("get", EDIT_PAGE, {}),
}
