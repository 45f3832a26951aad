"""A site's facts and local rules, in words."""

import zoneinfo
from collections.abc import Sequence

from django import forms

from orchard.forms.fields import (
    DayOfYearField,
    NumberField,
    QuantityField,
    UnitsForm,
)
from orchard.models import Site
from orchard.models.places import SoilTexture
from orchard.units import Quantity, UnitSystem

# Texture by feel as extension services teach it: common practice, no source.
_FEEL = {
    SoilTexture.SAND: "gritty, falls apart when squeezed",
    SoilTexture.LOAMY_SAND: "gritty, a ball that breaks at a touch",
    SoilTexture.SANDY_LOAM: "gritty, a ball that holds if handled gently",
    SoilTexture.LOAM: "a little gritty and a little smooth, holds a ball",
    SoilTexture.SILT_LOAM: "smooth as flour, holds a ball",
    SoilTexture.SILT: "smooth and silky, slippery when wet",
    SoilTexture.SILTY_CLAY_LOAM: "smooth, sticky, presses into a short ribbon",
    SoilTexture.SILTY_CLAY: "smooth, very sticky, a long ribbon",
    SoilTexture.CLAY: "very sticky when wet, hard when dry, a long ribbon",
}
SOIL_CHOICES = [
    (str(texture.value), f"{texture.label}: {_FEEL[texture]}")
    for texture in SoilTexture
]
EMPTY_SPANS = 2
FROST = ("last_frost", "first_frost")


def clean_zone(name: str) -> str:
    """Return a time zone's name as the IANA list writes it.

    Raises
    ------
    django.core.exceptions.ValidationError
        The list has no such zone.
    """
    wanted = name.strip().replace(" ", "_").casefold()
    for zone in zoneinfo.available_timezones():
        if zone.casefold() == wanted:
            return zone
    message = f"“{name}” is not a time zone. Write it like Europe/Lisbon."
    raise forms.ValidationError(message, code="invalid")


def zone_names() -> list[str]:
    """Return the zones people live in, for a list to choose from."""
    zones = zoneinfo.available_timezones()
    return sorted(z for z in zones if "/" in z and not z.startswith("Etc/"))


class SiteForm(UnitsForm):
    """What decides weather, water and dates at a place."""

    name = forms.CharField(label="Name", max_length=80)
    latitude_deg = NumberField(
        label="Latitude", low=-90, high=90, unit="°", help_text="South is negative."
    )
    longitude_deg = NumberField(
        label="Longitude", low=-180, high=180, unit="°", help_text="West is negative."
    )
    elevation_m = QuantityField(
        Quantity.LENGTH,
        low=-430,
        high=6000,
        label="Height above the sea",
        help_text="Thin air lets a little more water evaporate.",
        required=True,
    )
    time_zone = forms.CharField(
        label="Time zone",
        max_length=60,
        help_text="Decides when a new day begins here.",
        widget=forms.TextInput(attrs={"list": "zones", "autocomplete": "off"}),
    )
    soil_texture = forms.ChoiceField(
        label="Soil",
        choices=SOIL_CHOICES,
        help_text="Wet a handful and squeeze it. It decides how much water stays.",
    )
    is_frost_free = forms.BooleanField(
        label="It never freezes here",
        required=False,
        help_text="Then the two dates below are not used.",
    )
    last_frost = DayOfYearField(
        label="Typical last frost",
        help_text="Feeding and planting wait for it. Leave empty if you don't know.",
    )
    first_frost = DayOfYearField(
        label="Typical first frost",
        help_text="Feeding ends well before it.",
    )
    frost_margin_c = QuantityField(
        Quantity.TEMPERATURE_STEP,
        low=0,
        high=8,
        label="Protect this much before damage",
        help_text="Forecasts err, and low spots are colder than the station.",
        required=True,
    )
    feed_product_name = forms.CharField(
        label="Fertiliser you use",
        max_length=60,
        help_text="Feeding tasks name it, such as 10-10-10.",
    )
    feed_nitrogen_percent = NumberField(
        label="Nitrogen in it",
        low=0.1,
        high=46,
        unit="%",
        help_text="The first of the three numbers on the bag.",
    )
    local_rules = forms.CharField(
        label="Local rules, for everyone to read",
        required=False,
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 4}),
        help_text="Such as watering days or where no sprays are allowed.",
    )

    def clean_time_zone(self) -> str:
        """Refuse a zone that no clock keeps."""
        return clean_zone(str(self.cleaned_data["time_zone"]))

    def clean(self) -> dict[str, object]:
        """Check that the two frosts stand for a season between them."""
        cleaned = super().clean()
        last, first = cleaned.get("last_frost"), cleaned.get("first_frost")
        if last and first and last == first and not cleaned.get("is_frost_free"):
            message = "Last and first frost cannot be on one day."
            self.add_error("first_frost", message)
        return cleaned

    def site_values(self) -> dict[str, object]:
        """Return the model's fields."""
        values = {
            name: value
            for name, value in self.cleaned_data.items()
            if name not in FROST
        }
        for name in FROST:
            day = None if values["is_frost_free"] else self.cleaned_data[name]
            values[f"{name}_month"], values[f"{name}_day"] = day or (None, None)
        return values


def site_initial(site: Site) -> dict[str, object]:
    """Return what the boxes show of a site."""
    names = [name for name in SiteForm.base_fields if name not in FROST]
    values: dict[str, object] = {name: getattr(site, name) for name in names}
    for name in FROST:
        month, day = getattr(site, f"{name}_month"), getattr(site, f"{name}_day")
        values[name] = (month, day) if month and day else None
    return values


class BlackoutForm(UnitsForm):
    """One span of the year in which nobody may feed."""

    starts = DayOfYearField(label="From")
    ends = DayOfYearField(label="Until")

    def clean(self) -> dict[str, object]:
        """Refuse half a span."""
        cleaned = super().clean()
        for name, other in (("starts", "ends"), ("ends", "starts")):
            is_half = cleaned.get(other) and not cleaned.get(name)
            if is_half and not self.has_error(name):
                self.add_error(name, "Give both days, or leave both empty.")
        return cleaned

    def span(self) -> tuple[int, int, int, int] | None:
        """Return the span, or ``None`` where it was left empty."""
        starts, ends = self.cleaned_data["starts"], self.cleaned_data["ends"]
        return (*starts, *ends) if starts and ends else None


def blackout_forms(
    site: Site, units: UnitSystem, data: object = None
) -> list[BlackoutForm]:
    """Return a form for each span there is, and empty ones for more."""
    spans = [
        {
            "starts": (span.start_month, span.start_day),
            "ends": (span.end_month, span.end_day),
        }
        for span in site.feeding_blackouts.all()
    ]
    return [
        BlackoutForm(data, units=units, prefix=f"span{number}", initial=initial)
        for number, initial in enumerate([*spans, *({} for _ in range(EMPTY_SPANS))])
    ]


def spans_of(forms_of_spans: Sequence[BlackoutForm]) -> list[tuple[int, int, int, int]]:
    """Return the spans that were given."""
    return [span for form in forms_of_spans if (span := form.span())]
