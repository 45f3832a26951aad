"""What to do: the plan, the log and every page that shows a tree's state."""
