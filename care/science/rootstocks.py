"""Rootstocks: how large a tree grows on them, and whether it must be held for good.

A share is of what the kind grows to on vigorous roots, which is what the catalogue's
sizes are of. Labels often name a size alone, so the size words are known too.
"""

import re
from dataclasses import dataclass
from enum import Enum, StrEnum

from care.facts import SpeciesFacts

MEMORY = ""
# Extension Foundation, apples.extension.org, pages of the single stocks: M.7 60-70 %,
# MM.106 about 60 %, MM.111 85-100 %, G.214 30-35 %, G.210 60-65 %, seedling 100 %; B.9
# a little less than M.9, G.16 as M.9, G.11 as M.26, G.935 between M.9 and M.26 or over.
EXTENSION = "extension_apple_stocks"
# Royal Horticultural Society, Rootstocks for fruit: heights of bushes; M27 1.2-1.8 m,
# M9 1.8-2.4 m, M26 2.4-3.0 m over the catalogue's 6 m of an apple; Quince C 3-5 m and
# Quince A 3-6 m over 8 m of a pear; Colt 6-8 m and Gisela 5 3-4 m over 9 m of a cherry;
# Brompton to 6 m.
RHS = "rhs_rootstocks"
# University of Arizona, Master Gardener manual: spacing and support by size.
ARIZONA = "az_rootstocks"
# Lists of several nurseries, read; they differ, the span holds them.
NURSERIES = "nursery_rootstocks"

POME = ("apple",)
PEARS = ("pear", "asian_pear", "quince")
CHERRIES = ("sweet_cherry", "sour_cherry")
STONE = (
    *("european_plum", "japanese_plum", "apricot"),
    *("peach", "nectarine", "almond"),
)
CITRUS = (
    *("orange", "lemon", "lime", "grapefruit"),
    *("mandarin_satsuma", "kumquat"),
)
ANY: tuple[str, ...] = ()


class Size(Enum):
    """How large a stock keeps a tree; the value is its spread over a full tree's [-].

    Dwarf and semi-dwarf: spacings of 12 and 18 ft where a standard apple has 25 ft
    (University of Arizona, Master Gardener manual). Very dwarf: 1.5 m wide on M27 over
    the catalogue's 5 m (Royal Horticultural Society). Semi-standard: no source.
    """

    VERY_DWARF = 0.30
    DWARF = 12 / 25
    SEMI_DWARF = 18 / 25
    SEMI_STANDARD = 0.90
    STANDARD = 1.0

    @property
    def words(self) -> str:
        """What the trade calls it."""
        return self.name.lower().replace("_", "-").replace("very-", "very ")

    @property
    def source(self) -> str:
        """Who says how wide it grows; nothing: nobody does."""
        if self is Size.VERY_DWARF:
            return RHS
        return MEMORY if self is Size.SEMI_STANDARD else ARIZONA


class Held(StrEnum):
    """Whether a tree on it needs a post or wires for good."""

    YES = "yes"
    MAYBE = "maybe"  # where it is windy or bears much
    NO = "no"


@dataclass(frozen=True, slots=True)
class Rootstock:
    """One stock: for which kinds, and how high a tree grows on it.

    ``kinds`` empty: any. ``low`` and ``high`` are shares of a full tree's height [-].
    ``source`` empty: from memory.
    """

    name: str
    kinds: tuple[str, ...]
    size: Size
    low: float
    high: float
    held: Held
    source: str
    aliases: tuple[str, ...] = ()


VERY, DWARF, SEMI = Size.VERY_DWARF, Size.DWARF, Size.SEMI_DWARF
NEAR, FULL = Size.SEMI_STANDARD, Size.STANDARD
YES, MAYBE, NO = Held.YES, Held.MAYBE, Held.NO

