"""ASME BTH-1 clause 3-3.3, engineers' sheets that quote eqs. 3-45 to 3-53 (Duerr): Fy 36, Fu 58."""

import pytest

from partgen.errors import MeasureError
from partgen.strength.bth_pin import BthLug, bth_capacities
from strength.units import INCH, KIP, KSI


def lug(**sizes):
    kinds = {k: v * INCH for k, v in sizes.items() if isinstance(v, float)}
    rest = {k: v for k, v in sizes.items() if not isinstance(v, float)}
    return BthLug(**kinds, **rest, fy=36 * KSI, fu=58 * KSI)


B1 = lug(thickness=0.75, end=3.3125, pin=1.375, side=1.66, hole=1.6875, curved_end=True)
B2 = lug(thickness=1.25, end=3.0, pin=2.75, side=3.0, hole=3.0, edition="2005")
B5 = lug(thickness=0.75, side=1.0625, end=1.0625, pin=0.75, hole=0.875)


def kips(piece, factor):
    return [c.design / KIP for c in bth_capacities(piece, factor)]


def test_sheet_b1_intermediate_values():
    assert B1.effective_width / INCH == pytest.approx(1.62, abs=0.005)
    assert B1.looseness == pytest.approx(0.841, abs=5e-4)
    assert B1.plane_angle == pytest.approx(44.815, abs=1e-3)
    assert (B1.end + 0.5 * 1.6875 * INCH - B1.curve_loss) / INCH == pytest.approx(
        (3.3125 + 0.84375) - 0.028, abs=1e-3
    )
    assert B1.curve_loss / INCH == pytest.approx(0.028, abs=5e-4)
    assert B1.shear_area / INCH**2 == pytest.approx(5.23, abs=0.005)


def test_sheet_b1_strengths():
    assert kips(B1, 2) == pytest.approx([49.30, 68.76, 88.41, 23.20], rel=0.001)


def test_sheet_b1_without_cr():
    """Cr = 1, as in 2005: Pt 58.65, Pb 81.80."""
    full = [v / B1.looseness for v in kips(B1, 2)[:2]]
    assert full == pytest.approx([58.65, 81.80], rel=0.001)


def test_sheet_b2_of_the_2005_edition():
    assert B2.effective_width / INCH == pytest.approx(2.90, abs=0.005)
    assert B2.shear_area / INCH**2 == pytest.approx(8.60, abs=0.005)
    pt, pb, pv, pp = kips(B2, 2)
    assert (pt, pb, pp) == pytest.approx((175.21, 144.09, 77.34), rel=0.001)
    assert pv == pytest.approx(145.46, rel=0.001)


def test_sheet_b2_with_the_later_shear_plane():
    """Computed: Av 8.747 in2, Pv 147.97 kip with phi = 55 Dp/Dh."""
    later = lug(thickness=1.25, end=3.0, pin=2.75, side=3.0, hole=3.0)
    assert later.shear_area / INCH**2 == pytest.approx(8.747, abs=1e-3)
    assert kips(later, 2)[2] == pytest.approx(147.97, rel=0.001)


def test_sheet_b5():
    assert B5.looseness == pytest.approx(0.8583533, abs=1e-7)
    assert B5.effective_width / INCH == pytest.approx(0.9321, abs=1e-4)
    assert kips(B5, 3)[:2] == pytest.approx([19.3343, 17.0312], rel=1e-4)


def test_what_sheet_b5_has_wrong_is_not_reproduced():
    """It prints Av 2.3049, Pv 25.99 and calls a stress, 15.0, a capacity: right are 1.774 and 20.00."""
    _, _, pv, pp = kips(B5, 3)
    assert B5.shear_area / INCH**2 == pytest.approx(1.774, abs=1e-3)
    assert pv == pytest.approx(20.00, abs=0.01)
    assert pp == pytest.approx(8.44, abs=0.01)
    assert pv != pytest.approx(25.99, rel=0.05)
    assert pp != pytest.approx(15.0, rel=0.05)


def test_the_users_factor_divides_every_strength():
    assert [3 * v for v in kips(B1, 3)] == pytest.approx(kips(B1, 1))


def test_a_pin_larger_than_its_hole_is_refused():
    with pytest.raises(MeasureError, match="larger than its hole"):
        lug(thickness=0.75, side=1.0, end=1.0, pin=0.9, hole=0.875)


def test_a_wide_thin_plate_counts_four_thicknesses_beside_the_hole():
    """4t = 0.4 in, less than be = 1 and 0.6 be (58/36) sqrt(4/1) = 1.93."""
    thin = lug(thickness=0.1, end=1.0, pin=3.9, side=1.0, hole=4.0)
    assert thin.effective_width / INCH == pytest.approx(0.4)


def test_a_pin_may_fill_its_hole():
    tight = lug(thickness=0.5, end=1.0, pin=1.0, side=1.0, hole=1.0)
    assert (tight.looseness, tight.plane_angle) == (1, 55)
