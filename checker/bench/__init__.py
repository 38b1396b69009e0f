"""What the list names: parts with their entries of the library."""
