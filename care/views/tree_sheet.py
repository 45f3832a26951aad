"""The page of one tree, with a form for everything a person may say of it."""

from datetime import date

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render

from care.facts import SpeciesFacts
from care.forms.holds import ManureForm, SprayForm
from care.forms.photos import PhotosForm
from care.forms.trees import (
    FEELINGS,
    EndForm,
    HarvestForm,
    MeasureForm,
    MoveForm,
    NoteForm,
    cultivars_on,
    measures_of,
)
from care.forms.watering import WaterForm
from care.planning.bloom_stages import reportable_stages
from care.planning.kinds import kinds_of
from care.views.observing import reading_fields, stage_buttons
from care.views.partners import lack_words
from care.views.photo_lines import tree_strip
from care.views.rootstock_words import lacks_post, rootstock_rows
from care.views.stage_words import stage_words
from care.views.tree_facts import figure_rows, tree_facts, where_now
from care.views.tree_lines import (
    grafted_words,
    place_words,
    planned_words,
    species_name,
)
from care.views.tree_move_sheet import move_context
from care.views.tree_state import tree_log, tree_state, tree_tasks
from orchard.models import Stay, Tree
from orchard.views.site_page import SitePage

#: The newest photos of a tree that its page shows.
PHOTOS_SHOWN = 6


def find_tree(page: SitePage, tree: object) -> Tree:
    """Return the site's tree of that id, or answer that there is none."""
    return get_object_or_404(
        Tree.objects.select_related("block", "site"), site=page.site, public_id=tree
    )


def stages_of(species: SpeciesFacts) -> list[tuple[str, str]]:
    """Return the stages to choose from and what each is called."""
    return [
        (stage, stage_words(stage).capitalize()) for stage in reportable_stages(species)
    ]


def show_tree(
    request: HttpRequest, page: SitePage, tree: Tree, **bound: object
) -> HttpResponse:
    """Show one tree; ``bound`` are forms that were refused, by their name there."""
    stays = list(tree.stays.all())
    kinds = kinds_of(page.site.orchard)
    living = list(tree.grafts.filter(ended_on=None))
    refused = bound.pop("measure", None)
    context = page.context(
        "trees",
        tree=tree,
        species=species_name(tree, kinds.catalogue) + grafted_words(living),
        place=place_words(tree, page.units),
        planned=planned_words(tree, page.today),
        is_alive=tree.status == Tree.Status.ALIVE,
        where=where_now(tree, stays),
        state=tree_state(tree, page.today, page.units),
        lacks_post=lacks_post(tree),
        lacks_partner=lack_words(page, tree),
        tasks=tree_tasks(tree, page.today, page.units),
        log=tree_log(tree, page.today, page.units),
        photos=tree_strip(tree, page.today, PHOTOS_SHOWN),
        facts=tree_facts(tree, page.today, page.units, kinds.catalogue),
        rootstock=rootstock_rows(tree, kinds.of_tree(tree), page.units),
        figures=figure_rows(tree, page.units, kinds.catalogue),
        feelings=FEELINGS,
        stages=stage_buttons(kinds.of_tree(tree)),
        reading=reading_fields(page, "tmin_c", "rain_mm"),
        measures=_measures(page, tree, refused),
        here=request.path if request.method == "GET" else "",
        **{
            **_forms(page, tree, stays),
            **move_context(page, tree, kinds, living),
            **bound,
        },
    )
    status = 422 if bound or refused else 200
    return render(request, "care/tree.html", context, status=status)


def _measures(
    page: SitePage, tree: Tree, refused: object
) -> list[tuple[str, MeasureForm]]:
    forms = {
        what: MeasureForm(what=what, units=page.units)
        for what in measures_of(tree, page.today)
    }
    if isinstance(refused, MeasureForm):
        forms[str(refused.data.get("what"))] = refused
    return list(forms.items())


def _forms(page: SitePage, tree: Tree, stays: list[Stay]) -> dict[str, object]:
    today = page.today
    return {
        "water_form": WaterForm(
            today=today, units=page.units, in_container=tree.in_container
        ),
        "harvest_form": HarvestForm(
            today=today, units=page.units, cultivars=cultivars_on(tree)
        ),
        "move_form": MoveForm(today=today, place=_place_now(stays, today)),
        "spray_form": SprayForm(today=today, block=tree.block),
        "manure_form": ManureForm(today=today, block=tree.block),
        "end_form": EndForm(today=today),
        "note_form": NoteForm(),
        "photos_form": PhotosForm(today=today),
    }


def _place_now(stays: list[Stay], today: date) -> str:
    past = [stay.place for stay in stays if stay.since <= today]
    return past[-1] if past else Stay.Place.OUTDOORS
