"""What last year's new shoots say of a tree's hunger."""

# Longest new shoots a year, in millimetres: (feed below, skip above), by species or
# else feeding group, not yet bearing and bearing. UNH for stone fruit (16-24, 10-18 in)
# and pear (12-26, 6-12 in); NC State, Guilford County (2013), for tree fruit (15-30,
# 8-15 in); LSU AgCenter for fig (12-18 in; UGA: about 12); NC Extension for blueberry
# (6-12 in); a persimmon is fed only where shoots stay under 12 in.
BANDS_MM = {
    "pear": ((305.0, 660.0), (152.0, 305.0)),
    "asian_pear": ((305.0, 660.0), (152.0, 305.0)),
    "fig": ((305.0, 457.0), (305.0, 457.0)),
    "asian_persimmon": ((305.0, 305.0), (305.0, 305.0)),
    "american_persimmon": ((305.0, 305.0), (305.0, 305.0)),
    "pome": ((381.0, 762.0), (203.0, 381.0)),
    "stone": ((406.0, 610.0), (254.0, 457.0)),
    "berry_acid": ((152.0, 305.0), (152.0, 305.0)),
}
# NC State Extension quick reference, tree fruit: feed under 10 in, skip over 18 in.
BAND_ELSE_MM = (254.0, 457.0)
# No band was read for kinds that grow in flushes all year.
UNGAUGED_GROUPS = ("citrus", "tropical")

HUNGRY, CONTENT, LUSH = "short", "in_band", "long"
SHARE = {HUNGRY: 1.0, CONTENT: 0.5, LUSH: 0.0}


def growth_band_mm(
    species_key: str, feed_group: str, *, is_bearing: bool
) -> tuple[float, float] | None:
    """Return between which lengths of new shoot a tree grows as it should [mm].

    ``None`` for kinds without a published band.
    """
    if feed_group in UNGAUGED_GROUPS:
        return None
    bands = BANDS_MM.get(species_key) or BANDS_MM.get(feed_group)
    return BAND_ELSE_MM if bands is None else bands[is_bearing]


def read_gauge(shoot_growth_mm: float, band_mm: tuple[float, float]) -> str:
    """Return ``short``, ``in_band`` or ``long`` for a year's typical new shoots.

    :data:`SHARE` holds what each asks for: the whole ladder, half of it, nothing. It
    never raises an amount. NC State Extension quick reference; UNH.
    """
    if shoot_growth_mm > band_mm[1]:
        return LUSH
    return HUNGRY if shoot_growth_mm < band_mm[0] else CONTENT
