"""Where weather comes from; every source that people bring, by its name.

A module a source. Each turns what a person brings into checked values in SI units,
or raises :class:`orchard.sources.problems.SourceError` in that person's words; none
stores anything.
"""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from orchard.sources.ghcn_files import archive_in
from orchard.sources.pasted_normals import parse_pasted_normals
from orchard.sources.station_csv import parse_days
from orchard.sources.typed_readings import check_reading

SOURCES: Mapping[str, Callable[..., object]] = MappingProxyType(
    {
        "station_csv": parse_days,
        "ghcn_daily": archive_in,
        "normals": parse_pasted_normals,
        "typed": check_reading,
    }
)
