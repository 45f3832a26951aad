"""What is known of a kind, in rows: ranges as ranges, each with where it comes from."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.translation import gettext, gettext_noop

from orchard.catalogue import Basis, Cultivar, Figure, Species
from orchard.catalogue.cultivars import CULTIVAR_FIGURES
from orchard.catalogue.figure_labels import label_of
from orchard.catalogue.figure_words import Reader, month_words, value_words
from orchard.catalogue.overlay import FIXED
from orchard.languages import day_of_year, whole
from orchard.sources.retold import retold
from orchard.views.works import Reference, works

DASH = "\N{EN DASH}"
#: What the program itself notes of a figure; what a source says stays as it is.
NOTES = (
    gettext_noop("moved to fit the orchard's own figure"),
    gettext_noop("as of {kind}"),
)
UNVERIFIED = gettext_noop("unverified: from memory")
#: What stands on the page of a kind: a heading, and rows of figures by their name.
SECTIONS: tuple[tuple[str, tuple[tuple[str, tuple[str, ...]], ...]], ...] = (
    (
        gettext_noop("Cold and winter"),
        (
            (
                gettext_noop("Winter chill it needs"),
                ("chill_hours_min", "chill_hours_max"),
            ),
            (gettext_noop("Hardiness zones"), ("usda_zone_min", "usda_zone_max")),
            ("", ("damage_temp_young_c",)),
            ("", ("damage_temp_mature_c",)),
            ("", ("bloom_damage_temp_c",)),
            ("", ("move_in_temp_c",)),
            ("", ("leaf",)),
        ),
    ),
    (
        gettext_noop("Flowers and fruit"),
        (
            ("", ("self_fruitful",)),
            ("", ("pollination_note",)),
            (gettext_noop("Blooms"), ("bloom_start_month", "bloom_end_month")),
            (gettext_noop("Ripe"), ("harvest_start_month", "harvest_end_month")),
            ("", ("days_bloom_to_harvest",)),
            ("", ("years_to_first_crop",)),
            ("", ("yield_mature_kg",)),
        ),
    ),
    (
        gettext_noop("Size and place"),
        (
            ("", ("habit",)),
            ("", ("mature_height_m",)),
            ("", ("mature_spread_m",)),
            (
                gettext_noop("Space between two, from the least to the usual"),
                ("spacing_min_m", "spacing_typical_m"),
            ),
            (gettext_noop("Roots reach"), ("root_depth_m", "root_depth_max_m")),
            (gettext_noop("pH of the soil"), ("ph_min", "ph_max")),
            ("", ("container_ok",)),
            ("", ("container_min_l",)),
        ),
    ),
    (
        gettext_noop("Water and feed"),
        (
            ("", ("kc_ini",)),
            ("", ("kc_mid",)),
            ("", ("kc_end",)),
            ("", ("depletion_p",)),
            ("", ("feed_group",)),
            (
                gettext_noop("Nitrogen a year, from the first to full size"),
                ("nitrogen_first_year_g", "nitrogen_mature_g"),
            ),
            ("", ("feed_times_per_year",)),
        ),
    ),
    (
        gettext_noop("Cuts"),
        (
            ("", ("prune_system",)),
            ("", ("prune_months",)),
            ("", ("prune_reason",)),
            ("", ("pup_notes",)),
        ),
    ),
    (gettext_noop("Mind"), (("", ("toxicity_note",)), ("", ("invasive_note",)))),
)
_CULTIVAR_PAIRS = {
    "chill_hours_min": (gettext_noop("Winter chill it needs"), "chill_hours_max"),
    "harvest_start_month": (gettext_noop("Ripe"), "harvest_end_month"),
}
_SECOND = {second for _label, second in _CULTIVAR_PAIRS.values()}


@dataclass(frozen=True, slots=True)
class FigureRow:
    """One figure with its value and origin in words."""

    name: str
    label: str
    value: str
    origin: str
    note: str
    works: tuple[Reference, ...]
    is_own: bool
    may_change: bool


@dataclass(frozen=True, slots=True)
class KindRow:
    """One line of a kind's page: a figure, or a range of two."""

    label: str
    value: str
    is_unverified: bool
    is_own: bool
    figures: tuple[FigureRow, ...]


@dataclass(frozen=True, slots=True)
class KindSection:
    """Some rows under a heading."""

    title: str
    rows: tuple[KindRow, ...]


def kind_sections(species: Species, reader: Reader) -> tuple[KindSection, ...]:
    """Return everything known of a species; what is not known is left out."""
    found = (
        KindSection(
            gettext(title),
            tuple(
                row
                for label, names in rows
                if (row := _row(species, label, names, reader))
            ),
        )
        for title, rows in SECTIONS
    )
    return tuple(section for section in found if section.rows)


