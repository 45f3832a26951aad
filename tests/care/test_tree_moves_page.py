"""Moves, grafts and replacements from a tree's page, and what it then shows."""

from datetime import timedelta

import pytest

from care.actions.logbook import log_loss
from care.models import LogEntry
from care.views.tree_lines import QUOTES
from orchard.models import Graft, Tree, WantedTree
from tests.care.actions.test_tree_moves import BY
from tests.care.test_tree_log_page import address
from tests.conftest import TODAY
from tests.orchard.plain_page import page_of, text_of

DAY = timedelta(days=1)
ON = {"on": str(TODAY)}
ONE = f"with {QUOTES.format('Comice')} grafted on"
BOTH = f"with {QUOTES.format('Fuji')} and {QUOTES.format('Comice')} grafted on"
POT = {"litres": "40", "diameter": "", "medium": "mix", **ON}


def text(answer):
    return text_of(page_of(answer))


@pytest.fixture
def grower(cast, client_of):
    return client_of(cast.grower)


@pytest.fixture
def owner(cast, client_of):
    return client_of(cast.owner)


@pytest.fixture
def lemon(make_tree):
    return make_tree(
        "Lemon",
        species_key="lemon",
        in_container=True,
        container_litres=20.0,
        x_m=1,
        y_m=2,
    )


def fresh(tree):
    return Tree.objects.get(pk=tree.pk)


def test_a_pot_is_changed_with_a_warning_of_too_large_a_step(grower, lemon):
    page = text(grower.get(address(lemon)))
    # Two inches wider than a pot of usual shape and 20 L: by hand 31.5 L; 0.9 kg a litre.
    assert "From 20 L the usual next pot holds 32 L." in page
    assert "Its kind rots in wet mix" in page
    page = text(grower.post(address(lemon, "repot/"), POT, follow=True))
    assert "Lemon is in its new pot." in page
    assert "That is a large step: rules stop at 32 L." in page
    assert "Potted Lemon on, 40 L" in page
    assert fresh(lemon).container_litres == 40.0
    undo = f"/s/test-site/log/{LogEntry.objects.get().public_id}/undo/"
    grower.post(undo)
    assert fresh(lemon).container_litres == 20.0


def test_a_pot_goes_into_the_ground_and_is_planted_there(grower, lemon, site):
    page = text(grower.get(address(lemon)))
    assert "nobody digs before pipes and cables are marked" in page
    posted = {"ball": "18", "drainage_hours": "60", "block": "0", **ON}
    page = text(grower.post(address(lemon, "to-ground/"), posted, follow=True))
    assert "It is watered as newly planted from now on" in page
    assert "roots drown there" in page
    assert "Planted Lemon out of its pot" in page
    tree = fresh(lemon)
    assert (tree.in_container, tree.block, tree.x_m) == (False, None, None)
    assert (tree.stock_litres, tree.drainage_hours) == (18.0, 60.0)
    page = text(grower.post(address(lemon, "repot/"), POT, follow=True))
    assert "Lemon grows in the ground by now." in page
    # Dug up again, in pots' own words.
    page = text(grower.post(address(lemon, "to-pot/"), POT, follow=True))
    assert "Dug Lemon up and potted it" in page
    assert fresh(lemon).container_litres == 40.0


def test_a_pot_that_was_carried_is_carried_back_by_undo(grower, lemon):
    for place in ("under_cover", "indoors_heated"):
        grower.post(address(lemon, "move/"), {"place": place, **ON})
    entry = LogEntry.objects.latest("pk")
    undo = f"/s/test-site/log/{entry.public_id}/undo/"
    assert undo in grower.get(address(lemon)).content.decode()
    grower.post(undo)
    assert lemon.stays.get().place == "under_cover"


MISTAKES = (
    ("repot/", {**POT, "litres": ""}, "How much does it hold?"),
    ("repot/", {**POT, "litres": "9000", "medium": "gravel"}, "cannot be right"),
    ("repot/", {**POT, "diameter": "-1"}, "cannot be right"),
    ("repot/", {**POT, "on": "2025-06-01"}, "planted or potted on 1 July 2025"),
    ("to-ground/", {"ball": "wide", "block": "x", **ON}, "Select a valid choice"),
    ("to-ground/", {"ball": "9", "drainage_hours": "-1", **ON}, "from 0 to 1000"),
    ("grafts/", {"cultivar": "", "on": str(TODAY + DAY)}, "Which cultivar is it?"),
    ("grafts/", {"cultivar": "Gala", "species": "aple", **ON}, "Did you mean"),
    ("grafts/", {"cultivar": "Gala", "species": "apple", **ON}, "another genus"),
    ("grafts/", {"cultivar": "Navel", "species": "orange", **ON}, "same genus"),
    ("grafts/", {"cultivar": "meyer", **ON}, "the tree's own cultivar"),
)


def test_a_mistake_is_named_and_nothing_is_lost(grower, make_tree):
    tree = make_tree(
        "Lemon",
        species_key="lemon",
        cultivar="Meyer",
        in_container=True,
        container_litres=20.0,
        planted_on=TODAY - DAY,
    )
    for verb, posted, words in MISTAKES:
        answer = grower.post(address(tree, verb), {**posted, "note": "A windy day"})
        assert answer.status_code == 422
        assert words in text(answer)
        assert "A windy day" in answer.content.decode()
    assert not LogEntry.objects.exists()
    assert not Graft.objects.exists()


