"""Which form of the GHCN-Daily archive a file has, told by its content alone."""

from dataclasses import dataclass
from enum import StrEnum

from django.utils.translation import gettext

from orchard.sources.ghcn_csv import (
    ArchiveUnits,
    first_numbers,
    guess_units,
    is_days,
    is_rows,
    read_days,
    read_rows,
)
from orchard.sources.ghcn_daily import HEAD, HEAD_LETTERS, VALUE_LETTERS, read_dly
from orchard.sources.ghcn_records import RecordMaker
from orchard.sources.ghcn_stations import is_station_list
from orchard.sources.problems import whole_problem
from orchard.sources.station_table import decoded

MOST_STATIONS = 60
#: Headings of the archive that is taken for this one.
SYNOPTIC_HEADINGS = frozenset({"FRSHTT", "DEWP", "GUST", "MXSPD"})
FEWEST_SYNOPTIC = 2


class ArchiveForm(StrEnum):
    """The forms in which the archive comes."""

    FIXED = "fixed"
    ROWS = "rows"
    DAYS = "days"
    STATIONS = "stations"


@dataclass(frozen=True, slots=True)
class ArchiveFile:
    """A file of the archive."""

    form: ArchiveForm
    text: str

    @property
    def needs_units(self) -> bool:
        """Whether the file does not say what its numbers are in."""
        return self.form is ArchiveForm.DAYS

    def guess_units(self) -> ArchiveUnits | None:
        """Return what the numbers look like, where they look like anything."""
        return guess_units(self.text)

    def first_numbers(self) -> str:
        """Return the first day's numbers as they stand, for whoever knows their units."""
        return first_numbers(self.text)

    def records(
        self, units: ArchiveUnits = ArchiveUnits.TENTHS
    ) -> dict[str, RecordMaker]:
        """Return the records by station.

        Raises
        ------
        SourceError
            Naming each line that is not of the form, or for too many stations.
        """
        if self.form is ArchiveForm.FIXED:
            found = read_dly(self.text)
        elif self.form is ArchiveForm.ROWS:
            found = read_rows(self.text)
        else:
            found = read_days(self.text, units)
        if not found:
            message = gettext("The file holds no day of any station.")
            raise whole_problem(message)
        if len(found) > MOST_STATIONS:
            message = gettext(
                "The file holds {number} stations. Send the file of one "
                "station, or of {most} at most."
            ).format(number=len(found), most=MOST_STATIONS)
            raise whole_problem(message)
        return found


def archive_in(data: bytes) -> ArchiveFile | None:
    """Return the archive's file that some bytes are, or ``None`` for another table.

    Raises
    ------
    SourceError
        For a binary or too large file, or one of the archive that is mistaken for it.
    """
    text = decoded(data)
    lines = [line for line in text[:20_000].splitlines() if line.strip()][:2]
    if not lines:
        return None
    first = lines[0]
    headings = {cell.strip().strip('"') for cell in first.split(",")}
    if len(SYNOPTIC_HEADINGS & headings) >= FEWEST_SYNOPTIC:
        message = gettext(
            "This is a Global Summary of the Day (°F, inches, knots, 99.99 for "
            "missing), which adds up days from reports. Fetch the Daily "
            "Summaries (GHCN-Daily) of the same station instead."
        )
        raise whole_problem(message)
    form = _form(first, lines[-1])
    return None if form is None else ArchiveFile(form, text)


def _form(first: str, second: str) -> ArchiveForm | None:
    is_long = len(first) >= HEAD_LETTERS + VALUE_LETTERS
    if is_long and HEAD.match(first) and "," not in first[:HEAD_LETTERS]:
        return ArchiveForm.FIXED
    if is_rows(first):
        return ArchiveForm.ROWS
    if is_days(first, second):
        return ArchiveForm.DAYS
    return ArchiveForm.STATIONS if is_station_list(first) else None
