"""Welds: which edges of a job's plates are welded to what, how large, in which sequence."""