def cultivar_rows(cultivar: Cultivar, reader: Reader) -> tuple[KindRow, ...]:
    """Return everything known of a cultivar."""
    rows = []
    for name in CULTIVAR_FIGURES:
        if name in _SECOND:
            continue
        label, second = _CULTIVAR_PAIRS.get(name, ("", ""))
        row = _row(cultivar, label, (name, second) if second else (name,), reader)
        if row is not None:
            rows.append(row)
    return tuple(rows)


def origin_words(figure: Figure) -> str:
    """Return where a figure comes from, in words, without its addresses."""
    if figure.basis is Basis.OWN:
        when = day_of_year(figure.on) if figure.on else ""
        told = (figure.source, figure.by, when)
        return gettext("own: {words}").format(
            words=", ".join(word for word in told if word)
        )
    return {
        Basis.READ: gettext("read in"),
        Basis.READ_SECONDARY: gettext("reported by"),
        Basis.PROXY: gettext("borrowed from"),
        Basis.MEMORY: gettext(UNVERIFIED),
    }[figure.basis]


def figure_row(row: Species | Cultivar, name: str, reader: Reader) -> FigureRow | None:
    """Return one figure of a row of the catalogue, or ``None`` if it is not known."""
    if name not in row.provenance:
        return None
    figure = row.figure(name)
    sources = works(figure.address)
    words = origin_words(figure)
    if figure.basis in {Basis.READ, Basis.READ_SECONDARY, Basis.PROXY} and not sources:
        words = gettext("borrowed") if figure.basis is Basis.PROXY else words
    if isinstance(row, Species) and figure.basis is not Basis.MEMORY:
        words = (
            gettext("doubtful: {words}").format(words=words)
            if row.is_unverified(name)
            else words
        )
    return FigureRow(
        name=name,
        label=label_of(name),
        value=value_words(name, figure.value, reader),
        origin=words,
        note=_note(figure.note),
        works=sources,
        is_own=figure.basis is Basis.OWN,
        may_change=name not in FIXED,
    )


def _note(note: str) -> str:
    is_ours = note.startswith(("as of ", "moved to fit "))
    return retold(note, NOTES) if is_ours else note


def summary_words(species: Species, reader: Reader) -> str:
    """Return one line on a species: fruit alone, chill, size, pot."""
    alone = {
        "yes": gettext("sets fruit alone"),
        "partial": gettext("more fruit with another"),
        "no": gettext("sets fruit only with another"),
    }[species.self_fruitful]
    size = value_words("mature_height_m", species.mature_height_m, reader)
    pot = gettext("pot: {value}").format(
        value=value_words("container_ok", species.container_ok, reader)
    )
    told = (alone, _chill(species), gettext("{size} high").format(size=size), pot)
    return ", ".join(word for word in told if word)


def _chill(species: Species) -> str:
    least, most = species.chill_hours_min, species.chill_hours_max
    if not most or least is None:
        return ""
    span = whole(least) if least == most else f"{whole(least)}{DASH}{whole(most)}"
    return gettext("chill {span} h").format(span=span)


def ripe_words(cultivar: Cultivar, reader: Reader) -> str:
    """Return when a cultivar is ripe, such as ``ripe August``, or nothing."""
    start, end = cultivar.harvest_start_month, cultivar.harvest_end_month
    if start is None or end is None:
        return ""
    first, last = month_words(start, reader), month_words(end, reader)
    return (
        gettext("ripe {span}").format(span=first)
        if first == last
        else gettext("ripe {span}").format(span=f"{first}{DASH}{last}")
    )


def _row(
    row: Species | Cultivar, label: str, names: Iterable[str], reader: Reader
) -> KindRow | None:
    figures = [figure_row(row, name, reader) for name in names]
    known = tuple(figure for figure in figures if figure is not None)
    if not known:
        return None
    unverified = row.unverified
    return KindRow(
        label=gettext(label) if label else known[0].label,
        value=_range(known),
        is_unverified=any(figure.name in unverified for figure in known),
        is_own=any(figure.is_own for figure in known),
        figures=known,
    )


def _range(figures: tuple[FigureRow, ...]) -> str:
    """Return one value, or two as a range with their unit once."""
    first, last = figures[0].value, figures[-1].value
    if first == last:
        return first
    number, _, unit = first.rpartition(" ")
    if number and last.endswith(f" {unit}"):
        first = number
    return f"{first}{DASH}{last}"
