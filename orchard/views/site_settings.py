"""A site's facts and local rules."""

from calendar import month_name

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from orchard.access import May
from orchard.actions.places import change_site
from orchard.forms.site_settings import (
    BlackoutForm,
    SiteForm,
    blackout_forms,
    site_initial,
    spans_of,
    zone_names,
)
from orchard.models import Site
from orchard.views.site_page import SitePage, let_in

FOLDS = (
    ("Place", ("name", "latitude_deg", "longitude_deg", "elevation_m", "time_zone")),
    ("Soil", ("soil_texture",)),
    ("Frost", ("is_frost_free", "last_frost", "first_frost", "frost_margin_c")),
    ("Feeding", ("feed_product_name", "feed_nitrogen_percent")),
)


@login_required
@require_http_methods(["GET", "POST"])
def site_settings(request: HttpRequest, site: str) -> HttpResponse:
    """Show and change a site; local rules are the owner's to change."""
    page = let_in(request, site, May.EDIT, page="more")
    data = request.POST if request.method == "POST" else None
    form = SiteForm(data, units=page.units, initial=site_initial(page.site))
    governs = page.allows(May.GOVERN)
    if not governs:
        del form.fields["local_rules"]
    spans = blackout_forms(page.site, page.units, data) if governs else []
    if data is not None and all([form.is_valid(), *(s.is_valid() for s in spans)]):
        _save(page, form, spans)
        messages.success(request, "The settings are changed.")
        return redirect("site_settings", page.site.slug)
    context = page.context(
        form=form,
        groups=[(title, [form[name] for name in names]) for title, names in FOLDS],
        spans=spans,
        governs=governs,
        blackouts=_blackouts_in_words(page.site),
        zones=zone_names(),
    )
    return render(request, "orchard/site_settings.html", context)


def _save(page: SitePage, form: SiteForm, spans: list[BlackoutForm]) -> None:
    change_site(
        site=page.site,
        values=form.site_values(),
        spans=spans_of(spans) if page.allows(May.GOVERN) else None,
        person=page.person,
    )


def _blackouts_in_words(site: Site) -> list[tuple[str, str]]:
    return [
        (
            f"{span.start_day} {month_name[span.start_month]}",
            f"{span.end_day} {month_name[span.end_month]}",
        )
        for span in site.feeding_blackouts.all()
    ]
