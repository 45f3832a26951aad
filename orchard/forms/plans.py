"""How a plan lies on the earth, and its corners."""

import math

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext, gettext_lazy

from orchard.forms.fields import NumberField
from orchard.forms.plan_fields import (
    OnPlanForm,
    TapeField,
    TapesForm,
    point_text,
)
from orchard.forms.plan_measure import read_where
from orchard.languages import Words
from orchard.models import Corner, Site
from orchard.plans.axes import PlanAxes
from orchard.plans.measured import Point
from orchard.plans.point_text import MOST_LETTERS
from orchard.plans.positions import read_position
from orchard.plans.problems import PlanError

DIRECTIONS = (
    (0, gettext_lazy("North")),
    (45, gettext_lazy("North-east")),
    (90, gettext_lazy("East")),
    (135, gettext_lazy("South-east")),
    (180, gettext_lazy("South")),
    (225, gettext_lazy("South-west")),
    (270, gettext_lazy("West")),
    (315, gettext_lazy("North-west")),
)
#: A site's own place may be that of its town [m].
FARTHEST_ORIGIN_M = 50_000.0
LONGEST_CORNER_NAME = 40
ITS_NAME = gettext_lazy("Its name")
WHERE_HELP = gettext_lazy(
    "Along and across: 3, 4.5. Or two distances: 5.1 from A, 7.2 from B."
)


class AxesForm(OnPlanForm):
    """Which way up the plan is, and where its first corner lies on the earth."""

    direction = forms.TypedChoiceField(
        label=gettext_lazy("Then you look towards the"),
        coerce=float,
        empty_value=None,
        required=False,
        choices=[("", gettext_lazy("Choose, or write degrees")), *DIRECTIONS],
    )
    bearing_deg = NumberField(
        label=gettext_lazy("Or exactly, as a compass shows it"),
        low=0,
        high=360,
        unit=gettext_lazy("degrees"),
        required=False,
        help_text=gettext_lazy("It goes before the direction above."),
    )
    origin = forms.CharField(
        label=gettext_lazy("Latitude and longitude of the first corner"),
        max_length=60,
        required=False,
        help_text=gettext_lazy(
            "As a phone shows it there: 47.45012, -122.31034. Empty: the place "
            "in the settings."
        ),
    )

    def clean_origin(self) -> tuple[float, float] | None:
        """Return latitude and longitude [deg], near the site's own."""
        text = self.cleaned_data["origin"]
        if not text:
            return None
        try:
            latitude_deg, longitude_deg = read_position(text)
            _check_near_site(self.plan.site, latitude_deg, longitude_deg)
        except PlanError as error:
            raise ValidationError(error.words(self.units)) from error
        return latitude_deg, longitude_deg

    def clean(self) -> dict[str, object]:
        """Ask for one of the two directions."""
        cleaned = super().clean()
        is_silent = cleaned.get("bearing_deg") is None
        if is_silent and cleaned.get("direction") is None and not self.errors:
            self.add_error(
                "direction", gettext("Choose a direction, or write the degrees.")
            )
        return cleaned

    def plan_values(self) -> dict[str, object]:
        """Return the fields of the plan."""
        data = self.cleaned_data
        exact = data["bearing_deg"]
        origin = data["origin"] or (None, None)
        bearing_deg = data["direction"] if exact is None else exact
        return {
            "up_bearing_deg": bearing_deg % 360.0,
            "origin_latitude_deg": origin[0],
            "origin_longitude_deg": origin[1],
        }


def _check_near_site(site: Site, latitude_deg: float, longitude_deg: float) -> None:
    around = PlanAxes(site.latitude_deg, site.longitude_deg)
    away_m = math.hypot(*around.to_plan(longitude_deg, latitude_deg))
    if away_m > FARTHEST_ORIGIN_M:
        message = gettext(
            "This lies {away} from the place in the settings. Correct that one "
            "first if it is wrong. Latitude comes before longitude."
        )
        raise PlanError(message, away=away_m)


def corner_name_field(label: Words = ITS_NAME) -> forms.CharField:
    """Return a box for a corner's name, which a line of words can hold."""
    return forms.CharField(
        label=label,
        max_length=LONGEST_CORNER_NAME,
        help_text=gettext_lazy("Short: A, or Shed."),
    )


class FirstCornersForm(OnPlanForm):
    """The first two corners and how far they are apart."""

    first_name = corner_name_field(gettext_lazy("The corner at your left hand"))
    second_name = corner_name_field(gettext_lazy("The corner at your right hand"))
    apart_m = TapeField(
        label=gettext_lazy("From the one to the other"), required=True, low=0.5
    )
    boxes = {"": "apart_m", "name": "second_name"}

    def clean(self) -> dict[str, object]:
        """Refuse one name for both."""
        cleaned = super().clean()
        names = [str(cleaned.get(name, "")) for name in ("first_name", "second_name")]
        if names[0] and names[0].casefold() == names[1].casefold():
            self.add_error("second_name", gettext("Give it a name of its own."))
        return cleaned

    def corners(self) -> dict[str, Point]:
        """Return both corners: the first is where the plan begins."""
        data = self.cleaned_data
        return {
            data["first_name"]: (0.0, 0.0),
            data["second_name"]: (data["apart_m"], 0.0),
        }


class CornerForm(TapesForm):
    """One more corner, by two tapes from those there are."""

    name = corner_name_field()
    field_order = ("name", "first", "first_m", "second", "second_m", "side")
    boxes = {"": "second_m", "name": "name"}

    def clean(self) -> dict[str, object]:
        """Find the place."""
        cleaned = super().clean()
        self.find()
        return cleaned

    def corners(self) -> dict[str, Point]:
        """Return the corner and its place [m]; none where none was found."""
        return {self.cleaned_data["name"]: self.found.place_m} if self.found else {}


class PlainCornerForm(OnPlanForm):
    """A corner's name and, in one line, its place."""

    name = corner_name_field()
    where = forms.CharField(
        label=gettext_lazy("Where it is"), max_length=MOST_LETTERS, help_text=WHERE_HELP
    )
    boxes = {"": "where", "name": "name"}

    def __init__(
        self, *args: object, corner: Corner | None = None, **kwargs: object
    ) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]  # handed on
        self.corner = corner
        if corner is not None:
            where = point_text((corner.x_m, corner.y_m), self.units)
            self.initial.update(name=corner.name, where=where)

    def clean_where(self) -> Point:
        """Return the place [m]; one that nobody touched stays exactly."""
        if self.corner is not None and "where" not in self.changed_data:
            return self.corner.x_m, self.corner.y_m
        return read_where(self, self.cleaned_data["where"])

    def corners(self) -> dict[str, Point]:
        """Return the corner and its place [m]."""
        return {self.cleaned_data["name"]: self.cleaned_data["where"]}
