"""Drawings as values: places in a view box, for server-side SVG without a library."""
