"""What if nobody waters until a day: which trees suffer, from when, and what it takes."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext
from django.views.decorators.http import require_safe

from care.forms.away import AwayForm
from care.planning.ensemble import LikelyAmount, LikelyDay, OrchardWaterings
from care.planning.gather import gather
from care.planning.waterings_ahead import waterings_ahead
from care.views.days import day_range, full_day, short_day
from care.views.likely_words import members_words
from care.views.task_lines import NO_BLOCK
from care.views.tree_lines import living_trees
from orchard.models import Tree
from orchard.units import UnitSystem, format_quantity
from orchard.views.site_page import let_in


@dataclass(frozen=True, slots=True)
class AwayLine:
    """One tree that nobody waters, and from when on it suffers."""

    tree: Tree
    where: str
    words: str
    first: date


@dataclass(frozen=True, slots=True)
class Away:
    """What an absence does; ``needs`` is what it takes to spare the trees that.

    ``thirsty`` are those that cannot even wait for its first day.
    """

    thirsty: tuple[Tree, ...]
    suffer: tuple[AwayLine, ...]
    hold: tuple[str, ...]
    unknown: tuple[str, ...]
    needs: str
    basis: str


@require_safe
@login_required
def away(request: HttpRequest, site: str) -> HttpResponse:
    """Show which trees suffer, and from when, if nobody waters until a day."""
    page = let_in(request, site)
    data = request.GET if "until" in request.GET else None
    form = AwayForm(data, today=page.today)
    is_wrong = data is not None and not form.is_valid()
    until = form.usual if data is None or is_wrong else form.cleaned_data["until"]
    records = gather(page.site, page.today)
    ahead = waterings_ahead(records, days=(until - page.today).days)
    standing = [
        tree for tree in living_trees(page.site) if not tree.is_planned(page.today)
    ]
    context = page.context(
        "trees",
        form=form,
        until=full_day(until),
        away=_away(standing, ahead, page.today, until, page.units),
    )
    status = 422 if is_wrong else 200
    return render(request, "care/away.html", context, status=status)


def _away(
    trees: Iterable[Tree],
    ahead: OrchardWaterings | None,
    today: date,
    until: date,
    units: UnitSystem,
) -> Away | None:
    if ahead is None:
        return None
    thirsty, suffer, hold, unknown = [], [], [], []
    for tree in trees:
        known = ahead.trees.get(tree.pk)
        if known is None:
            unknown.append(tree.name)
            continue
        stress = known.stress_from
        if stress.low is None or stress.low > until:
            hold.append(tree.name)
            continue
        if stress.low <= today:
            thirsty.append(tree)
            continue
        where = tree.block.name if tree.block else gettext(NO_BLOCK)
        words = _stress(stress, stress.low, today, until)
        suffer.append(AwayLine(tree, where, words, stress.low))
    return Away(
        thirsty=tuple(thirsty),
        suffer=tuple(sorted(suffer, key=lambda line: (line.first, line.tree.name))),
        hold=tuple(hold),
        unknown=tuple(unknown),
        needs=_needs(ahead, units),
        basis=members_words(ahead.first_stress.members),
    )


def _stress(stress: LikelyDay, low: date, today: date, until: date) -> str:
    """Return from when on a tree suffers, no more surely than can be told."""
    middle, high = stress.middle, stress.high
    if stress.is_firm:
        return gettext("suffers from {day}, by the forecast").format(
            day=short_day(low, today)
        )
    last = min(high or until, until)
    if middle is not None and middle <= until:
        return gettext("likely suffers from {days}").format(
            days=day_range(low, max(last, low), today)
        )
    return gettext("may suffer from {day}, in a dry spell").format(
        day=short_day(low, today)
    )


def _needs(ahead: OrchardWaterings, units: UnitSystem) -> str:
    """Return how many waterings and litres it takes until then, every one done."""
    if ahead.count.high < 1:
        return ""
    litres = _span(ahead.litres, lambda value: _about(value, units))
    count = _span(ahead.count, lambda value: f"{value:.0f}")
    return gettext("{count} waterings and {litres} in all").format(
        count=count, litres=litres
    )


def _about(litres: float, units: UnitSystem) -> str:
    """Return so many litres to two figures: nobody measures a holiday closer."""
    return format_quantity(float(f"{litres:.2g}"), "L", units)


def _span(amount: LikelyAmount, words: Callable[[float], str]) -> str:
    low, high = words(amount.low), words(amount.high)
    return (
        high if low == high else gettext("{low} to {high}").format(low=low, high=high)
    )
