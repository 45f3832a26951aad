"""Every write to what exists: one verb, keyword-only, one transaction."""
