"""Line-weld groups: Shigley Tables 9-1 and 9-2, Unsworth Table 9.1, worked problems, and any path by
numerical integration.
"""

from math import cos, hypot, pi, sin, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from partgen.errors import GeometryError
from partgen.geometry.segment import Segment
from partgen.strength.weld_line import WeldLine, throat_stress
from strength.units import INCH, KIP, KSI

B, D = 3.0, 5.0
CIRCLE = (Segment(1.5, 0, -1.5, 0, 1.0), Segment(-1.5, 0, 1.5, 0, 1.0))


def lines(*pairs):
    return WeldLine(tuple(Segment(*a, *b) for a, b in pairs))


SHAPES = {  # length, centroid, Ix, Iy, J for b = 3, d = 5 by integration
    "line": (lines(((0, 0), (0, D))), (5, 0, 2.5, 10.4167, 0, 10.4167)),
    "two verticals": (
        lines(((0, 0), (0, D)), ((B, 0), (B, D))),
        (10, 1.5, 2.5, 20.8333, 22.5, 43.3333),
    ),
    "two horizontals": (
        lines(((0, 0), (B, 0)), ((0, D), (B, D))),
        (6, 1.5, 2.5, 37.5, 4.5, 42.0),
    ),
    "L": (
        WeldLine.through([(B, 0), (0, 0), (0, D)]),
        (8, 0.5625, 1.5625, 22.1354, 6.4687, 28.6042),
    ),
    "C": (
        WeldLine.through([(B, 0), (0, 0), (0, D), (B, D)]),
        (11, 0.8182, 2.5, 47.9167, 10.6364, 58.5530),
    ),
    "U": (
        WeldLine.through([(0, D), (0, 0), (B, 0), (B, D)]),
        (13, 1.5, 1.9231, 35.2564, 24.75, 60.0064),
    ),
    "box": (
        WeldLine.through([(0, 0), (B, 0), (B, D), (0, D), (0, 0)]),
        (16, 1.5, 2.5, 58.3333, 27.0, 85.3333),
    ),
    "circle": (WeldLine(CIRCLE), (9.4248, 0, 0, 10.6029, 10.6029, 21.2058)),
}


@pytest.mark.parametrize("name", SHAPES)
def test_numbers_for_b_3_d_5(name):
    weld, expected = SHAPES[name]
    ix, iy, _ = weld.seconds
    got = (weld.length, *weld.centroid, ix, iy, weld.polar)
    assert got == pytest.approx(expected, abs=6e-5)


def handbook(name, b, d):
    """(Iu, Ju) as the handbooks print them; None where they print none."""
    return {
        "line": (d**3 / 12, d**3 / 12),
        "two verticals": (d**3 / 6, d * (3 * b * b + d * d) / 6),
        "two horizontals": (b * d * d / 2, b * (b * b + 3 * d * d) / 6),
        "L": (None, ((b + d) ** 4 - 6 * b * b * d * d) / (12 * (b + d))),
        "C": (
            d * d * (6 * b + d) / 12,
            (8 * b**3 + 6 * b * d * d + d**3) / 12 - b**4 / (2 * b + d),
        ),
        "U": (
            2 * d**3 / 3
            - 2 * d * d * (d * d / (b + 2 * d))
            + (b + 2 * d) * (d * d / (b + 2 * d)) ** 2,
            (8 * d**3 + 6 * d * b * b + b**3) / 12 - d**4 / (b + 2 * d),
        ),
        "box": (d * d * (3 * b + d) / 6, (b + d) ** 3 / 6),
        "circle": (pi * (b / 2) ** 3, 2 * pi * (b / 2) ** 3),
    }[name]


@pytest.mark.parametrize("name", SHAPES)
def test_handbook_formulas(name):
    weld, _ = SHAPES[name]
    iu, ju = handbook(name, B, D)
    assert weld.polar == pytest.approx(ju, rel=1e-9)
    assert iu is None or weld.seconds[0] == pytest.approx(iu, rel=1e-9)


