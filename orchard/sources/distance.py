"""How far apart two places are."""

import math

#: The mean radius of the Earth (IUGG 1980, rounded).
EARTH_KM = 6371.0


def distance_km(
    latitude_deg: float, longitude_deg: float, to_latitude: float, to_longitude: float
) -> float:
    """Return the way over the globe between two points, in degrees (haversine)."""
    one, other = math.radians(latitude_deg), math.radians(to_latitude)
    across = math.sin(math.radians(to_longitude - longitude_deg) / 2) ** 2
    up = math.sin((other - one) / 2) ** 2
    chord = up + math.cos(one) * math.cos(other) * across
    return 2 * EARTH_KM * math.asin(min(1.0, math.sqrt(max(0.0, chord))))
