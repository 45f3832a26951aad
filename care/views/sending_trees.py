"""What a phone sends later of one tree: readings, water, fruit, notes, photos."""

from django import forms
from django.shortcuts import get_object_or_404
from django.utils.translation import gettext

from care.actions.logbook import observe, write_note
from care.actions.photos import Fate, keep_photos
from care.actions.same_job import SameJobError
from care.actions.sendings import Came, State
from care.forms.photos import PhotosForm
from care.forms.trees import (
    BEFORE_PLANTING,
    FeelForm,
    HarvestForm,
    MeasureForm,
    NoteForm,
    StageForm,
    cultivars_on,
    measures_of,
)
from care.forms.watering import WaterForm
from care.models import LogEntry
from care.planning.kinds import kinds_of
from care.views.photo_words import kept_words, problem_words
from care.views.same_job import COUNTED_ONCE, is_same, reply_of
from care.views.sending_asks import asks
from care.views.sending_body import PHOTO, Sent, gone, refused, refused_form
from care.views.tree_log import pick, pour_on
from care.views.tree_sheet import stages_of
from orchard.models import Tree

#: The reading's own name; "what" is that of the sending itself.
READING = "form_what"


def _tree(sent: Sent) -> Tree:
    return get_object_or_404(
        Tree.objects.select_related("block", "site"),
        site=sent.page.site,
        public_id=sent.public_id("tree"),
    )


def _standing(sent: Sent) -> Tree:
    """Return the tree meant, which stood there on the day."""
    tree = _tree(sent)
    if tree.is_planned(sent.day):
        raise refused(
            gettext(
                "{tree} was not planted yet, so nothing of that can have happened to it."
            ).format(tree=tree.name)
        )
    return tree


def _reading_form(sent: Sent, tree: Tree, what: str) -> forms.Form:
    page = sent.that_day
    if what == "soil_feel":
        return FeelForm(sent.data)
    if what == "bloom_stage":
        species = kinds_of(page.site.orchard).of_tree(tree)
        return StageForm(sent.data, stages=stages_of(species))
    if what in measures_of(tree, page.today):
        return MeasureForm(sent.data, what=what, units=page.units)
    raise gone(gettext("Nothing of that kind is measured at this tree any more."))


def tree_observe(sent: Sent) -> Came:
    """Write down a reading."""
    what = sent.data.get(READING, "")
    tree = _tree(sent) if what in BEFORE_PLANTING else _standing(sent)
    form = _reading_form(sent, tree, what)
    if not form.is_valid():
        raise refused_form(form)
    entry = observe(
        tree=tree,
        what=what,
        person=sent.page.person,
        on=sent.day,
        now=sent.page.now,
        value=form.cleaned_data.get("value"),
        word=form.cleaned_data.get("word", ""),
    )
    words = gettext("Noted for {tree}. The plan follows.").format(tree=tree.name)
    return Came(State.KEPT, words, entry)


def tree_water(sent: Sent) -> Came:
    """Write down what one tree got."""
    tree, page = _standing(sent), sent.that_day
    form = WaterForm(
        sent.dated,
        today=page.today,
        units=page.units,
        in_container=tree.in_container,
    )
    if not form.is_valid():
        raise refused_form(form)
    entry = pour_on(page, tree, form.cleaned_data)
    words = gettext("The water is in the log. The plan follows.")
    return Came(State.KEPT, words, entry)


def tree_harvest(sent: Sent) -> Came:
    """Write down what was picked."""
    tree, page = _standing(sent), sent.that_day
    form = HarvestForm(
        sent.dated,
        today=page.today,
        units=page.units,
        cultivars=cultivars_on(tree),
    )
    if not form.is_valid():
        raise refused_form(form)
    reply = reply_of(sent.data)
    try:
        entry = pick(page, tree, form.cleaned_data, reply)
    except SameJobError as same:
        raise asks(sent.page, same) from None
    if is_same(reply):
        return Came(State.JOINED, gettext(COUNTED_ONCE), entry)
    return Came(State.KEPT, gettext("The harvest is in the log."), entry)


def tree_note(sent: Sent) -> Came:
    """Write a note on a tree, planted or not, alive or not."""
    tree = _tree(sent)
    form = NoteForm(sent.data)
    if not form.is_valid():
        raise refused_form(form)
    entry = write_note(
        site=sent.page.site,
        tree=tree,
        note=form.cleaned_data["note"],
        person=sent.page.person,
        on=sent.day,
        now=sent.page.now,
    )
    return Came(State.KEPT, gettext("The note is in the log."), entry)


def tree_photo(sent: Sent) -> Came:
    """Keep photos of a tree; a broken one is told of and does not hold up the others."""
    tree, page = _tree(sent), sent.that_day
    form = PhotosForm(sent.data, sent.request.FILES, today=page.today)
    if not form.is_valid():
        raise refused_form(form)
    fates = _keep(sent, tree, form)
    words = _photo_words(sent, fates)
    first = next(fate.photo for fate in fates if fate.photo is not None)
    return Came(State.KEPT, words, first.entry)


def _keep(sent: Sent, tree: Tree, form: PhotosForm) -> list[Fate]:
    page = sent.that_day
    return keep_photos(
        site=page.site,
        tree=tree,
        person=page.person,
        helper=None,
        on=form.cleaned_data["on"],
        today=page.today,
        now=page.now,
        pictures=sent.pictures,
        caption=form.cleaned_data["caption"],
    )


def task_photos(sent: Sent, entry: LogEntry) -> str:
    """Keep the photos that came with a tick beside its entry; return what to say."""
    if not sent.pictures:
        return ""
    page = sent.that_day
    fates = keep_photos(
        site=page.site,
        tree=entry.tree,
        person=page.person,
        helper=None,
        on=entry.on,
        today=page.today,
        now=page.now,
        pictures=sent.pictures,
        entry=entry,
    )
    return _photo_words(sent, fates, is_alone=False)


def _photo_words(sent: Sent, fates: list[Fate], *, is_alone: bool = True) -> str:
    """Return what became of photos; where nothing could be kept, refuse it all."""
    number = len(sent.request.FILES.getlist(PHOTO))
    problems = problem_words(fates, number)
    has_none = all(fate.photo is None for fate in fates)
    if any(fate.is_full for fate in fates) or (is_alone and has_none):
        raise refused(" ".join(problems), photo=problems)
    return " ".join([kept_words(fates), *problems]).strip()
