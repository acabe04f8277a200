"""Weld and bending of one ear on a rail that climbs 3 in 4, by hand: elastic line welds by segments.

The plate's corners are typed along the rail (u) and square to it (v); its ear hangs from v = 20 to
-90, and the bolt is at (5, -60). Welded are the five edges of the body: 510 mm.
"""

from dataclasses import dataclass
from itertools import pairwise
from math import hypot, sqrt

import numpy as np
import pytest

from partgen.entries.load import Load, StrengthEntry
from partgen.entries.rail import Rail
from partgen.entries.stock import Stock
from partgen.fields import Reading
from partgen.fit.bolting import bolt_lengths
from partgen.fit.fit import fit_options
from partgen.fit.mount import Mount
from partgen.geometry.belt import belt, corners
from partgen.geometry.outline import Outline
from partgen.plates.plate import Hole, Plate, Window
from partgen.reference.bolt import bolt
from partgen.reference.material import material
from partgen.rules.ear import Ear
from partgen.rules.on_rail import OnRail
from partgen.rules.screen_weld import WELD, bent, of_weld

FY, T, LEG, FEXX = 355.0, 6.0, 4.0, 480.0
THROAT = 0.60 * FEXX * LEG * sqrt(0.5)  # N/mm, AISC 360-16 J2.4
BODY = [(30, 20), (140, 20), (140, 70), (-100, 70), (-100, 20), (-40, 20)]
EAR = [(-25, -90), (35, -90)]
BOLT = (5.0, -60.0)
ASKED = StrengthEntry.model_validate({"weld_metal": "480 MPa"}, context=Reading("mm"))


@dataclass
class Scene:
    """A plate on a rail that climbs (or falls) 3 in 4."""

    side: int = 1
    shape: tuple = tuple(EAR + BODY)
    pivot: tuple = BOLT
    holes: tuple = ()
    windows: tuple = ()

    def at(self, u, v):
        """A place along and above the rail, in the side view."""
        return 0.8 * u - self.side * 0.6 * v, self.side * 0.6 * u + 0.8 * v

    @property
    def piece(self):
        edge = [[-400, -300 * self.side], [400, 300 * self.side]]
        data = {"width": 50, "depth": 100, "lower_edge": edge}
        rail = Rail.model_validate(data, context=Reading("mm"))
        m16 = bolt("M16")
        holes = [Hole("joint", *self.at(*BOLT), 17.0, m16)]
        holes += [Hole(f"h{k}", *self.at(u, v), d, m16) for k, (u, v, d) in enumerate(self.holes)]
        plate = Plate(
            part="mount",
            name="inner",
            outline=belt(corners([self.at(*p) for p in self.shape])),
            holes=tuple(holes),
            windows=tuple(
                Window(f"w{k}", Outline.circle(*self.at(u, v), d))
                for k, (u, v, d) in enumerate(self.windows)
            ),
            thickness=T,
            material=material("S355"),
        )
        return OnRail(plate, rail, LEG, named=True)

    @property
    def mount(self):
        fits = fit_options(50, 57, 0.8, [Stock(4.0, "S355")])
        m16, at = bolt("M16"), self.at(*self.pivot)
        return Mount("mount", fits, bolt_lengths(m16, 6, 57, 6), m16, "both", 1, 60, 64, at)

    @property
    def ear(self):
        plate = self.piece.plate
        return Ear(plate, plate.holes[0])

    def welds(self, load=None, asked=ASKED):
        return list(of_weld(self.ear, self.mount, self.piece, load, asked))

    def bent(self):
        (found,) = bent(self.ear, self.mount, self.piece)
        return found


