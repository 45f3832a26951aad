"""The whole working of one task, for whoever wants to check it."""

from dataclasses import dataclass

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from care.models import Task
from care.planning.plan_site import ensure_planned
from care.views.fact_words import FactRow, fact_rows
from care.views.steps import steps_of
from care.views.steps.step import Step, Term, inputs_of
from care.views.task_lines import task_line
from care.views.task_working import task_working
from care.views.wording import reason_of
from orchard.catalogue import Species
from orchard.catalogue.of_orchard import catalogue_of
from orchard.views.site_page import let_in


@dataclass(frozen=True, slots=True)
class FullWorking:
    """Inputs, steps, and what else the plan knew."""

    inputs: tuple[Term, ...]
    steps: tuple[Step, ...]
    facts: tuple[FactRow, ...]


def full_working(task: Task, species: Species | None) -> FullWorking:
    """Return everything behind one task of a tree of a species."""
    steps = steps_of(task, species)
    return FullWorking(inputs_of(steps), steps, fact_rows(reason_of(task).facts))


@require_safe
@login_required
def working_page(request: HttpRequest, site: str, task: object) -> HttpResponse:
    """Show inputs and their origin, equations with their numbers, and sources."""
    page = let_in(request, site)
    ensure_planned(page.site, page.today)
    found = get_object_or_404(
        Task.objects.select_related("tree__block", "round", "site"),
        site=page.site,
        public_id=task,
    )
    species = catalogue_of(page.site.orchard).of_tree(found.tree)
    context = page.context(
        "round",
        task=found,
        line=task_line(found, page.today, page.units),
        working=task_working(found, page.today, page.units, species),
        full=full_working(found, species),
    )
    return render(request, "care/working.html", context)
