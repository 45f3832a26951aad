"""Pages that show a task, a log entry or a tree's state."""
