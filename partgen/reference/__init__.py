"""What the profiles mean: tables, materials, bolts, limits, rule sets."""
