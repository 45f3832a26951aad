"""A site's facts and local rules, in words."""

import zoneinfo
from collections.abc import Mapping, Sequence
from datetime import date

from django import forms
from django.utils.text import format_lazy
from django.utils.translation import gettext, gettext_lazy as _

from orchard.forms.fields import (
    DayOfYearField,
    NumberField,
    QuantityField,
    UnitsForm,
    day_field,
)
from orchard.forms.folds import FoldNames
from orchard.languages import Words
from orchard.models import Site
from orchard.models.places import SOIL_PH, NitrogenAdvice, SoilTexture
from orchard.units import Quantity, UnitSystem, format_quantity, to_si

# Texture by feel as extension services teach it: common practice, no source.
_FEEL = {
    SoilTexture.SAND: _("gritty, falls apart when squeezed"),
    SoilTexture.LOAMY_SAND: _("gritty, a ball that breaks at a touch"),
    SoilTexture.SANDY_LOAM: _("gritty, a ball that holds if handled gently"),
    SoilTexture.LOAM: _("a little gritty and a little smooth, holds a ball"),
    SoilTexture.SILT_LOAM: _("smooth as flour, holds a ball"),
    SoilTexture.SILT: _("smooth and silky, slippery when wet"),
    SoilTexture.SILTY_CLAY_LOAM: _("smooth, sticky, presses into a short ribbon"),
    SoilTexture.SILTY_CLAY: _("smooth, very sticky, a long ribbon"),
    SoilTexture.CLAY: _("very sticky when wet, hard when dry, a long ribbon"),
}
SOIL_CHOICES = [
    (
        str(texture.value),
        format_lazy("{texture}: {feel}", texture=texture.label, feel=_FEEL[texture]),
    )
    for texture in SoilTexture
]
EMPTY_SPANS = 2
FROST = ("last_frost", "first_frost")
FEED_MEASURE = "feed_measure_g"
#: What people have at hand to weigh feed with: 100 mL, or a US cup (16 to the gallon).
MEASURES: dict[UnitSystem, tuple[Words, float]] = {
    UnitSystem.METRIC: (_("100 mL"), 100.0),
    UnitSystem.US: (
        _("One cup"),
        1000 * to_si(1 / 16, Quantity.VOLUME, UnitSystem.US),
    ),
}
# Bone meal to wet sand; common practice, no source.
FEED_DENSITY_G_PER_ML = (0.2, 2.0)
FOLDS: tuple[FoldNames, ...] = (
    (
        _("Place"),
        _("Where it lies decides its days, its clock and how thirsty its air is."),
        ("name", "latitude_deg", "longitude_deg", "elevation_m", "time_zone"),
    ),
    (
        _("Soil"),
        _(
            "It decides how much water stays. A laboratory's word on nitrogen goes "
            "before every table."
        ),
        ("soil_texture", "soil_tested_on", "soil_ph", "soil_nitrogen"),
    ),
    (
        _("Water"),
        _("With the hose timed once, litres are told in minutes too."),
        ("hose_bucket_l", "hose_bucket_s", "is_water_salty", "has_high_water_table"),
    ),
    (
        _("Frost"),
        _("Feeding, planting and cuts keep clear of it."),
        ("is_frost_free", "last_frost", "first_frost", "frost_margin_c"),
    ),
    (
        _("Feeding"),
        _("Amounts are told of what you have."),
        ("feed_product_name", "feed_nitrogen_percent", FEED_MEASURE),
    ),
)
#: Local rules besides the spans without feeding; the owner's to change.
RULES = ("water_setback_m", "local_rules")


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
    message = gettext(
        "“{name}” is not a time zone. Write it like Europe/Lisbon."
    ).format(name=name)
    raise forms.ValidationError(message, code="invalid")


def zone_names() -> list[str]:
    """Return the zones people live in, for a list to choose from."""
    zones = zoneinfo.available_timezones()
    return sorted(z for z in zones if "/" in z and not z.startswith("Etc/"))


