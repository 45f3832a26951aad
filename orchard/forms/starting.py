"""The first page: what the orchard is called and where it lies."""

from collections.abc import Sequence

from django import forms
from django.utils.translation import gettext, gettext_lazy

from orchard.catalogue.cities import City, find_cities, nearest_city
from orchard.forms.fields import NumberField, QuantityField, UnitsForm
from orchard.forms.site_settings import SOIL_CHOICES, clean_zone
from orchard.models import Orchard
from orchard.units import Quantity, UnitSystem

NEW = ""


def _value(city: City) -> str:
    return f"{city.latitude},{city.longitude}"


class StartForm(UnitsForm):
    """A name and a place; the place is a city to choose or coordinates."""

    orchard = forms.ChoiceField(label=gettext_lazy("Which orchard?"), required=False)
    orchard_name = forms.CharField(
        label=gettext_lazy("What do you call the orchard?"),
        max_length=80,
        required=False,
        help_text=gettext_lazy("Your family's or garden's name for it."),
    )
    city = forms.CharField(
        label=gettext_lazy("The city or town next to it"),
        max_length=80,
        required=False,
        help_text=gettext_lazy(
            "Add the state or country if the name is common: Portland, Maine."
        ),
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )
    place = forms.ChoiceField(
        label=gettext_lazy("Which of these?"), widget=forms.RadioSelect, required=False
    )
    latitude = NumberField(
        label=gettext_lazy("Latitude"),
        low=-90,
        high=90,
        unit="°",
        required=False,
        help_text=gettext_lazy("North is positive, south negative: 47.45 or -33.9."),
    )
    longitude = NumberField(
        label=gettext_lazy("Longitude"),
        low=-180,
        high=180,
        unit="°",
        required=False,
        help_text=gettext_lazy("East is positive, west negative."),
    )
    time_zone = forms.CharField(
        label=gettext_lazy("Time zone"),
        max_length=60,
        required=False,
        help_text=gettext_lazy("Left empty, that of the nearest city."),
        widget=forms.TextInput(attrs={"list": "zones", "autocomplete": "off"}),
    )
    elevation_m = QuantityField(
        Quantity.LENGTH,
        low=-430,
        high=6000,
        label=gettext_lazy("Height above the sea"),
        help_text=gettext_lazy(
            "Left empty, sea level; a few hundred metres change little."
        ),
    )
    soil_texture = forms.ChoiceField(
        label=gettext_lazy("Soil"),
        choices=[("", gettext_lazy("I don't know")), *SOIL_CHOICES],
        required=False,
        help_text=gettext_lazy(
            "Sand holds a third of what loam does, so it changes how often."
        ),
    )

    def __init__(
        self,
        *args: object,
        units: UnitSystem,
        orchards: Sequence[Orchard] = (),
        searched: str = "",
        **kwargs: object,
    ) -> None:
        super().__init__(*args, units=units, **kwargs)
        self.cities = find_cities(searched) if searched.strip() else []
        self._field("place").choices = [
            (_value(city), city.label) for city in self.cities
        ]
        if self.cities:
            self.initial.setdefault("place", _value(self.cities[0]))
        if orchards:
            mine = [(str(orchard.pk), orchard.name) for orchard in orchards]
            self._field("orchard").choices = [(NEW, gettext("A new one")), *mine]
        else:
            del self.fields["orchard"]

    def _field(self, name: str) -> forms.ChoiceField:
        field = self.fields[name]
        if not isinstance(field, forms.ChoiceField):
            raise TypeError(name)
        return field

    def clean_time_zone(self) -> str:
        """Refuse a zone that no clock keeps."""
        zone = str(self.cleaned_data["time_zone"])
        return clean_zone(zone) if zone else ""

    def clean(self) -> dict[str, object]:
        """Say what is missing, at the box where it goes."""
        cleaned = super().clean()
        if not cleaned.get("orchard_name"):
            message = gettext("Give it a name; you can change it later.")
            self.add_error("orchard_name", message)
        has_one = cleaned.get("latitude") is not None
        has_other = cleaned.get("longitude") is not None
        if has_one != has_other:
            name = "longitude" if has_one else "latitude"
            if not self.has_error(name):
                self.add_error(name, gettext("Both coordinates are needed."))
        elif not has_one and not self._any_error("latitude", "longitude"):
            self._check_city(cleaned)
        return cleaned

    def _any_error(self, *names: str) -> bool:
        return any(self.has_error(name) for name in names)

    def _check_city(self, cleaned: dict[str, object]) -> None:
        text = str(cleaned.get("city") or "").strip()
        if not text:
            self.add_error("city", gettext("Write a city, or give coordinates below."))
        elif not self.cities:
            message = gettext(
                "No city called “{text}” is in the list. Try a larger one "
                "nearby, or give coordinates below."
            ).format(text=text)
            self.add_error("city", message)
        elif not cleaned.get("place") and not self.has_error("place"):
            self.add_error("place", gettext("Choose the one you mean."))

    def site_values(self) -> dict[str, object]:
        """Return the fields of the new site."""
        data = self.cleaned_data
        city = next((c for c in self.cities if _value(c) == data["place"]), None)
        if data["latitude"] is not None:
            latitude, longitude = data["latitude"], data["longitude"]
            city = nearest_city(latitude, longitude)
        elif city is not None:
            latitude, longitude = city.latitude, city.longitude
        else:
            message = "The form was used before it was checked."
            raise ValueError(message)
        values: dict[str, object] = {
            "name": data["orchard_name"],
            "latitude_deg": latitude,
            "longitude_deg": longitude,
            "time_zone": data["time_zone"] or city.time_zone,
            "elevation_m": data["elevation_m"] or 0.0,
        }
        if data["soil_texture"]:
            values["soil_texture"] = data["soil_texture"]
        return values
