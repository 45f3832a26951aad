"""A wanted tree: three facts are asked for, the rest has good defaults."""

from collections.abc import Iterable

from django import forms
from django.forms import BoundField
from django.utils.translation import gettext, pgettext

from care.facts import SpeciesFacts
from care.forms.wanted_fields import FIRST, FOLDS, NAME_LENGTH, WantedFields
from care.planning.kinds import Kinds
from care.planning.planting_defaults import usual_wish
from orchard.forms.folds import Fold, folds_of
from orchard.forms.plant_fields import GROUND, POT
from orchard.languages import either
from orchard.models import Tree, WantedTree
from orchard.units import UnitSystem

SAME = (
    *("stock", "cultivar", "rootstock", "sex", "stock_litres", "caliper_mm"),
    *("is_fed", "has_edging"),
)
MULCH = ("mulch_material", "mulch_depth_mm", "mulch_ring_radius_m")
NEW = {
    "grows_in": GROUND,
    "stock": Tree.Stock.CONTAINER_GROWN,
    "count": 1,
    "container_medium": "mix",
    "has_edging": True,
    "mulch_material": Tree.MulchMaterial.WOOD_CHIPS,
    "mulch_depth_mm": 75.0,
    "mulch_ring_radius_m": 0.6,
}


class WantedForm(WantedFields):
    """Everything a person may say of a wanted tree, or of several alike."""

    def __init__(
        self,
        *args: object,
        units: UnitSystem,
        kinds: Kinds,
        soil_ph: float | None = None,
        gone: Iterable[Tree] = (),
        names_taken: frozenset[str] = frozenset(),
        is_new: bool = True,
        **kwargs: object,
    ) -> None:
        super().__init__(*args, units=units, **kwargs)
        self.kinds = kinds
        self.soil_ph = soil_ph
        self.names_taken = names_taken
        self.gone = {str(tree.public_id): tree for tree in gone}
        choice = self.fields["replaces"]
        if isinstance(choice, forms.ChoiceField):
            choice.choices = [
                ("", pgettext("no tree", "Nobody")),
                *((key, tree.name) for key, tree in self.gone.items()),
            ]
        if not self.gone:
            del self.fields["replaces"]
        if not is_new:
            del self.fields["count"]

    @property
    def first_fields(self) -> tuple[BoundField, ...]:
        """The facts that are asked for, in order."""
        return tuple(self[name] for name in FIRST if name in self.fields)

    @property
    def folds(self) -> tuple[Fold, ...]:
        """The facts that are offered."""
        return folds_of(self, FOLDS)

    @property
    def kind(self) -> SpeciesFacts | None:
        """The kind that is written in its box, if there is such a one."""
        text = self["species"].value() or ""
        found = self.kinds.catalogue.names.named(str(text))
        return None if found is None else self.kinds.species(found.key)

    def clean_species(self) -> str:
        """Return the kind's key; name the closest where none is called so."""
        text = str(self.cleaned_data["species"]).strip()
        names = self.kinds.catalogue.names
        found = names.named(text)
        if found is not None:
            return found.key
        close = [species.shown_name for species in names.find(text)[:3]]
        if close:
            message = gettext(
                "“{text}” is not in the list. Did you mean {names}?"
            ).format(text=text, names=either(close))
        else:
            message = gettext(
                "“{text}” is not in the list of kinds. Write its common or "
                "botanical name, or add it to your orchard's own kinds first."
            ).format(text=text)
        raise forms.ValidationError(message, code="unknown")

    def clean(self) -> dict[str, object]:
        """Check what must hold between two boxes."""
        cleaned = super().clean()
        is_pot = cleaned.get("grows_in") == POT
        is_said = cleaned.get("container_litres") or self.has_error("container_litres")
        if is_pot and not is_said:
            message = gettext("A pot needs its volume: of the pot it will grow in.")
            self.add_error("container_litres", message)
        return cleaned

    def values(self) -> dict[str, object]:
        """Return the model's fields but name and block, with what is usual filled in."""
        data = self.cleaned_data
        species = self.kinds.species(str(data["species"]))
        usual = usual_wish(species, rootstock=data["rootstock"], soil_ph=self.soil_ph)
        is_pot = data["grows_in"] == POT
        known = self.kinds.cultivar(species.key, data["cultivar"])
        values: dict[str, object] = {name: data[name] for name in SAME}
        values |= {name: data[name] for name in MULCH if data[name] not in (None, "")}
        return values | {
            "species_key": species.key,
            "cultivar": known.name if known else data["cultivar"].strip(),
            "in_container": is_pot,
            "container_litres": data["container_litres"] if is_pot else None,
            "container_medium": data["container_medium"] or "mix",
            "backfill": data["backfill"] or usual.backfill,
            "support": data["support"] or usual.support.value,
            "replaces": self.gone.get(data.get("replaces") or ""),
        }

    @property
    def named_block(self) -> str:
        """The name of its block, empty for none."""
        return str(self.cleaned_data["block_name"]).strip()

    def names(self) -> list[str]:
        """Return a free name for each of the trees that are alike."""
        data = self.cleaned_data
        stem = data["name"].strip() or self.kinds.species(str(data["species"])).name
        stem = stem[:NAME_LENGTH]
        names: list[str] = []
        taken, number = set(self.names_taken), 1
        while len(names) < data.get("count", 1):
            name = stem if number == 1 else f"{stem} {number}"
            number += 1
            if name not in taken:
                taken.add(name)
                names.append(name)
        return names


def new_wanted(kind: str) -> dict[str, object]:
    """Return what the boxes of a new wish show first."""
    return {**NEW, "species": kind}


def wanted_initial(wanted: WantedTree, kinds: Kinds) -> dict[str, object]:
    """Return what the boxes show of a wanted tree, quantities in SI units."""
    values = {name: getattr(wanted, name) for name in (*SAME, *MULCH)}
    named = ("name", "backfill", "support", "container_litres", "container_medium")
    values |= {name: getattr(wanted, name) for name in named}
    return {key: value for key, value in values.items() if value is not None} | {
        "species": kinds.species(wanted.species_key).name,
        "grows_in": POT if wanted.in_container else GROUND,
        "block_name": wanted.block.name if wanted.block else "",
        "replaces": str(wanted.replaces.public_id) if wanted.replaces else "",
    }
