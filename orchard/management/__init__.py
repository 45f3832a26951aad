"""Management commands of what exists."""
