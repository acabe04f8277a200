"""What is held, what is free: layouts whose answer is known by counting."""

import numpy as np
import pytest
from linkage_makers import LOWER, UPPER, four_link, link, rods, worked

from partgen.errors import GeometryError
from partgen.linkage.axle import ROLL, Anchor, Body, Rod, Spot, Z
from partgen.linkage.hold import hold

CENTRE = np.array([0.0, 0.0, 18.0])
BAR = Rod("bar", Spot(np.array([0.0, 20, 16]), False), Spot(np.array([0.0, -20, 14]), True))
PARALLEL = (*rods("lower", (0, 20, 12), (30, 20, 12)), *rods("upper", (0, 12, 22), (30, 12, 22)))


def body(*links, anchors=()):
    return Body(CENTRE, tuple(links), tuple(anchors), half_track=30.0)


def test_triangulated_four_link_leaves_heave_and_roll():
    found = hold(four_link())
    assert (found.constraints, found.rank, found.free, found.spare) == (4, 4, 2, 0)
    assert (found.loose, found.locked) == ((), ())


def test_three_link_needs_its_lateral_bar():
    """Two lower links and one upper in the middle: nothing holds it sideways without a bar."""
    three = [
        *rods("lower", (0, 20, 12), (30, 20, 14)),
        *rods("upper", (0, 0, 22), (24, 0, 21), (1,)),
    ]
    assert hold(body(*three)).loose == ("sideways",)
    held = hold(body(*three, BAR))
    assert (held.rank, held.loose, held.locked, held.spare) == (4, (), (), 0)


def test_parallel_four_link_with_bar_is_held_once_too_often():
    """Level parallel links: the fourth says nothing new (by hand: rows in x, pitch and yaw only)."""
    found = hold(body(*PARALLEL, BAR))
    assert (found.constraints, found.rank, found.spare, found.free) == (5, 4, 1, 2)
    assert hold(body(*PARALLEL)).loose == ("sideways",)


def test_beam_on_two_welded_arms_cannot_roll():
    arms = [Anchor("l", np.array([20.0, 24, 16])), Anchor("r", np.array([20.0, -24, 16]))]
    found = hold(body(anchors=arms))
    assert (found.constraints, found.rank, found.free, found.locked) == (6, 5, 1, ("roll",))


def test_two_lower_links_alone_let_the_pinion_turn():
    found = hold(body(*rods("lower", *LOWER)))
    assert "pinion turn" in found.loose
    assert found.free == 4


def test_links_all_in_one_line_lock_heave():
    """A link straight up from the axle stops it from moving up."""
    post = [
        Rod(
            "post",
            Spot(np.array([0, s * 10.0, 48]), False),
            Spot(np.array([0, s * 10.0, 18]), True),
        )
        for s in (1, -1)
    ]
    found = hold(body(*rods("lower", *LOWER), *rods("upper", *UPPER), *post))
    assert found.locked == ("heave", "roll")


def test_a_weak_triangle_is_said_to_hold_barely():
    flat = [*rods("lower", (0, 20, 12), (30, 20, 12)), *rods("upper", (0, 12, 22), (30, 12.3, 22))]
    assert hold(body(*flat)).weak == ("sideways",)


def test_arm_alone_leaves_heave_only():
    """A hinge: five constraints of six motions; its two points count once along the bolt."""
    hinge = [Anchor("arm", np.array([20.0, y, 16])) for y in (14.0, 34.0)]
    found = hold(Body(np.array([0.0, 36, 14]), (), tuple(hinge), half_track=36.0), (Z,))
    assert (found.constraints, found.rank, found.free, found.spare) == (5, 5, 1, 0)


def test_an_axle_that_is_not_held_is_refused_in_words():
    with pytest.raises(GeometryError, match=r"not held: sideways.*add a link, a lateral bar"):
        worked(wheel=(0, 30, 18), bump=4, droop=4,
               link=[link("lower", (0, 20, 12), (30, 20, 14)), link("upper", (0, 0, 22), (24, 0, 21), pair=False)])  # fmt: skip


def test_parallel_links_bind_in_roll_and_the_misfit_is_reported():
    found = worked(
        wheel=(0, 30, 18), bump=4, droop=4,
        link=[link("lower", (0, 20, 12), (30, 14, 13)), link("upper", (0, 12, 22), (26, 16, 21)),
              link("bar", (0, -20, 14), (0, 20, 16), pair=False)],
    )  # fmt: skip
    assert found.holds[0].locked == ("heave without roll",)
    assert found.binds is not None
    assert found.binds.misfit > 1e-3


def test_wanted_motions_may_be_chosen():
    assert hold(four_link(), (Z, ROLL)).rank == hold(four_link(), (Z,)).rank
