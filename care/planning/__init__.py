"""Where the database and the pure core meet."""
