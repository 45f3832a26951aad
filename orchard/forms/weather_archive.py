"""What a file of the GHCN-Daily archive leaves open: station, units, wind, distance."""

from collections.abc import Mapping

from django import forms

from orchard.forms.weather_import import wind_height_field
from orchard.sources.ghcn_csv import ArchiveUnits
from orchard.sources.ghcn_files import ArchiveFile
from orchard.sources.ghcn_records import USUAL_WIND_M, RecordMaker
from orchard.units import UnitSystem

UNITS = [
    ("", "Choose the units"),
    (ArchiveUnits.TENTHS.value, "Tenths of °C and of mm, as the archive keeps them"),
    (ArchiveUnits.METRIC.value, "°C and mm"),
    (ArchiveUnits.US.value, "°F and inches"),
]


class ArchiveForm(forms.Form):
    """The boxes that a file needs; most need none."""

    accept = forms.BooleanField(label="Import it all the same", required=False)

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
                label="The numbers are in",
                choices=UNITS,
                help_text=f"The first day has {archive.first_numbers() or 'none'}.",
                error_messages={"required": "In which units are the numbers?"},
            )
        if len(makers) > 1:
            self.fields["station"] = forms.ChoiceField(
                label="Station",
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
