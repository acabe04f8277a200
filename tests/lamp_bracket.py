"""Draws ``demo_parts/lamp-bracket.dxf`` with the faults that drawings from elsewhere have.

A bracket of 5 x 1.75 in with round ends in 5 degree facets, gaps of 0.001 to 0.002 in between its
straight edges and them, one edge drawn twice, a lamp hole in 48 facets, a round bolt hole.
"""

from itertools import pairwise
from math import cos, pi, radians, sin
from pathlib import Path

import ezdxf

TARGET = Path(__file__).parents[1] / "demo_parts" / "lamp-bracket.dxf"


R = 7 / 8


def arc(x, y, r, start, end, count):
    turns = [radians(start + (end - start) * k / count) for k in range(count + 1)]
    return [(x + r * cos(t), y + r * sin(t)) for t in turns]


def draw(path):
    document = ezdxf.new("R12")
    space = document.modelspace()
    for points in (arc(4.25, R, R, -90, 90, 36), arc(0.75, R, R, 90, 270, 36)):
        for a, b in pairwise(points):
            space.add_line(a, b)
    space.add_line((0.75, 0.001), (4.25, 0.0))
    space.add_line((4.25, 0.0), (0.75, 0.001))
    space.add_line((4.25, 2 * R + 0.002), (0.75, 2 * R))
    ring = arc(3.6, R, 0.4, 0, 360, 48)
    for a, b in pairwise(ring):
        space.add_line(a, b)
    space.add_circle((1.0, R), 9 / 32)
    document.saveas(path)


AREA = 3.5 * 2 * R + pi * R**2 - pi * 0.4**2 - pi * (9 / 32) ** 2  # square inches

if __name__ == "__main__":
    draw(TARGET)
