"""The demo on measured rails: the numbers it must give."""

from math import pi
from pathlib import Path

import pytest

from partgen.job.build import build
from partgen.job.job import load_job
from partgen.rules import check
from partgen.rules.finding import Status

DEMO = Path(__file__).parents[1] / "demo_parts" / "measured-rails.toml"
LEFT = [0, 0.4, -0.3, 2.1, 9.2, 20.3, 33.8, 46.9, 56.2, 60.3, 61.0, 60.6]
RIGHT = [0.2, 0, 0.3, 1.6, 7.1, 17.6, 31.9, 45.2, 55.1, 59.8, 61.2, 61]


@pytest.fixture(scope="module")
def made():
    return build(load_job(DEMO))


@pytest.mark.parametrize(("side", "heights"), [("left", LEFT), ("right", RIGHT)])
def test_each_rail_passes_its_stations_within_half_a_millimetre(made, side, heights):
    edge = made.shop.rails[side].lower
    assert max(edge.distance((80.0 * k, y)) for k, y in enumerate(heights)) <= 0.5
    assert len(edge.segments) <= 6


@pytest.mark.parametrize("side", ["left", "right"])
def test_each_plate_follows_its_own_rail(made, side):
    """Body from 13 mm above the rail's lower edge to 87 mm: sampled on both long edges."""
    plates = {p.label: p for p in made.plates}
    plate = plates[f"mount-{side}/inner/{side}"]
    outline = plate.outline if side == "left" else plate.mirrored().outline
    own = made.shop.rails[side].lower
    for inset in (13, 87):
        on_edge = [
            p
            for s in outline.segments
            for p in (s.at(k / 40) for k in range(41))
            if abs(own.distance(p) - inset) < 0.025
        ]
        assert len(on_edge) >= 60
        assert max(x for x, _ in on_edge) - min(x for x, _ in on_edge) > 350


def test_gap_spacers_and_bolt(made):
    """57 + 1/32 in asked for; 52 + 2 x 3 = 58 given; grip 3 + 6 + 57 + 6 + 3 = 75."""
    for mount in made.mounts:
        assert (mount.fit.gap, mount.fit.spacers) == (58, (3, 3))
        assert mount.bolt_fit.grip == 75
        assert mount.bolt_fit.length == 110


def test_outer_plates_are_cut_away_round_the_body_mount(made):
    plates = {p.label: p for p in made.plates}
    for side in ("left", "right"):
        inner, outer = (plates[f"mount-{side}/{name}/{side}"] for name in ("inner", "outer"))
        assert 1000 < inner.area - outer.area < 64 * 60
        assert inner.windows == outer.windows
        assert {w.name for w in inner.windows} == {"slot-1", "slot-2", "drain-1", "opening-1"}
    slot = next(w for w in inner.windows if w.name == "slot-1").outline
    assert slot.area == pytest.approx(26 * 14 + 49 * pi)


def test_two_bolt_positions_thirty_millimetres_apart(made):
    plate = made.plates[0]
    assert [(h.name, h.x, h.y) for h in plate.holes] == [
        ("joint", 330, -62),
        ("joint-adjust-1", 330, -92),
    ]
    assert plate.outline.distance((330, -92)) == pytest.approx(24)


def test_no_rule_fails_and_the_sides_are_compared(made):
    found = check(made)
    assert {f.status for f in found} == {Status.PASS}
    (edge,) = [f for f in found if f.rule == "rail-sides" and f.where.startswith("lower edge")]
    assert edge.measured == pytest.approx(2.77, abs=0.01)
    assert edge.required == 3
    assert edge.margin == pytest.approx(0.23, abs=0.01)
