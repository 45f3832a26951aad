"""Template filters of the orchard's words and units."""
