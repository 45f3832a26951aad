"""Every write to the plan and the log."""
