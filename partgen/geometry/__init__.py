"""Exact outlines of lines and arcs, and what is done with them."""
