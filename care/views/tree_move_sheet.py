"""A tree's page: its moves, its grafts, and whose place it took."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.db.models import Max, Q
from django.urls import NoReverseMatch, reverse
from django.utils.translation import gettext

from care.forms.grafts import GraftEndForm, GraftForm
from care.forms.tree_moves import DigForm, GroundForm, Moving, ReplaceForm, RepotForm
from care.models import LogEntry
from care.planning.kinds import Kinds, kinds_of
from care.planning.moves import is_heavy, next_step, wet_weight_kg
from care.views.cautions import caution_words
from care.views.days import full_day
from orchard.models import Graft, Tree, WantedTree
from orchard.units import format_quantity
from orchard.views.site_page import SitePage

DIGGING = ("wait_for_marks", "hand_dig_near_marks", "keep_back_straight")
MOST_BEFORE = 5  # trees told of at one place
POT_WORK = ("damp_potting_dust",)
HEAVY = ("two_people_lift", "move_before_watering")
#: Entries after which a tree grows where and in what it grows now.
CAME_HERE = Q(kind="potting", amount__gt=0) | Q(kind="planting", key__endswith="/plant")


@dataclass(frozen=True, slots=True)
class AtItsPlace:
    """A tree, or a wish, before or after this one at its place."""

    words: str
    name: str
    address: str
    when: str


@dataclass(frozen=True, slots=True)
class GraftLine:
    """A cultivar grafted on, with the form that ends it."""

    graft: Graft
    words: str
    form: GraftEndForm


def moving_of(page: SitePage, tree: Tree) -> Moving:
    """Return what the forms of a move must know."""
    last = LogEntry.objects.filter(
        CAME_HERE, tree=tree, what=LogEntry.What.DONE, voided_at=None
    ).aggregate(last=Max("on"))["last"]
    days = [day for day in (tree.planted_on, last) if day is not None]
    return Moving(
        tree=tree,
        today=page.today,
        units=page.units,
        blocks=tuple(page.site.blocks.values_list("pk", "name")),
        since=max(days, default=None),
    )


def move_context(
    page: SitePage, tree: Tree, kinds: Kinds, grafts: Iterable[Graft]
) -> dict[str, object]:
    """Return what a tree's page shows of its moves and of the grafts that live."""
    context: dict[str, object] = {
        "grafts": graft_lines(grafts, tree, page.today, kinds),
        "stood_before": _before(tree, page),
        "stands_after": _after(tree, page),
    }
    if tree.status != Tree.Status.ALIVE:
        return context | _replacing(tree, kinds, may_edit=page.may_edit)
    if not page.may_tick or tree.is_planned(page.today):
        return context
    catalogue = kinds.catalogue
    context |= _moves(page, tree, kinds)
    return context | {
        "graft_form": GraftForm(tree=tree, catalogue=catalogue, today=page.today),
        "kinds": sorted(one.shown_name for one in catalogue.species.values()),
        "cultivars": [one.name for one in catalogue.cultivars_of(tree.species_key)],
    }


def _moves(page: SitePage, tree: Tree, kinds: Kinds) -> dict[str, object]:
    moving = moving_of(page, tree)
    if not tree.in_container:
        return {
            "dig_form": DigForm(moving=moving),
            "dig_cautions": caution_words((*DIGGING, *HEAVY, *POT_WORK)),
        }
    heavy = HEAVY if is_heavy(_litres(tree), tree.container_medium) else ()
    return {
        "repot_form": RepotForm(moving=moving),
        "repot_step": step_words(tree, page, kinds),
        "repot_cautions": caution_words((*POT_WORK, *heavy)),
        "ground_form": GroundForm(moving=moving),
        "ground_cautions": caution_words((*DIGGING, *heavy)),
    }


def _litres(tree: Tree) -> float:
    return tree.container_litres or 0.0


def step_words(tree: Tree, page: SitePage, kinds: Kinds) -> str:
    """Return how large the next pot should be, and what it will weigh."""
    step = next_step(_litres(tree), kinds.of_tree(tree))
    units = page.units
    careful, advised, most, now = (
        format_quantity(round(each), "L", units)
        for each in (step.careful_l, step.advised_l, step.most_l, _litres(tree))
    )
    heavy = format_quantity(wet_weight_kg(step.advised_l, "mix"), "kg", units)
    usual = gettext("From {now} the usual next pot holds {advised}.").format(
        now=now, advised=advised
    )
    if step.is_small:
        why = gettext("Its kind rots in wet mix that no root drinks from.")
        usual = f"{usual} {why}"
    rules = gettext(
        "Published rules: {careful} (two inches wider) or at most {most} (three times as "
        "much). Soaked, {advised} weigh about {heavy}."
    ).format(advised=advised, careful=careful, most=most, heavy=heavy)
    return f"{usual} {rules}"


