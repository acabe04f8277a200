"""Screening strength: one file for each failure mode, each tied to a clause. Screening only."""
