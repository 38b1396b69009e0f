"""The circuit: parts and nets as a graph."""
