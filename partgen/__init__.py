"""Parametric brackets and plates for CNC cutting: built, checked, cut-ready, nested.

Everywhere inside: mm, N, MPa, kg and degrees.
"""

__version__ = "0.1.0"
