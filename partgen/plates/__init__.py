"""A plate: flat, with features, bent, placed; how two differ."""