class SiteForm(UnitsForm):
    """What decides weather, water and dates at a place."""

    name = forms.CharField(label=_("Name"), max_length=80)
    latitude_deg = NumberField(
        label=_("Latitude"),
        low=-90,
        high=90,
        unit="°",
        help_text=_("South is negative."),
    )
    longitude_deg = NumberField(
        label=_("Longitude"),
        low=-180,
        high=180,
        unit="°",
        help_text=_("West is negative."),
    )
    elevation_m = QuantityField(
        Quantity.LENGTH,
        low=-430,
        high=6000,
        label=_("Height above the sea"),
        help_text=_("Thin air lets a little more water evaporate."),
        required=True,
    )
    time_zone = forms.CharField(
        label=_("Time zone"),
        max_length=60,
        help_text=_("Decides when a new day begins here."),
        widget=forms.TextInput(attrs={"list": "zones", "autocomplete": "off"}),
    )
    soil_texture = forms.ChoiceField(
        label=_("Soil"),
        choices=SOIL_CHOICES,
        help_text=_("Wet a handful and squeeze it. It decides how much water stays."),
    )
    soil_tested_on = day_field(
        label=_("Soil was tested on"),
        help_text=_("The day the sample was taken."),
    )
    soil_ph = NumberField(
        label=_("Its pH"),
        low=SOIL_PH[0],
        high=SOIL_PH[1],
        required=False,
        help_text=_(
            "Decides about sulfur and lime, and warns of soil a species dislikes."
        ),
    )
    soil_nitrogen = forms.ChoiceField(
        label=_("What the laboratory says of nitrogen"),
        choices=NitrogenAdvice.choices,
        required=False,
    )
    hose_bucket_l = QuantityField(
        Quantity.VOLUME,
        low=0.5,
        high=1000,
        label=_("A bucket or can that holds"),
    )
    hose_bucket_s = NumberField(
        label=_("The hose fills it in"),
        low=1,
        high=7200,
        unit=_("seconds"),
        required=False,
        help_text=_("With the tap as you open it for trees."),
    )
    is_water_salty = forms.BooleanField(
        label=_("The water is salty, hard or softened"),
        required=False,
        help_text=_("Salt stays behind in pots: more must run through them."),
    )
    has_high_water_table = forms.BooleanField(
        label=_("Ground water rises to the roots in the wet season"),
        required=False,
        help_text=_("Then trees stand on mounds, and nobody digs deep."),
    )
    is_frost_free = forms.BooleanField(
        label=_("It never freezes here"),
        required=False,
        help_text=_("Then the two dates below are not used."),
    )
    last_frost = DayOfYearField(
        label=_("Typical last frost"),
        help_text=_("Feeding and planting wait for it. Leave empty if you don't know."),
    )
    first_frost = DayOfYearField(
        label=_("Typical first frost"),
        help_text=_("Feeding ends well before it."),
    )
    frost_margin_c = QuantityField(
        Quantity.TEMPERATURE_STEP,
        low=0,
        high=8,
        label=_("Protect this much before damage"),
        help_text=_("Forecasts err, and low spots are colder than the station."),
        required=True,
    )
    feed_product_name = forms.CharField(
        label=_("Fertiliser you use"),
        max_length=60,
        help_text=_("Feeding tasks name it, such as 10-10-10."),
    )
    feed_nitrogen_percent = NumberField(
        label=_("Nitrogen in it"),
        low=0.1,
        high=46,
        unit="%",
        help_text=_("The first of the three numbers on the bag."),
    )
    feed_measure_g = QuantityField(
        Quantity.SMALL_MASS,
        low=0,
        high=0,
        label="",
        help_text=_("Weigh it once, level: feeding then counts in measures too."),
    )
    water_setback_m = QuantityField(
        Quantity.LENGTH,
        low=0,
        high=200,
        label=_("No feeding nearer to water than"),
        help_text=_("Ponds, ditches, streams and shores, as the local rule has it."),
    )
    local_rules = forms.CharField(
        label=_("Local rules, for everyone to read"),
        required=False,
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 4}),
        help_text=_("Such as watering days or where no sprays are allowed."),
    )

    def __init__(
        self, *args: object, units: UnitSystem, today: date, **kwargs: object
    ) -> None:
        super().__init__(*args, units=units, **kwargs)
        self.today = today
        self.fields["soil_tested_on"].widget.attrs["max"] = today.isoformat()
        measure, self.measure_ml = MEASURES[units]
        weight = self.fields[FEED_MEASURE]
        if isinstance(weight, QuantityField):
            weight.label = gettext("{measure} of it weighs").format(measure=measure)
            least, most = FEED_DENSITY_G_PER_ML
            weight.low, weight.high = least * self.measure_ml, most * self.measure_ml
        self._tell_flow()

    def _tell_flow(self) -> None:
        litres = self.initial.get("hose_bucket_l")
        seconds = self.initial.get("hose_bucket_s")
        if litres and seconds:
            flow = format_quantity(60 * litres / seconds, "L", self.units)
            self.fields["hose_bucket_s"].help_text += gettext(
                " So far: {flow} a minute."
            ).format(flow=flow)

    def clean_soil_tested_on(self) -> date | None:
        """Refuse a test that is still to come."""
        day: date | None = self.cleaned_data["soil_tested_on"]
        if day and day > self.today:
            message = gettext("This day is still to come; today is {today}.").format(
                today=self.today
            )
            raise forms.ValidationError(message, code="future")
        return day

    def clean_soil_nitrogen(self) -> str:
        """Return the advice; none chosen is to feed as usual."""
        return self.cleaned_data["soil_nitrogen"] or NitrogenAdvice.USUAL

    def clean_time_zone(self) -> str:
        """Refuse a zone that no clock keeps."""
        return clean_zone(str(self.cleaned_data["time_zone"]))

    def clean(self) -> dict[str, object]:
        """Check what must hold between two boxes."""
        cleaned = super().clean()
        self._check_soil_test(cleaned)
        self._check_hose(cleaned)
        last, first = cleaned.get("last_frost"), cleaned.get("first_frost")
        if last and first and last == first and not cleaned.get("is_frost_free"):
            message = gettext("Last and first frost cannot be on one day.")
            self.add_error("first_frost", message)
        return cleaned

    def _check_soil_test(self, cleaned: Mapping[str, object]) -> None:
        says_something = cleaned.get("soil_ph") is not None or (
            cleaned.get("soil_nitrogen") in (NitrogenAdvice.HALF, NitrogenAdvice.NONE)
        )
        is_undated = not cleaned.get("soil_tested_on")
        if says_something and is_undated and not self.has_error("soil_tested_on"):
            self.add_error(
                "soil_tested_on", gettext("On which day was the soil sampled?")
            )

    def _check_hose(self, cleaned: Mapping[str, object]) -> None:
        questions = {
            "hose_bucket_l": gettext("How much does the bucket hold?"),
            "hose_bucket_s": gettext("How many seconds did it take to fill?"),
        }
        given = [name for name in questions if cleaned.get(name) is not None]
        for name, question in questions.items():
            if len(given) == 1 and name not in given and not self.has_error(name):
                self.add_error(name, question)

    def site_values(self) -> dict[str, object]:
        """Return the model's fields."""
        values = {
            name: value
            for name, value in self.cleaned_data.items()
            if name not in (*FROST, FEED_MEASURE)
        }
        if FEED_MEASURE in self.changed_data:
            mass_g = self.cleaned_data[FEED_MEASURE]
            density = None if mass_g is None else mass_g / self.measure_ml
            values["feed_density_g_per_ml"] = density
        for name in FROST:
            day = None if values["is_frost_free"] else self.cleaned_data[name]
            values[f"{name}_month"], values[f"{name}_day"] = day or (None, None)
        return values


def site_initial(site: Site, units: UnitSystem) -> dict[str, object]:
    """Return what the boxes show of a site, quantities in SI units."""
    reckoned = (*FROST, FEED_MEASURE)
    names = [name for name in SiteForm.base_fields if name not in reckoned]
    found = {name: getattr(site, name) for name in names}
    values = {name: value for name, value in found.items() if value is not None}
    if site.feed_density_g_per_ml is not None:
        values[FEED_MEASURE] = site.feed_density_g_per_ml * MEASURES[units][1]
    for name in FROST:
        month, day = getattr(site, f"{name}_month"), getattr(site, f"{name}_day")
        values[name] = (month, day) if month and day else None
    return values


class BlackoutForm(UnitsForm):
    """One span of the year in which nobody may feed."""

    starts = DayOfYearField(label=_("From"))
    ends = DayOfYearField(label=_("Until"))

    def clean(self) -> dict[str, object]:
        """Refuse half a span."""
        cleaned = super().clean()
        for name, other in (("starts", "ends"), ("ends", "starts")):
            is_half = cleaned.get(other) and not cleaned.get(name)
            if is_half and not self.has_error(name):
                self.add_error(name, gettext("Give both days, or leave both empty."))
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
