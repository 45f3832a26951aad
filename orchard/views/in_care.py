"""In my care: who looks after which block or tree, and who stands in."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext, gettext_noop, ngettext
from django.views.decorators.http import require_POST, require_safe

from orchard.access import May, may
from orchard.actions.in_care import (
    NOBODY,
    Care,
    CareOfSite,
    Members,
    care_of_site,
    leave,
    take,
)
from orchard.forms.in_care import ELSEWHERE, CareForm, Thing, thing_value
from orchard.languages import listed
from orchard.models import Block, Membership, Site, Tree
from orchard.views.site_page import SitePage, let_in

GONE = gettext_noop(
    "That tree, block or member is no longer here. Nothing was changed."
)


@dataclass(frozen=True, slots=True)
class CareLine:
    """One block or tree: who looks after it, and what the reader may press."""

    value: str
    name: str
    words: str
    is_mine: bool
    is_backup: bool


@dataclass(frozen=True, slots=True)
class BlockCare:
    """A block with its trees; trees of no block have no line of their own."""

    anchor: str
    title: str
    line: CareLine | None
    trees: tuple[CareLine, ...]
    count: str
    has_own: bool


@dataclass(frozen=True, slots=True)
class Arrangement:
    """What somebody else looks after, for those who may change it."""

    value: str
    member_id: int
    words: str


@dataclass(frozen=True, slots=True)
class Uncared:
    """What nobody looks after, and where on the page it stands."""

    anchor: str
    words: str


@dataclass(frozen=True, slots=True)
class Place:
    """The living trees, blocks and members of a site, and who looks after what."""

    blocks: list[Block]
    trees: list[Tree]
    members: list[Membership]
    care: CareOfSite

    def trees_of(self, block: Block | None) -> list[Tree]:
        """Return the trees of a block, or those of none."""
        wanted = None if block is None else block.pk
        return [tree for tree in self.trees if tree.block_id == wanted]


def _place(site: Site) -> Place:
    members = site.orchard.memberships.select_related("person").order_by("pk")
    trees = list(site.trees.filter(status=Tree.Status.ALIVE))
    for tree in trees:
        tree.site = site
    blocks = list(site.blocks.all())
    for block in blocks:
        block.site = site
    able = [member for member in members if may(member.role, May.TICK)]
    return Place(blocks, trees, able, care_of_site(site))


@require_safe
@login_required
def in_care(request: HttpRequest, site: str) -> HttpResponse:
    """Show who looks after what, and what nobody does."""
    page = let_in(request, site)
    place = _place(page.site)
    sections = _sections(place, page.membership)
    context = page.context(
        "more",
        sections=sections,
        uncared=_uncared(place) if place.care.is_arranged else (),
        is_arranged=place.care.is_arranged,
        has_trees=bool(place.trees),
        is_alone=len(place.members) == 1,
        arrangements=_arrangements(place) if page.allows(May.ARRANGE) else (),
        form=_form(place) if page.allows(May.ARRANGE) and place.trees else None,
    )
    return render(request, "orchard/in_care.html", context)


def _form(place: Place, data: QueryDict | None = None) -> CareForm:
    return CareForm(data, blocks=place.blocks, trees=place.trees, members=place.members)


@require_POST
@login_required
def in_care_take(request: HttpRequest, site: str) -> HttpResponse:
    """Look after something, or stand in; or let somebody else."""
    page = let_in(request, site, May.TICK)
    form = _form(_place(page.site), request.POST)
    if not form.is_valid():
        return _gone(request, page)
    thing, member = form.chosen_thing(), form.chosen_member(page.membership)
    is_backup = form.cleaned_data["is_backup"]
    take(
        by=page.membership,
        member=member,
        thing=thing,
        is_backup=is_backup,
        now=page.now,
    )
    words = _said(member, page.membership, is_backup=is_backup)
    messages.success(request, words.format(name=member.person.shown_name, thing=thing))
    return _back(page, thing)


@require_POST
@login_required
def in_care_leave(request: HttpRequest, site: str) -> HttpResponse:
    """No longer look after something; or let somebody else no longer."""
    page = let_in(request, site, May.TICK)
    form = _form(_place(page.site), request.POST)
    if not form.is_valid():
        return _gone(request, page)
    thing, member = form.chosen_thing(), form.chosen_member(page.membership)
    leave(by=page.membership, member=member, thing=thing, now=page.now)
    is_me = member.pk == page.membership.pk
    words = (
        gettext("You no longer look after {thing}.")
        if is_me
        else gettext("{name} no longer looks after {thing}.")
    )
    messages.success(request, words.format(name=member.person.shown_name, thing=thing))
    return _back(page, thing)


def _said(member: Membership, oneself: Membership, *, is_backup: bool) -> str:
    if member.pk == oneself.pk:
        if is_backup:
            return gettext("You stand in for {thing}.")
        return gettext("You look after {thing}.")
    if is_backup:
        return gettext("{name} stands in for {thing}.")
    return gettext("{name} looks after {thing}.")


def _gone(request: HttpRequest, page: SitePage) -> HttpResponse:
    messages.error(request, gettext(GONE))
    return redirect("in_care", page.site.slug)


def _back(page: SitePage, thing: Thing) -> HttpResponse:
    block_id = thing.pk if isinstance(thing, Block) else thing.block_id
    address = reverse("in_care", args=[page.site.slug])
    return redirect(f"{address}#{_anchor(block_id)}")


def _anchor(block_id: int | None) -> str:
    return f"block-{block_id}" if block_id else "elsewhere"


def _sections(place: Place, oneself: Membership) -> tuple[BlockCare, ...]:
    blocks: list[Block | None] = [*place.blocks]
    if place.trees_of(None):
        blocks.append(None)
    return tuple(_section(place, block, oneself) for block in blocks)


def _section(place: Place, block: Block | None, oneself: Membership) -> BlockCare:
    trees = place.trees_of(block)
    lines = tuple(_tree_line(place.care, tree, block, oneself) for tree in trees)
    count = gettext("no trees") if not trees else _count(len(trees))
    own = any(tree.pk in place.care.trees for tree in trees)
    if block is None:
        return BlockCare(
            _anchor(None), gettext(ELSEWHERE), None, lines, count, has_own=True
        )
    care = place.care.of_block(block.pk)
    line = _line(block, care, _words(care) or gettext("Nobody yet."), oneself)
    return BlockCare(_anchor(block.pk), block.name, line, lines, count, has_own=own)


def _tree_line(
    care: CareOfSite, tree: Tree, block: Block | None, oneself: Membership
) -> CareLine:
    own = care.of_tree(tree.pk)
    is_by_block = block is not None and bool(care.of_block(block.pk).carers)
    otherwise = (
        gettext("As the whole block.") if is_by_block else gettext("Nobody yet.")
    )
    return _line(tree, own, _words(own) or otherwise, oneself)


def _line(thing: Thing, care: Care, words: str, oneself: Membership) -> CareLine:
    return CareLine(
        value=thing_value(thing),
        name=str(thing),
        words=words,
        is_mine=oneself.pk in care.carers,
        is_backup=oneself.pk in care.backups,
    )


def _words(care: Care) -> str:
    """Say who looks after a thing and who stands in; empty for nobody."""
    said = []
    if care.carers:
        said.append(
            gettext("Looked after by {names}.").format(names=_names(care.carers))
        )
    if care.backups:
        said.append(gettext("Standing in: {names}.").format(names=_names(care.backups)))
    return " ".join(said)


def _names(members: Members) -> str:
    names = [member.person.shown_name for member in members.values()]
    return listed(names)


def _count(number: int) -> str:
    return ngettext("{number} tree", "{number} trees", number).format(number=number)


def _uncared(place: Place) -> tuple[Uncared, ...]:
    """Return what nobody looks after: whole blocks first, then single trees."""
    left = [
        tree for tree in place.trees if not place.care.carers(tree.pk, tree.block_id)
    ]
    alone = {tree.pk for tree in left}
    whole: list[Uncared] = []
    for block in place.blocks:
        members = [tree.pk for tree in place.trees_of(block)]
        if len(members) > 1 and alone.issuperset(members):
            words = f"{block.name} ({_count(len(members))})"
            whole.append(Uncared(_anchor(block.pk), words))
            alone.difference_update(members)
    single = (tree for tree in left if tree.pk in alone)
    return (*whole, *(Uncared(_anchor(tree.block_id), tree.name) for tree in single))


def _arrangements(place: Place) -> tuple[Arrangement, ...]:
    found: list[Arrangement] = []
    for block in place.blocks:
        found += _arranged(block, place.care.of_block(block.pk))
    for tree in place.trees:
        found += _arranged(tree, place.care.trees.get(tree.pk, NOBODY))
    return tuple(found)


def _arranged(thing: Thing, care: Care) -> Iterable[Arrangement]:
    ways: Sequence[tuple[Members, str]] = (
        (care.carers, gettext("{name} looks after {thing}")),
        (care.backups, gettext("{name} stands in for {thing}")),
    )
    for members, words in ways:
        for pk, member in members.items():
            said = words.format(name=member.person.shown_name, thing=thing)
            yield Arrangement(thing_value(thing), pk, said)
