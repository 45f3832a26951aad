"""What people type into the plan and the log."""
