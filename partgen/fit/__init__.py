"""Sums across the vehicle: gap, spacers, sleeves, bolt, mount."""
