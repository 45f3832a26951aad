"""Where trees stand: by two tapes, along a row, by phone or in words."""

import math

from django import forms
from django.utils.translation import gettext, gettext_lazy

from orchard.forms.fields import NumberField
from orchard.forms.plan_fields import OUTSIDE, OnPlanForm, TapeField, TapesForm
from orchard.plans.gathered import Plant, key_of, place_of
from orchard.plans.lengths import length_words
from orchard.plans.measured import Point
from orchard.plans.point_text import MOST_LETTERS, read_point
from orchard.plans.positions import read_position
from orchard.plans.problems import PlanError
from orchard.plans.rows import (
    CLOSEST_M,
    PHONE_ERROR_M,
    WIDEST_M,
    along_bearing,
    place_by_satellite,
    row_between,
    row_towards,
)

#: Spacing and ends of a row may differ by this much, or by this share [m, -].
ROW_SLACK_M, ROW_SLACK_SHARE = 0.3, 0.02
OUTSIDE_HINT = gettext_lazy(
    "Tick this only for a tree beyond the line, such as one in the street."
)


def outside_box() -> forms.BooleanField:
    """Return the box that lets a tree stand outside the boundary."""
    return forms.BooleanField(label=OUTSIDE, required=False, help_text=OUTSIDE_HINT)


class OfPlantForm(OnPlanForm):
    """A form about one tree of the plan."""

    plant = forms.ChoiceField(label=gettext_lazy("Tree"))

    def __init__(self, *args: object, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]  # handed on
        offer_plants(self, "plant")

    def chosen(self) -> Plant:
        """Return the tree that was chosen."""
        return plant_named(self, "plant")


def offer_plants(form: OnPlanForm, *names: str) -> None:
    """Let boxes offer the trees of a plan, those without a place first."""
    without: list[tuple[str, str]] = []
    placed: list[tuple[str, str]] = []
    for plant in form.plan.plants:
        shown = (key_of(plant), plant.name)
        (placed if place_of(plant) else without).append(shown)
    groups = [(gettext("Without a place"), without), (gettext("With a place"), placed)]
    for name in names:
        box = form.fields[name]
        if isinstance(box, forms.ChoiceField):
            box.choices = [group for group in groups if group[1]]


def plant_named(form: OnPlanForm, name: str) -> Plant:
    """Return the tree that a box chose; its choices are the plan's own."""
    wanted = form.cleaned_data[name]
    return next(plant for plant in form.plan.plants if key_of(plant) == wanted)


class TapeForm(OfPlantForm, TapesForm):
    """A tree by two tapes."""

    is_outside = outside_box()
    field_order = ("plant", "first", "first_m", "second", "second_m", "side")
    boxes = {"": "second_m", "outside": "is_outside", "spot": "plant"}

    def clean(self) -> dict[str, object]:
        """Find the place."""
        cleaned = super().clean()
        self.find()
        return cleaned

    @property
    def place_m(self) -> Point:
        """Where it stands [m]."""
        assert self.found is not None  # noqa: S101 - a valid form has found it
        return self.found.place_m


