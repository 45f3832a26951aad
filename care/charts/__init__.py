"""Drawings as values: server-side SVG without a library."""
