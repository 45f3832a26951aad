"""Washing salts out of a pot: how much water, how often."""

# Garden pages give twice the pot's volume, poured slowly, about once a month in
# growth; no extension or other primary source was read.
FLUSH_POT_VOLUMES = 2.0
FLUSH_BETWEEN_DAYS = 30
# Common practice, no source: later than this after feeding it washes out salts, sooner
# it washes out the feed.
AFTER_FEEDING_DAYS = 14


def flush_litres(pot_litres: float) -> float:
    """Return the plain water that washes a pot's salts out below [L].

    Parameters
    ----------
    pot_litres : float
        True volume of the pot.
    """
    return FLUSH_POT_VOLUMES * pot_litres