class PhoneForm(OfPlantForm):
    """A tree by the position that a phone shows beside it."""

    position = forms.CharField(
        label=gettext_lazy("What the phone shows"),
        max_length=60,
        help_text=gettext_lazy("Latitude, longitude: 47.45012, -122.31034."),
    )
    accuracy_m = TapeField(
        label=gettext_lazy("It says it may be off by"),
        high=200.0,
    )
    is_outside = outside_box()
    boxes = {"": "position", "outside": "is_outside", "spot": "plant"}

    def __init__(self, *args: object, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        usual = length_words(PHONE_ERROR_M, self.units)
        self.fields["accuracy_m"].help_text = gettext(
            "Left empty: {usual}, which is usual among trees and houses."
        ).format(usual=usual)

    def clean_position(self) -> Point:
        """Return the place on the plan [m]."""
        try:
            latitude_deg, longitude_deg = read_position(self.cleaned_data["position"])
            return place_by_satellite(self.plan.axes, latitude_deg, longitude_deg)
        except PlanError as error:
            raise forms.ValidationError(error.words(self.units)) from error

    @property
    def place_m(self) -> Point:
        """Where it stands [m]."""
        place: Point = self.cleaned_data["position"]
        return place

    def measured(self) -> dict[str, object]:
        """Return how it was measured."""
        accuracy_m = self.cleaned_data["accuracy_m"] or PHONE_ERROR_M
        return {"how": "phone", "accuracy_m": accuracy_m}


class WordsForm(OfPlantForm):
    """A tree by one line of words."""

    where = forms.CharField(
        label=gettext_lazy("Where it stands"),
        max_length=MOST_LETTERS,
        help_text=gettext_lazy(
            "Along and across from the first corner: 3, 4.5. Or two distances: "
            "5.1 from A, 7.2 from B."
        ),
    )
    is_outside = outside_box()
    boxes = {"": "where", "outside": "is_outside", "spot": "plant"}

    def clean_where(self) -> Point:
        """Return the place on the plan [m]."""
        return read_where(self, self.cleaned_data["where"])

    @property
    def place_m(self) -> Point:
        """Where it stands [m]."""
        place: Point = self.cleaned_data["where"]
        return place

    def measured(self) -> dict[str, object]:
        """Return how it was measured."""
        return {"how": "words", "text": str(self.data.get("where", ""))[:MOST_LETTERS]}


def read_where(form: OnPlanForm, text: str) -> Point:
    """Return the place of one typed line [m].

    Raises
    ------
    ValidationError
        It is no point; the message says why.
    """
    try:
        return read_point(text, form.plan.corner_places, form.units, form.plan.garden_m)
    except PlanError as error:
        raise forms.ValidationError(error.words(form.units)) from error


class RowForm(OnPlanForm):
    """Trees in a row, from the first to the last of the walk."""

    first = forms.ChoiceField(label=gettext_lazy("First tree of the row"))
    last = forms.ChoiceField(label=gettext_lazy("Last tree of the row"))
    first_where = forms.CharField(
        label=gettext_lazy("Where the first one stands"),
        required=False,
        max_length=MOST_LETTERS,
        help_text=gettext_lazy(
            "As 5.1 from A, 7.2 from B or 3, 4.5. Empty: where it is already."
        ),
    )
    last_where = forms.CharField(
        label=gettext_lazy("Where the last one stands"),
        required=False,
        max_length=MOST_LETTERS,
        help_text=gettext_lazy("Left empty too if you know spacing and direction."),
    )
    spacing_m = TapeField(
        label=gettext_lazy("From tree to tree"),
        low=CLOSEST_M,
        high=WIDEST_M,
        help_text=gettext_lazy("Empty: evenly between both ends."),
    )
    bearing_deg = NumberField(
        label=gettext_lazy("Direction of the row on the compass"),
        low=0,
        high=360,
        unit=gettext_lazy("degrees"),
        required=False,
        help_text=gettext_lazy(
            "0 is north, 90 east. Only where the last tree's place is not known."
        ),
    )
    is_outside = outside_box()
    boxes = {"": "last_where", "outside": "is_outside", "spot": "first"}

    def __init__(self, *args: object, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]  # handed on
        offer_plants(self, "first", "last")
        self.places: tuple[Point, ...] = ()

    def clean_first_where(self) -> Point | None:
        """Return where the first tree stands [m], if it was written."""
        text = self.cleaned_data["first_where"]
        return read_where(self, text) if text else None

    def clean_last_where(self) -> Point | None:
        """Return where the last tree stands [m], if it was written."""
        text = self.cleaned_data["last_where"]
        return read_where(self, text) if text else None

    def row(self) -> list[Plant]:
        """Return the trees from the first to the last, in that order."""
        keys = [key_of(plant) for plant in self.plan.plants]
        start = keys.index(self.cleaned_data["first"])
        end = keys.index(self.cleaned_data["last"])
        if start <= end:
            return list(self.plan.plants[start : end + 1])
        return list(self.plan.plants[end : start + 1])[::-1]

    def clean(self) -> dict[str, object]:
        """Find every tree's place."""
        cleaned = super().clean()
        if self.errors:
            return cleaned
        row = self.row()
        start = cleaned["first_where"] or place_of(row[0])
        if len(row) == 1:
            self.add_error("last", gettext("A row has two trees at least."))
        elif start is None:
            self.add_error("first_where", gettext("Where does the first one stand?"))
        else:
            try:
                self.places = self._places(row, start)  # type: ignore[arg-type]  # cleaned
            except PlanError as error:
                self.tell(error)
        return cleaned

    def _places(self, row: list[Plant], start: Point) -> tuple[Point, ...]:
        spacing_m = self.cleaned_data["spacing_m"]
        bearing_deg = self.cleaned_data["bearing_deg"]
        end = self.cleaned_data["last_where"]
        if bearing_deg is not None and end is None:
            if spacing_m is None:
                self.add_error("spacing_m", gettext("How far is it from tree to tree?"))
                return ()
            up_deg = self.plan.plan.up_bearing_deg
            towards = along_bearing(start, bearing_deg, up_deg)
            return row_towards(start, towards, spacing_m, len(row))
        end = end or place_of(row[-1])
        if end is None:
            self.add_error("last_where", gettext("Where does the last one stand?"))
            return ()
        self._check_spacing(spacing_m, math.dist(start, end), len(row))
        return row_between(start, end, len(row))

    def _check_spacing(
        self, spacing_m: float | None, length_m: float, number: int
    ) -> None:
        if spacing_m is None:
            return
        needed_m = spacing_m * (number - 1)
        if abs(needed_m - length_m) <= max(ROW_SLACK_M, ROW_SLACK_SHARE * length_m):
            return
        message = gettext(
            "{number} trees {spacing} apart need {needed}; between both ends "
            "are {length}. Leave the spacing empty to space them evenly."
        )
        raise PlanError(
            message,
            number=number,
            spacing=float(spacing_m),
            needed=needed_m,
            length=length_m,
        )

    def measured(self) -> dict[str, object]:
        """Return how the row was measured."""
        spacing_m = math.dist(*self.places[:2])
        return {
            "how": "row",
            "first": self.row()[0].name,
            "last": self.row()[-1].name,
            "spacing_m": round(spacing_m, 3),
        }
