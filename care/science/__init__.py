"""Published models, one topic a file, SI units, no side effects."""
