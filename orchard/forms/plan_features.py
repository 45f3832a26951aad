"""What stands and lies on a plan: areas, lines and points."""

from django import forms
from django.core.exceptions import ValidationError
from django.utils.text import format_lazy
from django.utils.translation import gettext, gettext_lazy

from orchard.forms.fields import QuantityField
from orchard.forms.plan_fields import (
    LONGEST_TAPE_M,
    OnPlanForm,
    TapeField,
    point_text,
)
from orchard.forms.plan_measure import read_where
from orchard.forms.plans import WHERE_HELP
from orchard.models import Feature
from orchard.plans.gathered import points_of
from orchard.plans.measured import Point
from orchard.plans.point_text import MOST_LETTERS, read_points
from orchard.plans.problems import PlanError
from orchard.plans.shapes import AREA_KINDS, HIGH_KINDS, POINT_KINDS
from orchard.units import Quantity


class FeatureForm(OnPlanForm):
    """An area, a line or a point: quickly along and across, or point by point."""

    kind = forms.ChoiceField(
        label=gettext_lazy("What is it?"), choices=Feature.Kind.choices
    )
    name = forms.CharField(
        label=gettext_lazy("Its name"),
        max_length=60,
        required=False,
        help_text=gettext_lazy("If it has one."),
    )
    start = forms.CharField(
        label=gettext_lazy("Where it begins"),
        max_length=MOST_LETTERS,
        required=False,
        help_text=gettext_lazy(
            "A corner's name, or along and across from the first one: 0, 0."
        ),
    )
    along_m = TapeField(label=gettext_lazy("How far along"), high=2 * LONGEST_TAPE_M)
    across_m = TapeField(label=gettext_lazy("How far across"), high=2 * LONGEST_TAPE_M)
    has_corners = forms.BooleanField(
        label=gettext_lazy("Name its corners, to measure from them"),
        required=False,
    )
    points = forms.CharField(
        label=gettext_lazy("Or its points, one a line"),
        required=False,
        max_length=20_000,
        widget=forms.Textarea(attrs={"rows": 5, "spellcheck": "false"}),
        help_text=format_lazy(
            gettext_lazy("A corner's name. {where} An outline closes by itself."),
            where=WHERE_HELP,
        ),
    )
    height_m = TapeField(
        label=gettext_lazy("How high"),
        low=0.1,
        high=150.0,
        help_text=gettext_lazy(
            "Of a building, wall or fence; of wires where they hang lowest."
        ),
    )
    flow_l_per_min = QuantityField(
        Quantity.VOLUME,
        low=0.1,
        high=1000.0,
        label=gettext_lazy("What a tap gives in one minute"),
        help_text=gettext_lazy(
            "Time a bucket: full in 40 seconds, it is one and a half in a minute."
        ),
    )
    boxes = {"": "points", "kind": "kind", "name": "has_corners"}

    def __init__(
        self, *args: object, feature: Feature | None = None, **kwargs: object
    ) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]  # handed on
        self.feature = feature
        self.points_m: list[Point] = []
        if feature is not None:
            for name in ("start", "along_m", "across_m", "has_corners"):
                del self.fields[name]
            self.fields["points"].label = gettext("Its points, one a line")
            self.initial.update(
                kind=feature.kind,
                name=feature.name,
                height_m=feature.height_m,
                flow_l_per_min=feature.flow_l_per_min,
                points="\n".join(
                    point_text(point, self.units) for point in points_of(feature)
                ),
            )

    def clean(self) -> dict[str, object]:
        """Find the points, by whichever way they were written."""
        cleaned = super().clean()
        self._check_measures(cleaned)
        if self.errors:
            return cleaned
        try:
            self.points_m = self._points()
        except PlanError as error:
            self.tell(error)
        return cleaned

    def _check_measures(self, cleaned: dict[str, object]) -> None:
        kind = cleaned.get("kind")
        if cleaned.get("height_m") is not None and kind not in HIGH_KINDS:
            message = gettext(
                "Only buildings, walls, fences and wires have a height here."
            )
            self.add_error("height_m", message)
        if cleaned.get("flow_l_per_min") is not None and kind not in POINT_KINDS:
            self.add_error("flow_l_per_min", gettext("Only a tap gives water."))

    def _points(self) -> list[Point]:
        data = self.cleaned_data
        along_m, across_m = data.get("along_m"), data.get("across_m")
        is_quick = along_m is not None or across_m is not None
        if data["points"] and is_quick:
            message = gettext("Write the points or how far it goes, not both.")
            raise PlanError(message)
        if self.feature is not None and "points" not in self.changed_data:
            return points_of(self.feature)
        if data["points"]:
            places = self.plan.corner_places
            return read_points(data["points"], places, self.units, self.plan.garden_m)
        return self._quickly(along_m or 0.0, across_m or 0.0)

    def _quickly(self, along_m: float, across_m: float) -> list[Point]:
        """Return a rectangle, a straight line or a point from where it begins."""
        kind = self.cleaned_data["kind"]
        if self.feature is not None or (
            not along_m and not across_m and kind not in POINT_KINDS
        ):
            message = gettext("Write how far it goes along and across, or its points.")
            raise PlanError(message)
        x, y = self._start()
        if kind in POINT_KINDS:
            return [(x + along_m, y + across_m)]
        if kind not in AREA_KINDS:
            return [(x, y), (x + along_m, y + across_m)]
        return [
            (x, y),
            (x + along_m, y),
            (x + along_m, y + across_m),
            (x, y + across_m),
        ]

    def _start(self) -> Point:
        text = self.cleaned_data["start"]
        try:
            return read_where(self, text) if text else (0.0, 0.0)
        except ValidationError as error:
            self.add_error("start", error)
            return 0.0, 0.0

    def feature_values(self) -> dict[str, object]:
        """Return the fields of a feature."""
        data = self.cleaned_data
        return {
            "kind": data["kind"],
            "name": data["name"],
            "points_m": [list(point) for point in self.points_m],
            "height_m": data["height_m"],
            "flow_l_per_min": data["flow_l_per_min"],
        }

    def corners(self) -> dict[str, Point]:
        """Return its corners under names that are free, if it is to have any."""
        if not self.cleaned_data.get("has_corners"):
            return {}
        taken = {name.casefold() for name in self.plan.corner_places}
        letters = (chr(each) for each in range(ord("A"), ord("Z") + 1))
        free = [letter for letter in letters if letter.casefold() not in taken]
        return dict(zip(free, self.points_m, strict=False))
