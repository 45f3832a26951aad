"""The plan of a site: its axes, measuring with a tape, reading and writing GeoJSON."""
