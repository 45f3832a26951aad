"""The plan of a site: how it lies, its corners, and what stands there."""

from collections.abc import Mapping, Sequence

from django.db import transaction
from django.utils.translation import gettext_noop

from orchard.actions.audit import changed, note
from orchard.actions.places import raise_revision
from orchard.models import Corner, Feature, Person, Site, SitePlan
from orchard.plans.measured import Point
from orchard.plans.problems import PlanError
from orchard.plans.shapes import check_near, check_shape

#: More corners or features than these no plan of a garden has.
MOST_CORNERS, MOST_FEATURES = 50, 300
PlanValues = Mapping[str, object]


def lock_plan(site: Site) -> None:
    """Let nobody else write on a site's plan until this is done; a part of actions."""
    Site.objects.select_for_update().get(pk=site.pk)


@transaction.atomic
def set_plan(*, site: Site, values: PlanValues, person: Person | None = None) -> None:
    """Write how the plan lies on the earth.

    ``values`` are fields of ``SitePlan``; ``person`` is who does it, for the trail,
    here and below; ``None`` is the server.
    """
    lock_plan(site)
    plan, _ = SitePlan.objects.get_or_create(site=site)
    was, became = changed({name: getattr(plan, name) for name in values}, values)
    if not became:
        return
    for name, value in values.items():
        setattr(plan, name, value)
    plan.save(update_fields=list(values))
    _note(site, person, "plan_set", site.name, before=was, after=became)


def _note(
    site: Site,
    person: Person | None,
    what: str,
    subject: str,
    *,
    before: PlanValues | None = None,
    after: PlanValues | None = None,
) -> None:
    raise_revision(site)
    note(
        orchard=site.orchard,
        person=person,
        what=what,
        subject=subject,
        before=before,
        after=after,
    )


@transaction.atomic
def add_corners(
    *,
    site: Site,
    corners: Mapping[str, Point],
    measured: PlanValues | None = None,
    person: Person | None = None,
) -> list[Corner]:
    """Name corners at their places [m].

    Raises
    ------
    PlanError
        There are too many, one lies too far, or a corner has that name already.
    """
    lock_plan(site)
    if site.corners.count() + len(corners) > MOST_CORNERS:
        message = gettext_noop("{most} corners are the most a plan has.")
        raise PlanError(message, most=MOST_CORNERS)
    made = []
    for name, place in corners.items():
        _check_corner(site, name, place)
        corner = Corner(site=site, name=name, measured=dict(measured or {}))
        corner.x_m, corner.y_m = place
        corner.save()
        made.append(corner)
        _note(site, person, "corner_added", name, after=_place_values(place))
    return made


def _check_corner(
    site: Site, name: str, place: Point, corner: Corner | None = None
) -> None:
    check_near(place)
    others = site.corners.exclude(pk=corner.pk) if corner else site.corners.all()
    if any(each.name.casefold() == name.casefold() for each in others):
        message = gettext_noop("A corner here is called “{name}” already.")
        raise PlanError(message, about="name", name=name)


def _place_values(place: Point) -> dict[str, object]:
    return {"x_m": place[0], "y_m": place[1]}


@transaction.atomic
def change_corner(
    *, corner: Corner, name: str, place_m: Point, person: Person | None = None
) -> None:
    """Rename or move a corner; what was measured from it stays where it is.

    Raises
    ------
    PlanError
        It lies too far, or another corner has that name.
    """
    lock_plan(corner.site)
    _check_corner(corner.site, name, place_m, corner)
    before = {"name": corner.name, "x_m": corner.x_m, "y_m": corner.y_m}
    after = {"name": name, **_place_values(place_m)}
    was, became = changed(before, after)
    if not became:
        return
    if "name" not in became or len(became) > 1:
        corner.measured = {}  # it was measured to where it was
    corner.name, (corner.x_m, corner.y_m) = name, place_m
    corner.save()
    subject = str(before["name"])
    _note(corner.site, person, "corner_changed", subject, before=was, after=became)


@transaction.atomic
def remove_corner(*, corner: Corner, person: Person | None = None) -> None:
    """Forget a corner; what was measured from it stays where it is."""
    before = _place_values((corner.x_m, corner.y_m))
    corner.delete()
    _note(corner.site, person, "corner_removed", corner.name, before=before)


@transaction.atomic
def add_feature(
    *,
    site: Site,
    values: PlanValues,
    corners: Mapping[str, Point] | None = None,
    person: Person | None = None,
) -> Feature:
    """Put an area, a line or a point on the plan, and name its corners, if given.

    ``values`` are fields of ``Feature``.

    Raises
    ------
    PlanError
        Its shape cannot be, there are too many, a second boundary, or a corner's name
        is taken.
    """
    lock_plan(site)
    if site.features.count() >= MOST_FEATURES:
        message = gettext_noop("{most} things are the most a plan has.")
        raise PlanError(message, most=MOST_FEATURES)
    feature = Feature(site=site, **values)
    _check_feature(feature)
    feature.save()
    _note(site, person, "feature_added", str(feature), after=_told(values))
    if corners:
        add_corners(site=site, corners=corners, person=person)
    return feature


def _check_feature(feature: Feature) -> None:
    points: Sequence[Sequence[float]] = feature.points_m
    check_shape(feature.kind, [(float(x), float(y)) for x, y in points])
    is_boundary = feature.kind == Feature.Kind.BOUNDARY
    others = feature.site.features.filter(kind=feature.kind).exclude(pk=feature.pk)
    if is_boundary and others.exists():
        message = gettext_noop("The boundary is drawn already: change that one.")
        raise PlanError(message, about="kind")


def _told(values: PlanValues) -> dict[str, object]:
    return {name: value for name, value in values.items() if value not in (None, "")}


@transaction.atomic
def change_feature(
    *, feature: Feature, values: PlanValues, person: Person | None = None
) -> None:
    """Change what stands on the plan.

    Raises
    ------
    PlanError
        As :func:`add_feature`.
    """
    lock_plan(feature.site)
    subject = str(feature)
    was, became = changed({name: getattr(feature, name) for name in values}, values)
    for name, value in values.items():
        setattr(feature, name, value)
    _check_feature(feature)
    if not became:
        return
    feature.save(update_fields=list(values))
    _note(feature.site, person, "feature_changed", subject, before=was, after=became)


@transaction.atomic
def remove_feature(*, feature: Feature, person: Person | None = None) -> None:
    """Take a thing off the plan."""
    names = ("kind", "points_m", "height_m", "flow_l_per_min")
    before = _told({name: getattr(feature, name) for name in names})
    feature.delete()
    _note(feature.site, person, "feature_removed", str(feature), before=before)