def test_shigley_problem_9_5():
    """Two vertical fillets b = d = 2 in., leg 5/16, F vertical 7 in. from the centroid (8th ed.)."""
    weld = lines(((0, 0), (0, 2 * INCH)), ((2 * INCH, 0), (2 * INCH, 2 * INCH)))
    leg = 5 / 16 * INCH
    assert weld.polar / INCH**3 == pytest.approx(5.333, abs=5e-4)
    assert weld.polar * leg * 0.5**0.5 / INCH**4 == pytest.approx(1.18, abs=0.005)
    one_kip = weld.in_plane((0, -KIP), (8 * INCH, INCH))
    stress = throat_stress(one_kip, leg) / KSI
    assert stress == pytest.approx(9.22, rel=0.003)
    assert throat_stress(KIP / weld.length, leg) / KSI == pytest.approx(1.13, rel=0.003)
    assert [20 / stress, 11 / stress] == pytest.approx([2.17, 1.19], rel=0.005)


def test_shigley_problem_9_8():
    """Two circular fillets r 4 cm, leg 5 mm, couple 200 mm x F: Ju 402 cm3, J 142 cm4, 2.82 F MPa.

    The printed F, 49.2 kN, does not follow from its own 2.82 F: 140/2.82 = 49.65.
    """
    one = WeldLine(tuple(Segment(s.x0 / 1.5 * 40, 0, s.x1 / 1.5 * 40, 0, 1.0) for s in CIRCLE))
    assert one.polar / 1e3 == pytest.approx(402, abs=0.5)
    assert one.polar * 0.5**0.5 * 5 / 1e4 == pytest.approx(142, abs=0.5)
    half = 200e3 / 2 / one.polar * 40  # one ring takes half the couple of 1 kN at 200 mm
    stress = throat_stress(half, 5)
    assert stress == pytest.approx(2.82, abs=0.01)
    assert 140 / stress == pytest.approx(49.7, abs=0.1)
    assert 140 / stress != pytest.approx(49.2, abs=0.2)


def test_shigley_example_9_4():
    """500 lbf at 6 in. on two lines of 2 in., leg 3/8: A 1.06, I .353; 472, 8490, resultant 8500 psi."""
    weld = lines(((0, 0), (0, 2 * INCH)), ((INCH, 0), (INCH, 2 * INCH)))
    leg, psi = 3 / 8 * INCH, KSI / 1000
    assert weld.length * leg * 0.5**0.5 / INCH**2 == pytest.approx(1.06, abs=0.005)
    assert weld.seconds[0] * leg * 0.5**0.5 / INCH**4 == pytest.approx(0.353, abs=0.001)
    shear = throat_stress(0.5 * KIP / weld.length, leg) / psi
    bend = throat_stress(weld.out_of_plane(0, (0.5 * KIP * 6 * INCH, 0)), leg) / psi
    assert (shear, bend) == pytest.approx((472, 8490), rel=0.003)
    assert hypot(shear, bend) == pytest.approx(8500, rel=0.003)


def test_bracket_with_a_c_weld():
    """C weld b 5, d 10 in., 18 000 lb at 10 in.: Jw 385.4, resultant 3533 lb/in (from memory)."""
    weld = WeldLine.through([(5, 0), (0, 0), (0, 10), (5, 10)])
    assert weld.polar == pytest.approx(385.4, abs=0.05)
    x, y = weld.centroid
    assert weld.in_plane((0, -18000), (x + 10, y)) == pytest.approx(3533, rel=0.001)


points = st.tuples(st.floats(-50, 50), st.floats(-50, 50))
bulges = st.one_of(st.just(0.0), st.floats(-1.5, 1.5).filter(lambda b: abs(b) > 0.05))


@given(st.lists(st.tuples(points, points, bulges), min_size=1, max_size=5))
def test_any_path_against_numerical_integration(raw):
    path = tuple(Segment(*a, *b, k) for a, b, k in raw if hypot(a[0] - b[0], a[1] - b[1]) > 0.5)
    if not path:
        return
    weld = WeldLine(path)
    steps = (np.arange(2000) + 0.5) / 2000
    spots = np.array([s.at(k) for s in path for k in steps])
    share = np.repeat([s.length / 2000 for s in path], 2000)
    centre = share @ spots / share.sum()
    off = spots - centre
    assert weld.length == pytest.approx(share.sum())
    assert weld.centroid == pytest.approx(tuple(centre), abs=1e-4)
    ix, iy, ixy = weld.seconds
    scale = max(ix, iy)
    expected = (share @ off[:, 1] ** 2, share @ off[:, 0] ** 2, share @ (off[:, 0] * off[:, 1]))
    assert (ix, iy, ixy) == pytest.approx(expected, abs=1e-5 * scale)