# Held up: M.9 yes, M.26 maybe, M.7 may, larger ones no (University of Arizona, Master
# Gardener manual, table of apple stocks); every dwarf one (apples.extension.org).
ROOTSTOCKS = (
    Rootstock("M.27", POME, VERY, 0.20, 0.30, YES, RHS, ("emla27", "malling27")),
    Rootstock(
        "M.9", POME, DWARF, 0.30, 0.40, YES, RHS, ("emla9", "malling9", "m9t337")
    ),
    Rootstock("B.9", POME, DWARF, 0.30, 0.40, YES, EXTENSION, ("bud9", "budagovsky9")),
    Rootstock("G.16", POME, DWARF, 0.30, 0.40, YES, EXTENSION, ("geneva16",)),
    Rootstock("G.41", POME, DWARF, 0.30, 0.40, YES, NURSERIES, ("geneva41",)),
    Rootstock("G.214", POME, DWARF, 0.30, 0.35, YES, EXTENSION, ("geneva214",)),
    Rootstock("M.26", POME, SEMI, 0.40, 0.50, MAYBE, RHS, ("emla26", "malling26")),
    Rootstock("G.11", POME, SEMI, 0.40, 0.50, YES, EXTENSION, ("geneva11",)),
    Rootstock("G.935", POME, SEMI, 0.40, 0.55, MAYBE, EXTENSION, ("geneva935",)),
    Rootstock("M.7", POME, SEMI, 0.60, 0.70, MAYBE, EXTENSION, ("emla7", "malling7")),
    Rootstock("G.210", POME, SEMI, 0.60, 0.65, YES, EXTENSION, ("geneva210",)),
    Rootstock("MM.106", POME, SEMI, 0.60, 0.70, NO, EXTENSION, ("emla106", "m106")),
    Rootstock("MM.111", POME, NEAR, 0.85, 1.0, NO, EXTENSION, ("emla111", "m111")),
    Rootstock("M.25", POME, FULL, 1.0, 1.0, NO, MEMORY, ("malling25",)),
    Rootstock("Antonovka", POME, FULL, 1.0, 1.0, NO, MEMORY, ("antonovka313",)),
    Rootstock("Quince C", PEARS, SEMI, 0.40, 0.60, MAYBE, RHS, ("emquincec", "qc")),
    Rootstock("Quince A", PEARS, SEMI, 0.40, 0.75, NO, RHS, ("emquincea", "qa")),
    Rootstock("Pyrodwarf", PEARS, SEMI, 0.50, 0.50, NO, NURSERIES),
    Rootstock("OHxF 333", PEARS, SEMI, 0.50, 0.70, NO, NURSERIES, ("ohf333",)),
    Rootstock("OHxF 87", PEARS, NEAR, 0.55, 0.90, NO, NURSERIES, ("ohf87",)),
    Rootstock("OHxF 97", PEARS, FULL, 1.0, 1.0, NO, NURSERIES, ("ohf97",)),
    Rootstock("Betulifolia", PEARS, FULL, 1.0, 1.0, NO, MEMORY, ("betulaefolia",)),
    Rootstock("Callery pear", PEARS, FULL, 1.0, 1.0, NO, MEMORY, ("callery",)),
    Rootstock("Gisela 3", CHERRIES, VERY, 0.30, 0.35, MAYBE, NURSERIES, ("gi3",)),
    Rootstock("Gisela 5", CHERRIES, DWARF, 0.33, 0.50, MAYBE, RHS, ("gi5", "gm1482")),
    Rootstock("Gisela 12", CHERRIES, SEMI, 0.55, 0.60, MAYBE, NURSERIES, ("gi12",)),
    Rootstock("Gisela 6", CHERRIES, NEAR, 0.60, 0.90, MAYBE, NURSERIES, ("gi6",)),
    Rootstock("Krymsk 6", CHERRIES, SEMI, 0.65, 0.80, NO, NURSERIES, ("lc52",)),
    Rootstock("Krymsk 5", CHERRIES, SEMI, 0.70, 0.80, NO, NURSERIES, ("vsl2",)),
    Rootstock("Colt", CHERRIES, NEAR, 0.65, 0.90, NO, RHS),
    Rootstock("Mahaleb", CHERRIES, NEAR, 0.90, 1.0, NO, MEMORY),
    Rootstock("Mazzard", CHERRIES, FULL, 1.0, 1.0, NO, NURSERIES, ("f121",)),
    Rootstock("Pixy", STONE, SEMI, 0.45, 0.60, MAYBE, NURSERIES),
    Rootstock("Krymsk 1", STONE, SEMI, 0.50, 0.70, NO, NURSERIES, ("vva1",)),
    Rootstock("St. Julien A", STONE, SEMI, 0.60, 0.80, NO, NURSERIES, ("stjulien",)),
    Rootstock("Citation", STONE, SEMI, 0.65, 0.80, NO, MEMORY),
    Rootstock("Brompton", STONE, FULL, 1.0, 1.0, NO, RHS),
    Rootstock("Myrobalan", STONE, FULL, 1.0, 1.0, NO, NURSERIES, ("myro29c",)),
    Rootstock("Marianna 2624", STONE, FULL, 1.0, 1.0, NO, MEMORY, ("marianna",)),
    Rootstock("Lovell", STONE, FULL, 1.0, 1.0, NO, MEMORY, ("halford",)),
    Rootstock("Nemaguard", STONE, FULL, 1.0, 1.0, NO, MEMORY, ("guardian",)),
    Rootstock("Flying Dragon", CITRUS, DWARF, 0.40, 0.50, NO, NURSERIES, ("hiryo",)),
    Rootstock(
        *("Trifoliate orange", CITRUS, SEMI, 0.70, 0.80, NO, MEMORY),
        ("trifoliate", "poncirus", "poncirustrifoliata"),
    ),
    Rootstock("C-35 citrange", CITRUS, SEMI, 0.70, 0.80, NO, MEMORY, ("c35",)),
    Rootstock(
        *("Citrange", CITRUS, FULL, 1.0, 1.0, NO, MEMORY),
        ("carrizo", "carrizocitrange", "troyer", "troyercitrange"),
    ),
    Rootstock("Swingle citrumelo", CITRUS, FULL, 1.0, 1.0, NO, MEMORY, ("swingle",)),
    Rootstock("Rough lemon", CITRUS, FULL, 1.0, 1.0, NO, MEMORY, ("volkamer",)),
    Rootstock("Sour orange", CITRUS, FULL, 1.0, 1.0, NO, MEMORY),
    # A size on a label. Apples: dwarf 25-60 % (apples.extension.org); the rest of the
    # spans, and that other kinds are alike, no source.
    Rootstock("Dwarf", ANY, DWARF, 0.25, 0.60, MAYBE, EXTENSION, ("dwarfing",)),
    Rootstock("Semi-dwarf", ANY, SEMI, 0.60, 0.85, NO, MEMORY, ("semidwarfing",)),
    Rootstock("Standard", ANY, FULL, 1.0, 1.0, NO, EXTENSION, ("seedling", "vigorous")),
    Rootstock("Own roots", ANY, FULL, 1.0, 1.0, NO, MEMORY, ("ownroot", "ungrafted")),
)

