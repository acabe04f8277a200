"""Bearing and tear-out at bolt holes: AISC Manual Tables 7-4 and 7-5 (from memory), EN Table 3.4."""

import pytest

from partgen.errors import MeasureError
from partgen.strength.bearing import aisc_bearing, en_bearing
from partgen.strength.net_section import gross_yield, net_rupture
from partgen.strength.tear_out import aisc_tear_out, two_planes
from strength.units import INCH, KIP, KSI


@pytest.mark.parametrize(("fu", "kip"), [(58, 44.0), (65, 49.4)])
def test_tear_out_for_each_inch_of_plate(fu, kip):
    """3/4 bolt, 13/16 hole, Le 1-1/4: lc = .84375 in."""
    found = aisc_tear_out((1.25 - 0.8125 / 2) * INCH, INCH, fu * KSI)
    assert found.design / KIP == pytest.approx(kip, rel=0.002)


@pytest.mark.parametrize(("fu", "kip"), [(58, 78.3), (65, 87.8)])
def test_bearing_at_three_inch_spacing(fu, kip):
    found = aisc_bearing(0.75 * INCH, INCH, fu * KSI)
    assert found.design / KIP == pytest.approx(kip, rel=0.001)
    assert aisc_tear_out((3 - 0.8125) * INCH, INCH, fu * KSI).nominal > found.nominal


def test_factors_by_case():
    """J3.10: 1.2/2.4, 1.5/3.0, 1.0/2.0; phi 0.75, omega 2.00."""
    assert (aisc_tear_out(7, 5, 400).phi, aisc_tear_out(7, 5, 400).omega) == (0.75, 2.00)
    assert (aisc_bearing(7, 5, 400).phi, aisc_bearing(7, 5, 400).omega) == (0.75, 2.00)
    for case, tear, bear in (
        ("deformation counts", 1.2, 2.4),
        ("deformation does not count", 1.5, 3.0),
        ("long slot across the force", 1.0, 2.0),
    ):
        assert aisc_tear_out(7, 5, 400, case).nominal == pytest.approx(tear * 7 * 5 * 400)
        assert aisc_bearing(7, 5, 400, case).nominal == pytest.approx(bear * 7 * 5 * 400)


def test_an_ear_of_a36():
    """Computed: t .25, d .75, e 1.5, w 3: net 32.63, shear-out 19.58, bearing 26.10 kip; 19.58 governs."""
    fu, t, d = 58 * KSI, 0.25 * INCH, 0.75 * INCH
    net = net_rupture(3 * INCH, d, t, fu).nominal / KIP
    shear = two_planes(1.5 * INCH, d, t, fu) / KIP
    bearing = aisc_bearing(d, t, fu).nominal / KIP
    assert (net, shear, bearing) == pytest.approx((32.625, 19.575, 26.100), abs=1e-3)
    assert min(net, shear, bearing) == shear


@pytest.mark.parametrize(("edge", "force"), [(7.0, 2 * 1 * 5 * 0.6 * 400), (6.0, 0), (4.5, 0)])
def test_an_edge_nearer_than_the_bolts_own_radius_shears_at_once(edge, force):
    assert two_planes(edge, 12, 5, 400) == pytest.approx(force)


def test_gross_yield_and_net_rupture_reductions():
    """AISC 360 D2: phi 0.90 and 0.75, omega 1.67 and 2.00."""
    gross, net = gross_yield(50, 6, 355), net_rupture(50, 17, 6, 470)
    assert (gross.design, net.design) == pytest.approx((0.9 * 355 * 300, 0.75 * 470 * 33 * 6))
    assert (gross.allowable, net.allowable) == pytest.approx((355 * 300 / 1.67, 470 * 33 * 6 / 2))


def test_en_table_3_4_by_hand():
    """M16 8.8 in 6 mm S355 (fu 470), d0 17, e1 24, e2 30: alpha 24/51, k1 2.5."""
    found = en_bearing(16, 17, 6, 470, 24, 30, 800)
    assert found.design == pytest.approx(2.5 * 24 / 51 * 470 * 16 * 6 / 1.25)
    near = en_bearing(16, 17, 6, 470, 24, 24, 800)
    assert near.design == pytest.approx((2.8 * 24 / 17 - 1.7) * 24 / 51 * 470 * 16 * 6 / 1.25)
    pitch = en_bearing(16, 17, 6, 470, 60, 30, 800, p1=40)
    assert pitch.design == pytest.approx(2.5 * (40 / 51 - 0.25) * 470 * 16 * 6 / 1.25)
    soft = en_bearing(16, 17, 6, 470, 60, 30, 240)
    assert soft.design == pytest.approx(2.5 * 240 / 470 * 470 * 16 * 6 / 1.25)
    full = en_bearing(16, 17, 6, 470, 60, 30, 800)  # 60/51 and 800/470 count as 1
    assert full.design == pytest.approx(2.5 * 470 * 16 * 6 / 1.25)
    assert en_bearing(16, 17, 6, 470, 60, 10, 800).design == 0  # 2.8 * 10/17 is less than 1.7


def test_a_hole_as_wide_as_its_strip_leaves_nothing():
    with pytest.raises(MeasureError, match="net_width"):
        net_rupture(17, 17, 6, 470)
