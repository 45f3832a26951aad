"""Which kinds fit this site, one kind in full, and what ripens when."""

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext
from django.views.decorators.http import require_safe

from care.facts.fit import FitBasis
from care.forms.fit import FitForm
from care.planning.fit_choice import Wish, chosen
from care.planning.fit_site import SiteFit, fit_site
from care.planning.ripening import ripening
from care.views.fit_kind_words import cultivar_rows, kind_sheet
from care.views.fit_lines import fit_groups
from care.views.fit_words import basis_words
from care.views.ripening_words import empty_words, ripening_rows
from orchard.views.site_page import let_in

MOST_PLANTINGS = 3  # to add a kind to, the newest
FLAGS = ("self_fruitful", "evergreen", "small", "takes_pot")


@require_safe
@login_required
def fit(request: HttpRequest, site: str) -> HttpResponse:
    """Show every kind by how well it fits, as filtered."""
    page = let_in(request, site)
    found = fit_site(page.site, page.today)
    form = FitForm(request.GET)
    wish = Wish()
    if form.is_valid():
        data = form.cleaned_data
        wish = Wish(
            words=data["q"],
            months=form.months,
            **{name: bool(data[name]) for name in FLAGS},
        )
    in_pot = form.is_valid() and form.in_pot
    southern = found.site.is_southern
    ordered = found.ordered(in_pot=in_pot)
    kinds = chosen(ordered, wish, found.kinds.catalogue.names, southern=southern)
    groups = fit_groups(
        kinds, _basis(found), page.units, in_pot=in_pot, are_open=bool(wish.words)
    )
    context = page.context(
        "more",
        form=form,
        plain=[form[name] for name in FLAGS],
        groups=groups,
        in_pot=in_pot,
        is_filtered=wish != Wish(),
        shown=len(kinds),
        total=len(found.fits),
        **_place(found),
    )
    return render(request, "care/fit.html", context)


@require_safe
@login_required
def fit_kind(request: HttpRequest, site: str, kind: str) -> HttpResponse:
    """Show every factor of one kind with its working, and its cultivars compared."""
    page = let_in(request, site)
    try:
        found = fit_site(page.site, page.today, kind_key=kind)
    except KeyError as error:
        message = gettext("There is no such kind.")
        raise Http404(message) from error
    mine = next(each for each in found.fits if each.key == kind)
    species = found.kinds.catalogue.species[mine.species.key]
    context = page.context(
        "more",
        sheet=kind_sheet(mine, found, species, page.units),
        cultivars=cultivar_rows(found.of_species(mine.species.key), mine),
        plantings=page.site.plantings.filter(is_put_away=False)[:MOST_PLANTINGS],
        **_place(found),
    )
    return render(request, "care/fit_kind.html", context)


@require_safe
@login_required
def ripening_page(request: HttpRequest, site: str) -> HttpResponse:
    """Show what ripens in each month, and what would fill the empty ones."""
    page = let_in(request, site)
    found = fit_site(page.site, page.today)
    months = ripening(found)
    context = page.context(
        "more",
        months=ripening_rows(months, page.today),
        summary=empty_words(months),
        **_place(found),
    )
    return render(request, "care/ripening.html", context)


def _basis(found: SiteFit) -> FitBasis | None:
    return None if found.years is None else found.years.basis


def _place(found: SiteFit) -> dict[str, object]:
    """Return what the place is known by."""
    basis, zone = _basis(found), found.zone
    return {
        "basis": "" if basis is None else basis_words(basis),
        "is_made_up": basis is not None and not basis.seasons,
        "zone": zone,
        "zone_range": ""
        if zone is None or zone.colder_zone == zone.warmer_zone
        else gettext("{colder_zone} to {warmer_zone}").format(
            colder_zone=zone.colder_zone, warmer_zone=zone.warmer_zone
        ),
        "has_weather": basis is not None,
        "has_room": found.room_m is not None,
        "has_soil_test": found.site.soil_test is not None,
    }
