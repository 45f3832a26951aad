"""What exists: people, places, trees, weather and the catalogue."""