class ByHand:
    """The five welded edges as a line weld, summed segment by segment."""

    def __init__(self, scene):
        ends = [np.array(scene.at(*p)) for p in BODY]
        pairs = list(pairwise(ends))
        lengths = np.array([np.hypot(*(b - a)) for a, b in pairs])
        middles = np.array([(a + b) / 2 for a, b in pairs])
        self.length = lengths.sum()
        self.centre = lengths @ middles / self.length
        off, runs = middles - self.centre, np.array([b - a for a, b in pairs])
        square = np.einsum("k,ki,kj->ij", lengths, off, off)
        self.seconds = square + np.einsum("k,ki,kj->ij", lengths, runs, runs) / 12
        self.points = np.array(ends) - self.centre
        self.arm = np.array(scene.at(*scene.pivot)) - self.centre

    def in_plane(self, force):
        """Greatest N/mm of a force in the plane at the bolt: F/L and M r/J."""
        x, y = self.arm
        twist = (x * force[1] - y * force[0]) / np.trace(self.seconds)
        flows = np.array(force) / self.length + twist * self.points @ [[0, 1], [-1, 0]]
        return np.hypot(*flows.T).max()

    def along(self):
        """Greatest N/mm of 1 N along the bolt: 1/L and a field linear in x and y."""
        slope = np.linalg.solve(self.seconds, self.arm)
        return np.abs(1 / self.length + self.points @ slope).max()


def test_the_hand_sum_itself():
    """Lengths 110, 50, 240, 50, 60 at (85, 20), (140, 45), (20, 70), (-100, 45), (-70, 20)."""
    by_hand = ByHand(Scene())
    assert by_hand.length == pytest.approx(510)
    assert by_hand.centre == pytest.approx(Scene().at(11950 / 510, 24700 / 510))


DIAGONAL = 0.7071
WAYS = [(1, 0), (0, 1), (DIAGONAL, DIAGONAL), (DIAGONAL, -DIAGONAL)]


@pytest.mark.parametrize(
    ("side", "pivot", "worst"),
    [(1, BOLT, 0), (1, (120, -60), 1), (1, (55, -75), 2), (-1, BOLT, 3)],
)
def test_without_a_load_the_worst_of_four_directions_counts(side, pivot, worst):
    """Half of the force in the plane, the whole along the bolt, which meets one ear alone."""
    scene = Scene(side, pivot=pivot)
    by_hand = ByHand(scene)
    flows = [by_hand.in_plane((u / 2, v / 2)) for u, v in WAYS]
    assert flows.index(max(flows)) == worst
    plane, along = scene.welds()
    assert plane.at_joint == pytest.approx(0.75 * THROAT / max(flows))
    assert along.at_joint == pytest.approx(0.75 * THROAT / by_hand.along())
    assert (plane.side, along.side, along.mode) == (False, True, f"{WELD}, along the bolt")
    assert plane.capacity.allowable == pytest.approx(plane.at_joint / 0.75 / 2)


@pytest.mark.parametrize("way", [(3, 0, -4), (0, 2, 0), (-2, 5, 1)])
def test_with_a_load_both_flows_add_up_square_to_each_other(way):
    load = Load.model_validate(
        {"mount": "mount", "force": "8 kN", "direction": way, "factor": 2}, context=Reading("mm")
    )
    x, y, z = (v / hypot(*way) for v in way)
    by_hand = ByHand(Scene())
    (weld,) = Scene().welds(load)
    flow = hypot(by_hand.in_plane((x / 2, z / 2)), y * by_hand.along())
    assert weld.at_joint == pytest.approx(0.75 * THROAT / flow)
    assert not weld.side


def test_what_the_weld_cannot_be_judged_by():
    none = Scene(shape=((-50, -200), (50, -200), (50, -20), (-50, -20)))
    assert none.welds()[0].why_not == "no edge of the plate lies on a rail of the job"
    scene = Scene()
    (lost,) = of_weld(scene.ear, scene.mount, None, None, ASKED)
    assert lost.why_not == "no edge of the plate lies on a rail of the job"
    (unsaid,) = scene.welds(asked=StrengthEntry())
    assert (unsaid.capacity, unsaid.side) == (None, False)
    assert "weld_metal is not given" in unsaid.why_not


def plastic(width, away):
    """Fy b t^2/4 over the arm, N."""
    return FY * width * T**2 / 4 / away


def width(v):
    """Of the ear by its corners."""
    return 60 + 10 * (v + 90) / 110


