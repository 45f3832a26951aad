"""What a file of the GHCN-Daily archive leaves open: station, units, wind, distance."""

from collections.abc import Mapping

from django import forms
from django.utils.translation import gettext, gettext_lazy

from orchard.forms.weather_import import wind_height_field
from orchard.sources.ghcn_csv import ArchiveUnits
from orchard.sources.ghcn_files import ArchiveFile
from orchard.sources.ghcn_records import USUAL_WIND_M, RecordMaker
from orchard.units import UnitSystem

UNITS = [
    ("", gettext_lazy("Choose the units")),
    (
        ArchiveUnits.TENTHS.value,
        gettext_lazy("Tenths of °C and of mm, as the archive keeps them"),
    ),
    (ArchiveUnits.METRIC.value, gettext_lazy("°C and mm")),
    (ArchiveUnits.US.value, gettext_lazy("°F and inches")),
]


class ArchiveForm(forms.Form):
    """The boxes that a file needs; most need none."""

    accept = forms.BooleanField(
        label=gettext_lazy("Import it all the same"), required=False
    )

    def __init__(
        self,
        *args: object,
        archive: ArchiveFile,
        makers: Mapping[str, RecordMaker],
        units: UnitSystem,
        **kwargs: object,
    ) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]  # Django's own arguments
        self._makers = makers
        if archive.needs_units:
            self.fields["units"] = forms.ChoiceField(
                label=gettext("The numbers are in"),
                choices=UNITS,
                help_text=gettext("The first day has {numbers}.").format(
                    numbers=archive.first_numbers() or gettext("none")
                ),
                error_messages={"required": gettext("In which units are the numbers?")},
            )
        if len(makers) > 1:
            self.fields["station"] = forms.ChoiceField(
                label=gettext("Station"),
                choices=[
                    (key, f"{key} {maker.station.name}".strip())
                    for key, maker in makers.items()
                ],
            )
        if any(maker.has_wind for maker in makers.values()):
            self.fields["wind_height"] = wind_height_field(units)
            self.fields["wind_height"].required = True

    @property
    def boxes(self) -> list[forms.BoundField]:
        """Return what is asked besides whether to accept it."""
        names = [name for name in self.fields if name != "accept"]
        return [self[name] for name in names]

    def maker(self) -> RecordMaker:
        """Return the station that is chosen, or the only one."""
        chosen = self.cleaned_data.get("station")
        return self._makers[chosen or next(iter(self._makers))]

    def wind_height_m(self) -> float:
        """Return how high the wind was measured."""
        return float(self.cleaned_data.get("wind_height") or USUAL_WIND_M)
