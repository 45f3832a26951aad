"""Management commands of the plan."""
