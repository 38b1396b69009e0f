"""The sheet for a multimeter."""