def too_large_words(
    before_l: float, after_l: float, tree: Tree, page: SitePage, kinds: Kinds
) -> str:
    """Return a warning where a pot is larger than the rules allow, else nothing."""
    step = next_step(before_l, kinds.of_tree(tree))
    if not before_l or after_l <= step.limit_l:
        return ""
    limit = step.advised_l if step.is_small else step.most_l
    most = format_quantity(round(limit), "L", page.units)
    return " " + gettext(
        "That is a large step: rules stop at {most}. Water it with care, "
        "for mix that no root reaches stays wet."
    ).format(most=most)


def graft_lines(
    grafts: Iterable[Graft], tree: Tree, today: date, kinds: Kinds
) -> tuple[GraftLine, ...]:
    """Return the cultivars that live on a tree besides its own."""
    return tuple(
        GraftLine(
            graft=graft,
            words=_since(graft, tree, kinds),
            form=GraftEndForm(graft=graft, today=today),
        )
        for graft in grafts
    )


def _since(graft: Graft, tree: Tree, kinds: Kinds) -> str:
    day = full_day(graft.grafted_on)
    if graft.species_key == tree.species_key:
        return gettext("since {day}").format(day=day)
    species = kinds.catalogue.species.get(graft.species_key)
    return gettext("{kind}, since {day}").format(
        kind=species.shown_name if species else graft.species_key, day=day
    )


def _replacing(tree: Tree, kinds: Kinds, *, may_edit: bool) -> dict[str, object]:
    if not may_edit:
        return {}
    return {
        "replace_form": replace_form(None, tree, kinds),
        "kinds": sorted(one.shown_name for one in kinds.catalogue.species.values()),
    }


def replace_form(data: object, tree: Tree, kinds: Kinds) -> ReplaceForm:
    """Return the form that asks what is wanted where a tree stood."""
    species = kinds.catalogue.species.get(tree.species_key)
    name = species.shown_name if species else tree.species_key
    names = kinds.catalogue.names
    return ReplaceForm(data, tree=tree, names=names, species_name=name)


def _before(tree: Tree, page: SitePage) -> tuple[AtItsPlace, ...]:
    """Return the trees that stood at its place, the last first."""
    found: list[AtItsPlace] = []
    seen = {tree.pk}
    old = tree.replaces
    while old is not None and old.pk not in seen and len(found) < MOST_BEFORE:
        seen.add(old.pk)
        found.append(
            _line(
                old,
                page,
                gettext("It stands where") if not found else gettext("Before it"),
            )
        )
        old = old.replaces
    return tuple(found)


def _after(tree: Tree, page: SitePage) -> tuple[AtItsPlace, ...]:
    """Return the trees that took its place, and those wanted there."""
    if tree.status == Tree.Status.ALIVE:
        return ()
    rows = [_line(one, page, gettext("In its place")) for one in tree.replaced_by.all()]
    wanted = WantedTree.objects.filter(replaces=tree, tree=None)
    rows += [
        AtItsPlace(gettext("Wanted in its place"), one.name, _planting_address(one), "")
        for one in wanted.select_related("planting__site")
    ]
    return tuple(rows)


def _line(tree: Tree, page: SitePage, words: str) -> AtItsPlace:
    since = f"{tree.planted_on:%Y}" if tree.planted_on else gettext("long ago")
    until = f"{tree.ended_on:%Y}" if tree.ended_on else gettext("now")
    address = reverse("tree", args=[page.site.slug, tree.public_id])
    return AtItsPlace(
        words,
        tree.name,
        address,
        gettext("{since} to {until}").format(since=since, until=until),
    )


def _planting_address(wanted: WantedTree) -> str:
    try:
        planting = wanted.planting
        return reverse("planting", args=[planting.site.slug, planting.public_id])
    except NoReverseMatch:
        return ""


def kinds_at(page: SitePage) -> Kinds:
    """Return the kinds of the page's orchard."""
    return kinds_of(page.site.orchard)