def test_who_may_only_look_is_offered_nothing(cast, client_of, lemon):
    page = text(client_of(cast.viewer).get(address(lemon)))
    assert "Put it into another pot" not in page
    assert "Grafted another cultivar on" not in page


def test_a_tree_that_is_planned_or_gone_is_not_moved(grower, make_tree):
    planned = make_tree("Planned", planted_on=TODAY + DAY)
    gone = make_tree("Gone", status=Tree.Status.LOST, ended_on=TODAY)
    for tree, words in ((planned, "not planted yet"), (gone, "no longer here")):
        for verb in ("repot/", "to-ground/", "to-pot/", "grafts/"):
            page = text(grower.post(address(tree, verb), POT, follow=True))
            assert words in page
    assert not LogEntry.objects.exists()


def test_a_tree_of_several_cultivars_is_one_tree(grower, make_tree, keep_plan):
    tree = make_tree("Family tree", cultivar="Gala")
    other = {"cultivar": "Comice", "species": "pear", "is_sure": "on", **ON}
    grower.post(address(tree, "grafts/"), {"cultivar": "Fuji", **ON})
    page = text(grower.post(address(tree, "grafts/"), other, follow=True))
    assert BOTH in page
    assert "European pear, since" in page
    again = grower.post(address(tree, "grafts/"), {"cultivar": "Fuji", **ON})
    assert "lives on this tree already" in text(again)
    for cultivar in ("Fuji", "Gala", "Fuji"):
        picked = {"mass": "2", "cultivar": cultivar, **ON}
        answer = grower.post(address(tree, "harvest/"), picked)
        # The second picking of one cultivar may be the same, so that is asked.
    assert answer.status_code == 409
    assert LogEntry.objects.filter(what="harvested", product="Gala").count() == 1
    keep_plan()
    assert BOTH in text(grower.get("/s/test-site/trees/"))
    graft = Graft.objects.get(cultivar="Fuji")
    end = address(tree, f"grafts/{graft.pk}/end/")
    early = grower.post(end, {"on": str(TODAY - DAY)})
    assert early.status_code == 422
    assert "It was grafted on 2 July 2025 only." in text(early)
    page = text(grower.post(end, ON, follow=True))
    assert ONE in page
    assert "already written down" in text(grower.post(end, ON, follow=True))


def test_what_took_a_lost_trees_place_is_told_on_both_pages(owner, grower, make_tree):
    old = make_tree("Old Gala", cultivar="Gala", x_m=3.0, y_m=4.0, rootstock="M.9")
    posted = {
        "name": "New Fuji",
        "species": "apple",
        "cultivar": "Fuji",
        "planting": "Replacements",
        "same_place": "on",
    }
    still = text(owner.post(address(old, "replace/"), posted, follow=True))
    assert "Old Gala still stands." in still
    log_loss(tree=old, status="lost", reason="Canker", on=TODAY, **BY)
    assert "Plant another in its place" not in text(grower.get(address(old)))
    page = text(owner.get(address(old)))
    assert "Plant another in its place" in page
    wrong = owner.post(address(old, "replace/"), {**posted, "species": "", "name": ""})
    assert wrong.status_code == 422
    assert "Give the new tree a name." in text(wrong)
    page = text(owner.post(address(old, "replace/"), posted, follow=True))
    assert "New Fuji is wanted where Old Gala stood." in page
    assert "Apple often does badly where its like stood" in page
    wanted = WantedTree.objects.get()
    assert (wanted.x_m, wanted.y_m, wanted.cultivar) == (3.0, 4.0, "Fuji")
    assert "Wanted in its place: New Fuji" in text(owner.get(address(old)))
    new = make_tree("New Fuji", replaces=old, planted_on=TODAY)
    wanted.tree = new
    wanted.save()
    assert "In its place: New Fuji, 2025 to now." in text(owner.get(address(old)))
    told = text(owner.get(address(new)))
    assert "It stands where Old Gala stood, 2020 to 2025." in told
    third = make_tree("Third", replaces=new)
    told = text(owner.get(address(third)))
    assert "It stands where New Fuji stood, 2025 to now." in told
    assert "Before it Old Gala stood, 2020 to 2025." in told


def test_a_rootstock_tells_what_follows_from_it(grower, make_tree):
    dwarf = make_tree("Dwarf", rootstock="M9", sex="both")
    page = text(grower.get(address(dwarf)))
    assert "M9: dwarf, 30 to 40% as high as a full tree" in page
    assert "give it a post or wires for good" in page
    assert "Its flowers are" in page
    # The catalogue's apple is 6 m high and 5 m wide; see test_rootstocks.
    assert "Height on M.91.8 m to 2.4 m" in page
    assert "Width on M.92.4 m" in page
    assert "Royal Horticultural Society." in page
    held = make_tree("Held", rootstock="M9", support="permanent")
    assert "give it a post" not in text(grower.get(address(held)))
    strange = make_tree("Strange", rootstock="X99")
    page = text(grower.get(address(strange)))
    assert "X99: not known here, so its sizes are those of a full tree" in page
