"""What stands and lies on a plan: the list, a new thing, a changed one."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from orchard.access import May
from orchard.actions.plans import add_feature, change_feature, remove_feature
from orchard.forms.plan_features import FeatureForm
from orchard.models import Feature
from orchard.plans.gathered import OnPlan, on_plan
from orchard.plans.problems import PlanError
from orchard.views.plan_words import shape_words
from orchard.views.site_page import SitePage, let_in


@require_safe
@login_required
def plan_features(request: HttpRequest, site: str) -> HttpResponse:
    """Show what is drawn."""
    page = let_in(request, site, page="more")
    features = list(page.site.features.all())
    lines = [(feature, shape_words(feature, page.units)) for feature in features]
    kinds = {feature.kind for feature in features}
    context = page.context(
        lines=lines, has_boundary=Feature.Kind.BOUNDARY in kinds, kinds=kinds
    )
    return render(request, "orchard/plan_features.html", context)


@require_http_methods(["GET", "POST"])
@login_required
def feature_add(request: HttpRequest, site: str) -> HttpResponse:
    """Draw one more thing; the boundary comes first."""
    page = let_in(request, site, May.EDIT, page="more")
    plan = on_plan(page.site)
    data = request.POST if request.method == "POST" else None
    form = FeatureForm(
        data, plan=plan, units=page.units, initial=_first_guess(request, plan)
    )
    if data is not None and form.is_valid() and _draw(request, page, form):
        return redirect("plan_features", page.site.slug)
    return _show(request, page, form)


def _first_guess(request: HttpRequest, plan: OnPlan) -> dict[str, str]:
    kind = Feature.Kind.BUILDING if plan.boundary_m else Feature.Kind.BOUNDARY
    wanted = request.GET.get("kind", "")
    return {
        "kind": wanted if wanted in Feature.Kind.values else kind,
        "start": plan.corners[0].name if plan.corners else "0, 0",
    }


def _draw(request: HttpRequest, page: SitePage, form: FeatureForm) -> bool:
    """Write what a form holds; say at the form why it cannot be."""
    values = form.feature_values()
    try:
        if form.feature is None:
            corners = form.corners()
            feature = add_feature(
                site=page.site, values=values, corners=corners, person=page.person
            )
            if corners:
                words = gettext(
                    "{feature} is on the plan. Its corners are named {names}."
                )
            else:
                words = gettext("{feature} is on the plan.")
            words = words.format(feature=feature, names=", ".join(corners))
            messages.success(request, words)
        else:
            change_feature(feature=form.feature, values=values, person=page.person)
            messages.success(
                request, gettext("{feature} is changed.").format(feature=form.feature)
            )
    except PlanError as error:
        form.tell(error)
        return False
    return True


@require_http_methods(["GET", "POST"])
@login_required
def feature_edit(request: HttpRequest, site: str, feature: int) -> HttpResponse:
    """Change what a thing is, its points and measures."""
    page = let_in(request, site, May.EDIT, page="more")
    row = get_object_or_404(Feature, site=page.site, pk=feature)
    data = request.POST if request.method == "POST" else None
    form = FeatureForm(data, plan=on_plan(page.site), units=page.units, feature=row)
    if data is not None and form.is_valid() and _draw(request, page, form):
        return redirect("plan_features", page.site.slug)
    return _show(request, page, form)


@require_POST
@login_required
def feature_remove(request: HttpRequest, site: str, feature: int) -> HttpResponse:
    """Take a thing off the plan."""
    page = let_in(request, site, May.EDIT)
    row = get_object_or_404(Feature, site=page.site, pk=feature)
    remove_feature(feature=row, person=page.person)
    messages.success(request, gettext("{name} is off the plan.").format(name=row))
    return redirect("plan_features", page.site.slug)


def _show(request: HttpRequest, page: SitePage, form: FeatureForm) -> HttpResponse:
    context = page.context(form=form, is_new=form.feature is None)
    status = 422 if form.is_bound else 200
    return render(request, "orchard/plan_feature.html", context, status=status)
