"""What people type of a tree they want: near names, good defaults, clear refusals."""

from datetime import date, timedelta

import pytest

from care.forms.planting_names import DayForm, PlantingForm
from care.forms.plantings import WantedForm
from care.planning.kinds import Kinds
from care.planning.species_facts import species_facts
from orchard.catalogue.of_orchard import bare_catalogue
from orchard.models import Tree
from orchard.units import UnitSystem

KINDS = Kinds(
    tuple(species_facts(key) for key in ("apple", "fig")),
    bare_catalogue(),
)
THREE = {"species": "apple", "grows_in": "ground", "stock": "bare_root", "count": "1"}
TODAY = date(2025, 7, 2)


def form_of(given, **more):
    more.setdefault("units", UnitSystem.METRIC)
    return WantedForm({**THREE, **given}, kinds=KINDS, **more)


def values_of(given, **more):
    form = form_of(given, **more)
    assert form.is_valid(), form.errors
    return form.values()


def test_three_facts_are_enough_for_good_defaults():
    values = values_of({})
    assert values["species_key"] == "apple"
    assert values["stock"] == "bare_root"
    assert (values["backfill"], values["support"]) == ("native", "none")
    assert (values["in_container"], values["container_litres"]) == (False, None)
    assert form_of({}).is_valid()
    shown = [field.name for field in form_of({}).first_fields]
    assert shown == ["species", "grows_in", "container_litres", "stock", "count"]


@pytest.mark.parametrize(
    ("given", "soil_ph", "backfill", "support"),
    [
        # Acid lovers get peat or bark, unless the soil is known to be acid enough.
        ({"species": "northern highbush blueberry"}, None, "acid", "none"),
        ({"species": "northern highbush blueberry"}, 6.1, "acid", "none"),
        ({"species": "northern highbush blueberry"}, 4.8, "native", "none"),
        ({"species": "apple"}, 8.0, "native", "none"),
        # University of Arizona, Master Gardener manual: M.9 yes, M.26 maybe, others no
        ({"rootstock": "M9"}, None, "native", "permanent"),
        ({"rootstock": "M.26"}, None, "native", "stake"),
        ({"rootstock": "MM.111"}, None, "native", "none"),
        # What was chosen stands.
        ({"rootstock": "M9", "support": "none"}, None, "native", "none"),
        ({"species": "fig", "backfill": "compost"}, None, "compost", "none"),
    ],
)
def test_backfill_and_support_are_the_kinds_unless_chosen(
    given, soil_ph, backfill, support
):
    values = values_of(given, soil_ph=soil_ph)
    assert (values["backfill"], values["support"]) == (backfill, support)


@pytest.mark.parametrize(
    ("given", "field", "words"),
    [
        ({"species": "aple"}, "species", "Did you mean Apple?"),
        ({"species": "xqzwv"}, "species", "own kinds"),
        ({"species": ""}, "species", "Say what it is"),
        ({"grows_in": "pot"}, "container_litres", "A pot needs its volume"),
        ({"grows_in": "pot", "container_litres": "x"}, "container_litres", "number"),
        ({"grows_in": "pot", "container_litres": "0"}, "container_litres", "from"),
        ({"grows_in": "sky"}, "grows_in", "not one of"),
        ({"stock": ""}, "stock", "most come in a pot"),
        ({"count": "0"}, "count", "from 1 to 100"),
        ({"count": "500"}, "count", "At most 100"),
        ({"count": "1.5"}, "count", "whole number"),
        ({"count": "9" * 5000}, "count", "whole number"),
        ({"count": ""}, "count", "Write 1"),
        ({"name": "a" * 71}, "name", "70"),
        ({"cultivar": "a" * 61}, "cultivar", "60"),
        ({"caliper_mm": "-4"}, "caliper_mm", "must be from"),
        ({"mulch_ring_radius_m": "0"}, "mulch_ring_radius_m", "must be from"),
        ({"species": "a\x00b"}, "species", "Null"),
    ],
)
def test_what_cannot_be_is_refused_at_its_box_and_what_was_typed_is_kept(
    given, field, words
):
    form = form_of(given)
    assert not form.is_valid()
    assert list(form.errors) == [field]
    assert words in " ".join(form.errors[field])
    if field in given:
        assert form[field].value() == given[field]
    fold = [one for one in form.folds if any(f.name == field for f in one.fields)]
    assert all(one.is_open for one in fold)


def test_trees_alike_get_names_of_their_own():
    taken = frozenset({"Apple", "Apple 3"})
    form = form_of({"count": "3"}, names_taken=taken)
    assert form.is_valid()
    assert form.names() == ["Apple 2", "Apple 4", "Apple 5"]
    long = form_of({"count": "100", "name": "b" * 70})
    assert long.is_valid()
    assert len(set(long.names())) == 100
    assert max(map(len, long.names())) <= 80


def test_a_cultivar_is_written_as_the_catalogue_has_it_and_others_stay():
    assert values_of({"cultivar": "fuji "})["cultivar"] == "Fuji"
    assert values_of({"cultivar": " Grandmother's own"})["cultivar"] == (
        "Grandmother's own"
    )
    pot = {"grows_in": "pot", "container_litres": "10 gal"}
    assert values_of(pot)["container_litres"] == pytest.approx(37.854, abs=0.01)
    assert values_of({"container_litres": "40"})["container_litres"] is None


def test_only_trees_that_are_gone_can_be_replaced():
    gone = Tree(name="Old pear", status="lost")
    values = values_of({"replaces": str(gone.public_id)}, gone=[gone])
    assert values["replaces"] is gone
    assert values_of({})["replaces"] is None
    assert "replaces" in form_of({"replaces": "nobody"}, gone=[gone]).errors


@pytest.mark.parametrize(
    ("on", "words"),
    [
        (TODAY - timedelta(days=1), "That day is over"),
        (TODAY, "Planting it today?"),
        (TODAY + timedelta(days=3000), "too far ahead"),
        ("", "On which day?"),
        ("soon", "year-month-day"),
        (TODAY + timedelta(days=1), ""),
    ],
)
def test_a_day_is_one_to_come(on, words):
    form = DayForm({"on": str(on)}, today=TODAY)
    assert form.is_valid() is not bool(words)
    assert words in " ".join(form.errors.get("on", []))


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("", "Give it a name"),
        (" Hedge ", "There is a planting called Hedge"),
        ("a" * 61, "60"),
    ],
)
def test_a_planting_has_a_name_of_its_own(name, words):
    form = PlantingForm({"name": name}, names_taken=frozenset({"Hedge"}))
    assert not form.is_valid()
    assert words in " ".join(form.errors["name"])
    assert PlantingForm({"name": "a" * 60}).is_valid()