def test_skew_bending_is_in_equilibrium():
    """The linear stress field of an L weld gives back force and both moments when integrated."""
    weld = WeldLine.through([(40, 3), (0, 0), (7, 90)])
    cx, cy = weld.centroid
    ix, iy, ixy = weld.seconds
    mx, my = 5000.0, -2300.0
    peak = weld.out_of_plane(700.0, (mx, my))
    field = np.linalg.solve([[ix, ixy], [-ixy, -iy]], [mx, my])
    values = [700 / weld.length + field[0] * (y - cy) + field[1] * (x - cx) for x, y in weld.points]
    assert peak == pytest.approx(max(abs(v) for v in values))


def test_a_straight_weld_bends_one_way_only():
    weld = WeldLine.through([(0, 0), (0, 60)])
    assert weld.out_of_plane(0, (1200.0, 0)) == pytest.approx(6 * 1200 / 60**2)
    with pytest.raises(GeometryError, match="about its own line"):
        weld.out_of_plane(0, (0, 100.0))
    with pytest.raises(GeometryError, match="no length"):
        WeldLine(())


def test_a_straight_weld_in_unequal_pieces_is_loaded_most_at_one_end():
    """30 and 50 mm, 20 apart: centre 52.5 up, I 90 833; force and moment add up at the top only."""
    weld = lines(((0, 0), (0, 30)), ((0, 50), (0, 100)))
    assert weld.centroid == pytest.approx((0, 52.5))
    second = 30**3 / 12 + 30 * 37.5**2 + 50**3 / 12 + 50 * 22.5**2
    assert weld.polar == pytest.approx(second)
    flow, turn = 800 / 80, 9000 / second
    assert weld.out_of_plane(800, (9000, 0)) == pytest.approx(flow + turn * 47.5)
    assert weld.out_of_plane(800, (-9000, 0)) == pytest.approx(flow + turn * 52.5)


def test_the_stress_is_looked_at_on_the_weld_alone():
    quarter = WeldLine((Segment(40, 0, 0, 40, tan(pi / 8)),))
    assert all(x >= -1e-9 and y >= -1e-9 for x, y in quarter.points)
    assert {(40, 0), (0, 40)} <= {(round(x, 9), round(y, 9)) for x, y in quarter.points}
    assert WeldLine.through([(0, 0), (0.5, 0)]).length == 0.5


@pytest.mark.parametrize("slant", [0.11, -0.7, 2.03])
@pytest.mark.parametrize("moment", [1200.0, -3.1e6])
@pytest.mark.parametrize("through", [(0, 60), (0, 30, 60), (60, 41, 0)])
def test_a_slanted_straight_weld_bends_square_to_itself(moment, through, slant):
    """Force over length and 6 M / L^2 for a weld of 60 mm, in one piece or two."""
    ux, uy = cos(slant), sin(slant)
    weld = WeldLine.through([(30 + t * ux, 45 + t * uy) for t in through])
    square = (moment * uy, -moment * ux)
    peak = weld.out_of_plane(9.0 * weld.length, square)
    assert peak == pytest.approx(9.0 + 6 * abs(moment) / weld.length**2)
    about = (square[0] + 1e-5 * moment * ux, square[1] + 1e-5 * moment * uy)
    with pytest.raises(GeometryError, match="about its own line"):
        weld.out_of_plane(0.0, about)


@pytest.mark.parametrize("tip", [(104, 96), (110, 98)])
def test_an_almost_straight_weld_is_no_straight_one(tip):
    """A slender hook at 45 degrees: its stress field is in equilibrium with the moments."""
    weld = WeldLine.through([(10, 0), (100, 90), tip])
    cx, cy = weld.centroid
    ix, iy, ixy = weld.seconds
    assert 1e-8 < (ix * iy - ixy**2) / (ix * iy) < 1e-3
    field = np.linalg.solve([[ix, ixy], [-ixy, -iy]], [700.0, -900.0])
    values = [field[0] * (y - cy) + field[1] * (x - cx) for x, y in weld.points]
    assert weld.out_of_plane(0, (700.0, -900.0)) == pytest.approx(max(abs(v) for v in values))
