"""The demonstration: an invented orchard on a real weather record."""
