"""One tree: three facts are asked for, the rest is offered with its reason."""

from datetime import date

from django import forms
from django.forms import BoundField
from django.utils.translation import gettext

from orchard.catalogue.of_orchard import OrchardCatalogue, bare_catalogue
from orchard.forms.fields import read_past_day
from orchard.forms.folds import Fold, folds_of
from orchard.forms.irrigation import (
    check_running_days,
    check_when,
    reckon_litres,
)
from orchard.forms.kind_names import read_kind
from orchard.forms.plant_fields import POT
from orchard.forms.planting_days import OLDEST_YEAR, last_planned_day
from orchard.forms.tree_fields import (
    CHOICES,
    FOLDS,
    KNOWN,
    NO,
    NUMBERS,
    QUANTITIES,
    TreeFields,
)
from orchard.languages import day_of_year
from orchard.models import Tree
from orchard.units import UnitSystem


class TreeForm(TreeFields):
    """Everything a person may say of one tree."""

    def __init__(
        self,
        *args: object,
        units: UnitSystem,
        today: date,
        catalogue: OrchardCatalogue | None = None,
        tags_taken: frozenset[str] = frozenset(),
        names_taken: frozenset[str] = frozenset(),
        opened: str = "",
        **kwargs: object,
    ) -> None:
        super().__init__(*args, units=units, **kwargs)
        self.opened = opened
        self.today = today
        self.catalogue = catalogue or bare_catalogue()
        self.tags_taken = tags_taken
        self.names_taken = names_taken

    @property
    def first_fields(self) -> tuple[BoundField, ...]:
        """The facts that are asked for, in order."""
        asked = ("species", "grows_in", "container_litres", "planted")
        return tuple(self[name] for name in (*asked, "planted_long_ago"))

    @property
    def folds(self) -> tuple[Fold, ...]:
        """The facts that are offered."""
        return folds_of(self, FOLDS, opened=self.opened)

    def clean_species(self) -> str:
        """Return the catalogue's key; name the closest species where none is called so."""
        return read_kind(str(self.cleaned_data["species"]), self.catalogue.names)

    def clean_tag(self) -> str:
        """Refuse a tag that another tree of the site has."""
        tag = str(self.cleaned_data["tag"]).strip()
        if tag in self.tags_taken:
            message = gettext("Another tree here has the tag {tag}.").format(tag=tag)
            raise forms.ValidationError(message, code="taken")
        return tag

    def clean_planted(self) -> date | None:
        """Return the day; an empty box must be explained by the box below."""
        text = str(self.cleaned_data["planted"]).strip()
        if not text:
            return None
        try:
            day = read_past_day(text)
        except ValueError:
            message = gettext(
                "“{text}” is no such day. Write 2024-03-15, March 2024 or 2024."
            ).format(text=text)
            raise forms.ValidationError(message, code="invalid") from None
        if day > last_planned_day(self.today):
            message = gettext(
                "{day} is too far ahead to plan. Write a nearer day."
            ).format(day=day_of_year(day))
            raise forms.ValidationError(message, code="future")
        if day.year < OLDEST_YEAR:
            message = gettext(
                "Before {oldest_year}? Tick “Long ago; nobody knows” instead."
            ).format(oldest_year=OLDEST_YEAR)
            raise forms.ValidationError(message, code="old")
        return day

    def clean_place_since(self) -> date | None:
        """Refuse a move that is still to come."""
        return self._not_in_future("place_since")

    def clean_mulch_laid_on(self) -> date | None:
        """Refuse mulch that is not there yet."""
        return self._not_in_future("mulch_laid_on")

    def _not_in_future(self, name: str) -> date | None:
        day = self.cleaned_data[name]
        if isinstance(day, date) and day > self.today:
            message = gettext("This day is still to come.")
            raise forms.ValidationError(message, code="future")
        return day if isinstance(day, date) else None

    def clean(self) -> dict[str, object]:
        """Check what must hold between two boxes."""
        cleaned = super().clean()
        is_pot = cleaned.get("grows_in") == POT
        volume_given = cleaned.get("container_litres") or self.has_error(
            "container_litres"
        )
        if is_pot and not volume_given:
            self.add_error("container_litres", gettext("A pot needs its volume."))
        if not (
            cleaned.get("planted")
            or cleaned.get("planted_long_ago")
            or self.has_error("planted")
        ):
            message = gettext("Write when, or tick “Long ago; nobody knows”.")
            self.add_error("planted", message)
        if cleaned.get("planted") and cleaned.get("planted_long_ago"):
            message = gettext("Either a day or “Long ago; nobody knows”, not both.")
            self.add_error("planted", message)
        self._check_water_and_mulch(cleaned)
        self._check_hedge(cleaned)
        return cleaned

    def _check_hedge(self, cleaned: dict[str, object]) -> None:
        is_said = cleaned.get("clump_is_hedge") or cleaned.get("clump_height_limit_m")
        if is_said and not cleaned.get("clump_name"):
            self.add_error(
                "clump_name", gettext("Which hedge or hole is that? Give it a name.")
            )

    def _check_water_and_mulch(self, cleaned: dict[str, object]) -> None:
        reckon_litres(self, cleaned)
        check_when(self, cleaned)
        check_running_days(self, cleaned)
        depth = cleaned.get("mulch_depth_mm")
        if (
            cleaned.get("mulch_material")
            and depth is None
            and not self.has_error("mulch_depth_mm")
        ):
            self.add_error("mulch_depth_mm", gettext("How deep is the mulch?"))
        if depth and not cleaned.get("mulch_material"):
            self.add_error("mulch_material", gettext("What is the mulch made of?"))

    def tree_values(self) -> dict[str, object]:
        """Return the model's fields; blocks, clumps and stays are the actions' part."""
        data = self.cleaned_data
        key = str(data["species"])
        is_pot = data["grows_in"] == POT
        is_mulched = bool(data["mulch_material"])
        values: dict[str, object] = {
            name: data[name] for name in (*QUANTITIES, *NUMBERS)
        }
        values |= {name: data[name] for name in CHOICES if data[name]}
        values |= {name: data[name] or Tree.Known.UNKNOWN for name in KNOWN}
        values |= {
            "species_key": key,
            "name": data["name"] or self._free_name(key),
            "cultivar": data["cultivar"],
            "rootstock": data["rootstock"],
            "sex": data["sex"],
            "tag": data["tag"],
            "in_container": is_pot,
            "container_medium": data["container_medium"] or "mix",
            "planted_on": data["planted"],
            "near_wires": data["near_wires"],
            "has_trunk_guard": data["has_trunk_guard"],
            "is_grafted": data["is_grafted"] != NO,
            "irrigation_weekdays": "".join(sorted(data["irrigation_weekdays"])),
            "irrigation_since": data["irrigation_since"],
            "irrigation_until": data["irrigation_until"],
            "mulch_material": data["mulch_material"],
            "mulch_laid_on": (data["mulch_laid_on"] or self.today)
            if is_mulched
            else None,
        }
        if data["position"]:
            values["position"] = data["position"] - 1
        return values

    def stay(self) -> tuple[str, date] | None:
        """Return where a pot stands and since when, if that was said."""
        data = self.cleaned_data
        if data["grows_in"] != POT or not data["place"]:
            return None
        return data["place"], data["place_since"] or self.today

    def hedge(self) -> tuple[bool, float | None] | None:
        """Return whether its clump is a hedge and how high it is kept, if that was said.

        Two empty boxes of a clump that the tree was in take back what was said; of any
        other they say nothing.
        """
        data = self.cleaned_data
        said = bool(data["clump_is_hedge"]), data["clump_height_limit_m"]
        is_same = data["clump_name"] == self.initial.get("clump_name")
        return said if any(said) or is_same else None

    def _free_name(self, key: str) -> str:
        stem = self.catalogue.species[key].shown_name
        name, number = stem, 2
        while name in self.names_taken:
            name, number = f"{stem} {number}", number + 1
        return name
