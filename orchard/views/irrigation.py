"""Sprinklers, timers and drip lines: what waters a row unasked."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext, ngettext
from django.views.decorators.http import require_http_methods, require_POST

from orchard.access import May
from orchard.actions.irrigation import end_irrigation, run_irrigation, runs_after
from orchard.forms.irrigation import IrrigationForm
from orchard.languages import day_of_year, short_weekday_name
from orchard.models import Tree
from orchard.units import UnitSystem, format_quantity
from orchard.views.site_page import SitePage, let_in
from orchard.views.watering_rule_words import watering_rule_words

EVERYWHERE, ELSEWHERE = "all", "none"


@dataclass(frozen=True, slots=True)
class Running:
    """What runs by itself, alike for some trees of one row."""

    where: str
    title: str
    trees: str
    words: str


@login_required
@require_http_methods(["GET", "POST"])
def irrigation(request: HttpRequest, site: str) -> HttpResponse:
    """Show what runs by itself, and write it down for a whole row."""
    page = let_in(request, site, May.EDIT, page="trees")
    trees = _trees(page)
    data = request.POST if request.method == "POST" else None
    form = IrrigationForm(
        data, places=_places(trees), today=page.today, units=page.units
    )
    if data is not None and form.is_valid():
        count = run_irrigation(
            site=page.site,
            trees=_chosen(trees, form.cleaned_data["where"]),
            values=form.tree_values(),
            person=page.person,
        )
        messages.success(
            request, gettext("Written down for {count}.").format(count=_count(count))
        )
        for words in _against_rules(page, form.cleaned_data["irrigation_weekdays"]):
            messages.warning(request, words)
        return redirect("irrigation", page.site.slug)
    context = page.context(
        form=form, running=_running(trees, page.today, page.units), has_trees=trees
    )
    status = 200 if data is None else 422
    return render(request, "orchard/irrigation.html", context, status=status)


@require_POST
@login_required
def irrigation_end(request: HttpRequest, site: str) -> HttpResponse:
    """Let what runs by itself in a row end today."""
    page = let_in(request, site, May.EDIT, page="trees")
    count = end_irrigation(
        site=page.site,
        trees=_chosen(_trees(page), request.POST.get("where", "")),
        until=page.today,
        person=page.person,
    )
    messages.success(
        request, gettext("It ends today for {count}.").format(count=_count(count))
    )
    return redirect("irrigation", page.site.slug)


def _against_rules(page: SitePage, weekdays: Sequence[str]) -> list[str]:
    """Return a word on every local rule that forbids some of the days."""
    return [
        gettext("The local rule forbids some of these days: {rule}").format(
            rule=watering_rule_words(rule)
        )
        for rule in page.site.watering_rules.all()
        if not set(weekdays) <= set(rule.weekdays)
    ]


def _trees(page: SitePage) -> list[Tree]:
    living = page.site.trees.filter(status=Tree.Status.ALIVE).select_related("block")
    return list(living.order_by("block__position", "block_id", "position", "name"))


def _count(number: int) -> str:
    return ngettext("{number} tree", "{number} trees", number).format(number=number)


def _row_of(tree: Tree) -> str:
    return ELSEWHERE if tree.block_id is None else str(tree.block_id)


def _titles(trees: Sequence[Tree]) -> dict[str, str]:
    return {
        _row_of(tree): tree.block.name if tree.block else gettext("Elsewhere")
        for tree in trees
    }


def _places(trees: Sequence[Tree]) -> list[tuple[str, str]]:
    counts = Counter(map(_row_of, trees))
    rows = [
        (row, f"{title}: {_count(counts[row])}")
        for row, title in _titles(trees).items()
    ]
    everywhere = (
        EVERYWHERE,
        gettext("All trees: {count}").format(count=_count(len(trees))),
    )
    return [*rows, everywhere] if len(rows) > 1 else rows


def _chosen(trees: Sequence[Tree], where: str) -> list[Tree]:
    return [tree for tree in trees if where in (EVERYWHERE, _row_of(tree))]


def _running(
    trees: Sequence[Tree], today: date, units: UnitSystem
) -> tuple[Running, ...]:
    """Return what runs on, rows in their order, trees that run alike together."""
    titles = _titles(trees)
    counts = Counter(
        (_row_of(tree), _words(tree, units))
        for tree in trees
        if runs_after(tree, today)
    )
    return tuple(
        Running(row, titles[row], _count(number), words)
        for (row, words), number in counts.items()
    )


def _words(tree: Tree, units: UnitSystem) -> str:
    litres = format_quantity(tree.irrigation_litres or 0.0, "L", units)
    days = ", ".join(
        short_weekday_name(int(digit)) for digit in tree.irrigation_weekdays
    )
    since, until = tree.irrigation_since, tree.irrigation_until
    if since and until:
        words = gettext("{litres} each on {days} since {since} until {until}")
    elif since:
        words = gettext("{litres} each on {days} since {since}")
    elif until:
        words = gettext("{litres} each on {days} until {until}")
    else:
        words = gettext("{litres} each on {days}")
    return words.format(
        litres=litres,
        days=days,
        since=day_of_year(since) if since else "",
        until=day_of_year(until) if until else "",
    )
