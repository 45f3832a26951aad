"""Template filters that speak the plan's words."""
