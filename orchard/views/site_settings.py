"""A site's facts and local rules."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods

from orchard.access import May
from orchard.actions.places import change_site
from orchard.forms.folds import folds_of
from orchard.forms.site_settings import (
    FOLDS,
    RULES,
    BlackoutForm,
    SiteForm,
    blackout_forms,
    site_initial,
    spans_of,
    zone_names,
)
from orchard.forms.watering_rules import (
    WateringRuleForm,
    rules_of,
    watering_rule_forms,
)
from orchard.languages import every_year
from orchard.models import Site
from orchard.units import format_metres
from orchard.views.site_page import SitePage, let_in
from orchard.views.watering_rule_words import watering_rule_words


@login_required
@require_http_methods(["GET", "POST"])
def site_settings(request: HttpRequest, site: str) -> HttpResponse:
    """Show and change a site; local rules are the owner's to change."""
    page = let_in(request, site, May.EDIT, page="more")
    data = request.POST if request.method == "POST" else None
    form = SiteForm(
        data,
        units=page.units,
        today=page.today,
        initial=site_initial(page.site, page.units),
    )
    governs = page.allows(May.GOVERN)
    if not governs:
        for name in RULES:
            del form.fields[name]
    spans = blackout_forms(page.site, page.units, data) if governs else []
    waters = watering_rule_forms(page.site, page.units, data) if governs else []
    are_valid = [one.is_valid() for one in (form, *spans, *waters)]
    if all(are_valid):
        _save(page, form, spans, waters)
        messages.success(request, gettext("The settings are changed."))
        return redirect("site_settings", page.site.slug)
    context = page.context(
        form=form,
        folds=folds_of(form, FOLDS, opened=request.GET.get("open", "")),
        spans=spans,
        waters=waters,
        are_rules_open=_are_rules_open(form, spans),
        is_watering_open=_is_watering_open(request, waters),
        watering_rules=[
            watering_rule_words(rule) for rule in page.site.watering_rules.all()
        ],
        setback=_setback(page),
        governs=governs,
        blackouts=_blackouts_in_words(page.site),
        zones=zone_names(),
    )
    return render(request, "orchard/site_settings.html", context)


def _save(
    page: SitePage,
    form: SiteForm,
    spans: list[BlackoutForm],
    waters: list[WateringRuleForm],
) -> None:
    governs = page.allows(May.GOVERN)
    change_site(
        site=page.site,
        values=form.site_values(),
        spans=spans_of(spans) if governs else None,
        watering_rules=rules_of(waters) if governs else None,
        person=page.person,
    )


def _are_rules_open(form: SiteForm, spans: list[BlackoutForm]) -> bool:
    is_wrong = form.is_bound and any(name in form.errors for name in RULES)
    return is_wrong or any(span.is_bound and span.errors for span in spans)


def _is_watering_open(request: HttpRequest, waters: list[WateringRuleForm]) -> bool:
    is_wrong = any(rule.is_bound and rule.errors for rule in waters)
    return is_wrong or request.GET.get("open") == "watering-rules"


def _setback(page: SitePage) -> str:
    distance_m = page.site.water_setback_m
    return "" if distance_m is None else format_metres(distance_m, page.units)


def _blackouts_in_words(site: Site) -> list[tuple[str, str]]:
    return [
        (
            every_year(span.start_month, span.start_day),
            every_year(span.end_month, span.end_day),
        )
        for span in site.feeding_blackouts.all()
    ]
