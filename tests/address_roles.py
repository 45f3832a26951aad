"""What each role gets at an address, in the words of the table of addresses."""

ROLES = (
    "anonymous",
    "viewer",
    "grower",
    "coordinator",
    "owner",
    "stranger",
    "ex_member",
    "helper",
)
NOT_SIGNED_IN = ("anonymous", "helper")
LOGIN = 302  # sent to the sign-in page


def row(
    anonymous: int,
    viewer: int,
    grower: int,
    coordinator: int,
    owner: int,
    stranger: int,
    helper: int | None = None,
):
    """Say what each role gets: a former member what a stranger does, always."""
    members = (viewer, grower, coordinator, owner)
    by_cookie = anonymous if helper is None else helper
    gets = (anonymous, *members, stranger, stranger, by_cookie)
    return dict(zip(ROLES, gets, strict=True))


SEE = row(LOGIN, 200, 200, 200, 200, 404)
EDIT_PAGE = row(LOGIN, 403, 403, 200, 200, 404)
TICK = row(LOGIN, 403, 302, 302, 302, 404)
EDIT = row(LOGIN, 403, 403, 302, 302, 404)
GOVERN_PAGE = row(LOGIN, 403, 403, 403, 200, 404)
GOVERN = row(LOGIN, 403, 403, 403, 302, 404)
OWN = row(LOGIN, 302, 302, 302, 302, 404)
ANYBODY = row(200, 200, 200, 200, 200, 200)
SIGNED_IN = row(LOGIN, 200, 200, 200, 200, 200)
HOME = row(302, 302, 302, 302, 302, 302)
HELPER_PAGE = row(404, 404, 404, 404, 404, 404, helper=200)
HELPER = row(404, 404, 404, 404, 404, 404, helper=302)
