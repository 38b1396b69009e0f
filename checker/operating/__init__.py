"""Operating points: which states and corners are looked at, the model of each part, and what comes out."""