@pytest.mark.parametrize("side", [1, -1])
def test_the_ear_bends_at_its_weakest_section(side):
    """Sections every 80/24 mm up to the body's edge, where the ear is widest but the arm longest."""
    found = Scene(side).bent()
    assert (found.share, found.side) == (1.0, True)
    assert found.capacity.nominal == pytest.approx(plastic(width(20), 80), rel=5e-5)


def test_an_opening_in_the_ear_is_taken_off():
    """A 40 mm window at v = -20, 40 mm from the bolt; section 12 of 24 lies through its middle."""
    found = Scene(windows=((5, -20, 40),)).bent()
    weak = {k: plastic(width(-60 + 80 * k / 24) - chord(80 * k / 24 - 40, 20), 80 * k / 24)
            for k in range(1, 25)}  # fmt: skip
    assert min(weak, key=weak.get) not in (12, 24)
    assert found.capacity.nominal == pytest.approx(min(weak.values()), rel=2e-3)


def chord(off, radius):
    """Of a circle, at a distance from its centre."""
    return 2 * sqrt(max(radius**2 - off**2, 0))


def test_an_opening_beside_the_line_is_taken_off_and_one_off_the_section_is_not():
    free, beside = Scene(), Scene(holes=((-18, 10, 12), (100, 45, 30)))
    weak = {k: plastic(width(-60 + 80 * k / 24) - chord(80 * k / 24 - 70, 6), 80 * k / 24)
            for k in range(1, 25)}  # fmt: skip
    assert beside.bent().capacity.nominal == pytest.approx(min(weak.values()), rel=2e-3)
    assert beside.bent().capacity.nominal < 0.95 * free.bent().capacity.nominal


def test_a_body_without_an_edge_along_the_rail_ends_the_ear_at_the_rail():
    """The body's lower edges rise 20 in 110 and more: the arm ends 60 mm off, at the rail's edge."""
    shape = (*EAR, (30, 0), (140, 40), (140, 70), (-100, 70), (-100, 40), (-40, 0))
    found = Scene(shape=shape).bent()
    assert found.capacity.nominal == pytest.approx(plastic(60 + 10 * 90 / 90, 60), rel=5e-5)


def test_sections_end_at_the_weld():
    """The body above the ear's shoulders at v = 20 is 30 mm wide, but welded: it bends no more."""
    shape = (*EAR, (30, 20), (20, 20), (20, 70), (-10, 70), (-10, 20), (-40, 20))
    assert Scene(shape=shape).bent().capacity.nominal == pytest.approx(
        plastic(width(20), 80), rel=5e-5
    )


@pytest.mark.parametrize("height", [0.0, 0.5, 10.0])
def test_a_joint_that_does_not_hang_below_the_rail_is_not_judged(height):
    found = Scene(pivot=(5.0, height)).bent()
    assert (found.capacity, found.side) == (None, True)
    assert found.why_not == "the joint does not hang below a rail"
    scene = Scene()
    (lost,) = bent(scene.ear, scene.mount, None)
    assert (lost.why_not, lost.side) == ("the joint does not hang below a rail", True)


def test_metal_that_does_not_run_straight_up_is_not_judged():
    """A hook: the bolt hangs 75 mm behind the neck, and 40 mm of air are above it."""
    hook = ((-100, -95), (30, -95), (30, 20), *BODY[1:], (-10, 20), (-10, -50), (-100, -50))
    found = Scene(shape=hook, pivot=(-70, -70)).bent()
    assert (found.capacity, found.side) == (None, True)
    assert found.why_not == "the metal does not run straight from the bolt to the weld"


def test_a_material_without_a_strength_says_so():
    scene = Scene()
    ear = scene.ear
    thick = Plate(
        part="mount", name="inner", outline=ear.plate.outline, holes=ear.plate.holes,
        thickness=400.0, material=material("S355"),
    )  # fmt: skip
    (found,) = bent(Ear(thick, thick.holes[0]), scene.mount, scene.piece)
    assert (found.capacity, found.side) == (None, True)
    assert "prints no strength at 400 mm" in found.why_not