_IDLE_WORDS = re.compile(r"\b(rootstocks?|stock|emla|on|the)\b")
_NOT_LETTERS = re.compile(r"[^a-z0-9]+")


def _plain(name: str) -> str:
    return _NOT_LETTERS.sub("", name.casefold().replace("\N{MULTIPLICATION SIGN}", "x"))


def _spellings(stock: Rootstock) -> tuple[str, ...]:
    return (_plain(stock.name), *stock.aliases)


def find_rootstock(name: str, species_key: str) -> Rootstock | None:
    """Return the stock that a person means, for one kind; ``None``: not known here.

    Spelling, points and spaces do not matter: "M9", "EMLA 9", "M.9 EMLA rootstock".
    A stock of another kind is not known either: nobody grows a pear on M.9.
    """
    words = _IDLE_WORDS.sub(" ", name.casefold())
    asked = {_plain(name), _plain(words)} - {""}
    return next(
        (
            stock
            for stock in ROOTSTOCKS
            if (not stock.kinds or species_key in stock.kinds)
            and asked & set(_spellings(stock))
        ),
        None,
    )


def rootstocks_of(species_key: str) -> tuple[Rootstock, ...]:
    """Return the stocks known of a kind, from small to large, size words last."""
    own = [stock for stock in ROOTSTOCKS if species_key in stock.kinds]
    return (*own, *(stock for stock in ROOTSTOCKS if not stock.kinds))


def grown_spread_m(species: SpeciesFacts, rootstock: str) -> float | None:
    """Return how wide a kind grows on a stock [m]; a full tree's where it is not known."""
    stock = find_rootstock(rootstock, species.key)
    full_m = species.mature_spread_m
    return full_m if stock is None or full_m is None else stock.size.value * full_m


def grown_height_m(species: SpeciesFacts, rootstock: str) -> float | None:
    """Return how high a kind grows on a stock [m], by the higher figure of its span.

    A full tree's where the stock is not known: too large a guess leaves room.
    """
    stock = find_rootstock(rootstock, species.key)
    full_m = species.mature_height_m
    return full_m if stock is None or full_m is None else stock.high * full_m
