"""Pages that edit what exists."""
