"""What a published feeding ladder says, and where each was printed."""

from dataclasses import dataclass

POUND_G = 453.59237
OUNCE_G = POUND_G / 16
INCH_MM = 25.4
FOOT_M = 0.3048
SQUARE_FOOT_M2 = FOOT_M**2

# How the ladder behind a key was come by: ``read`` in the publisher's own page, or a
# ``relay``, a reprint or column that names the publication. None rests on memory.
LADDER_SOURCES = {
    "uf_hs132_citrus": "relay",
    "uc_ipm_citrus": "read",
    "az1671_citrus": "read",
    "ucmg_san_diego": "read",
    "ucmg_ventura": "read",
    "tamu_fruit": "relay",
    "psu_stone": "read",
    "ncsu_fert": "read",
    "unh_trunk": "relay",
    "uga_fig": "read",
    "lsu_fig": "relay",
    "nc_sylva": "relay",
}


@dataclass(frozen=True, slots=True)
class Ladder:
    """A published range of nitrogen for one plant and year, in grams.

    ``applications`` are the parts it is printed in, ``None`` where it is silent.
    """

    low_g: float
    high_g: float
    applications: int | None
    source: str

    def scaled(self, share: float) -> "Ladder":
        """Return the range times a share."""
        low_g, high_g = self.low_g * share, self.high_g * share
        return Ladder(low_g, high_g, self.applications, self.source)
