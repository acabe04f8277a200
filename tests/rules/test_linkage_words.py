"""Swing, misalignment and linkage hold on studies made up here: which side counts, and its words."""

from types import SimpleNamespace as Fake

import pytest

from partgen.linkage.ends import PLATE_EDGE
from partgen.linkage.hold import Hold
from partgen.linkage.misalignment import Better, Tightest
from partgen.rules import linkage_hold, misalignment, swing
from partgen.rules.finding import Status


def shop(**study):
    return Fake(linkage=Fake(entry=Fake(clearance=6.0, spare=2.0), **study))


def near(clearance, obstacle):
    return Fake(clearance=clearance, obstacle=obstacle, at=(10.0, 20.0), angle=30.0)


def turning(mount, *things, which="frame", unplaced=()):
    link = Fake(name="lower")
    reach = Fake(case="at {:.0f} deg".format)
    return Fake(link=link, which=which, mount=mount, nearest=things, unplaced=unplaced, range=reach)


def swung(*swings):
    return swing.check(shop(swings=swings))


@pytest.mark.parametrize("order", [1, -1])
def test_of_two_sides_the_nearer_counts_by_its_nearest_obstacle(order):
    left = turning("left", near(7.5, "rail"), near(9.0, "pipe"))
    right = turning("right", near(12.0, "rail"), near(6.5, "pipe"))
    (found,) = swung(*[left, right][::order])
    assert (found.plate, found.measured, found.required) == ("right", 6.5, 6.0)
    assert found.where == "link lower to pipe at (10.0, 20.0) mm, at 30 deg"
    assert (found.status, found.note) == (Status.PASS, "")


def test_of_two_sides_alike_the_first_counts_and_ends_are_kept_apart():
    alike = [turning("left", near(7, "rail")), turning("right", near(7 - 1e-9, "rail"))]
    far = turning("axle", near(3, "rail"), which="axle")
    assert [f.plate for f in swung(*alike, far)] == ["left", "axle"]
    close = [turning("left", near(7, "rail")), turning("right", near(6.9, "rail"))]
    assert [f.plate for f in swung(*close)] == ["right"]


@pytest.mark.parametrize(
    ("clearance", "start"), [(0.0, "they meet; lower"), (0.5, "lower the pivot")]
)
def test_a_link_that_is_too_near_says_whether_they_meet(clearance, start):
    (found,) = swung(turning("left", near(clearance, "rail")))
    assert found.status is Status.FAIL
    assert found.note.startswith(start)


def test_nothing_near_and_parts_without_a_place_are_not_covered():
    bare, web = swung(turning("left", unplaced=("web",)))
    assert {bare.status, web.status} == {Status.NOT_COVERED}
    assert "say what is near it" in bare.note
    assert 'part = "web"' in web.note


def test_without_links_there_is_nothing_to_say():
    for rule in (swing, misalignment, linkage_hold):
        assert rule.check(Fake(linkage=None)) == []


def end(worst=20.0, which="frame", limit=(20.0, 24.0, "joint"), turn=5.0, tilt=6.0, **link):
    """An end that asks 24 degrees of a joint that gives 20, 2 to spare."""
    named = {"name": "lower", "fixed": False, "frame": Fake(mount="frame-mount"),
             "axle": Fake(mount="axle-mount")} | link  # fmt: skip
    return Fake(
        link=Fake(**named),
        which=which,
        worst=worst,
        case=f"at {worst:g}",
        tightest=Tightest(*limit) if limit else None,
        turn=Better(-12.5, turn),
        tilt=Better(8.25, tilt),
    )


def leaned(*ends, held="lower"):
    return misalignment.check(shop(ends=ends, swings=[Fake(link=Fake(name=held))]))


def test_the_worst_of_both_sides_counts_the_first_where_they_are_alike():
    assert [f.where.split(", ")[2] for f in leaned(end(20), end(20.5), end(19))] == ["at 20.5"]
    alike = end(20, limit=(21, 20, "joint")), end(20 + 1e-12, limit=(29, 20, "joint"))
    assert [f.measured for f in leaned(*alike)] == [21]
    assert [f.plate for f in leaned(end(), end(which="axle"))] == ["frame-mount", "axle-mount"]
    assert leaned(end(), held="upper") == []


def test_a_limit_that_is_not_known_asks_for_it_with_what_it_must_be():
    (found,) = leaned(end(limit=None))
    assert (found.status, found.required) == (Status.NOT_COVERED, 22)


ASKED = "deg is left with the bolt's axis turned or tilted; a wider gap"


@pytest.mark.parametrize(
    ("turn", "tilt", "words"),
    [
        (18.0, 6.0, "turn the bolt's axis -12.5 deg (seen from above): 18.0 deg is left"),
        (18.5, 18.0, "tilt the bolt's axis +8.2 deg (left end up): 18.0 deg is left"),
        (18.5, 19.0, f"at best 18.5 {ASKED}"),
        (19.5, 18.25, f"at best 18.2 {ASKED}"),
    ],
)
def test_the_bolt_is_turned_else_tilted_if_that_leaves_enough_to_spare(turn, tilt, words):
    """The joint gives 20, and 2 are kept in hand: 18 may be left."""
    (found,) = leaned(end(turn=turn, tilt=tilt))
    assert (found.status, found.required) == (Status.FAIL, 26)
    assert found.note.startswith(words)


def test_an_arm_in_one_piece_is_not_told_to_turn_its_bolt():
    (found,) = leaned(end(fixed=True))
    assert found.note.startswith("a wider gap, a slimmer arm")


@pytest.mark.parametrize(("axle", "part"), [("axle-mount", "axle-mount"), (None, "frame-mount")])
def test_a_plates_edge_can_be_cut_back(axle, part):
    (found,) = leaned(end(which="axle", limit=(20, 24, PLATE_EDGE), axle=Fake(mount=axle)))
    assert found.note.endswith(f'mount = "{part}", part = "{part}", trim = "outline"')
    assert "trim" not in leaned(end())[0].note


FREE = Hold(4, 4, 6, (), (), ())
HELD = {"needs_triangle": False, "triangles": {}}


@pytest.mark.parametrize(
    ("hold", "bind", "status"),
    [
        (FREE, None, Status.PASS),
        (Hold(4, 4, 6, (), ("roll",), ()), None, Status.WARN),
        (Hold(4, 4, 6, (), (), ("steer",)), None, Status.WARN),
        (FREE, Fake(misfit=1.5, case=Fake(name="full bump")), Status.WARN),
    ],
)
def test_links_that_bind_lock_or_barely_hold_warn(hold, bind, status):
    (found,) = linkage_hold.check(shop(holds=[hold], binds=bind, **HELD))
    assert found.status is status
    assert (found.measured, found.required) == ((1.5, 0) if bind else (None, None))
    assert found.where == ("4 constraints, full bump" if bind else "4 constraints")
    assert bool(found.note) is (status is Status.WARN)


def test_the_widest_pair_is_the_triangle_that_counts():
    wide = {"needs_triangle": True, "triangles": {"a": 25.0, "b": 44.0, "c": 30.0}}
    found = linkage_hold.check(shop(holds=[FREE], binds=None, **wide))[1]
    assert (found.status, found.measured, found.note) == (Status.PASS, 44, "")
    assert found.where.startswith("links b,")
    narrow = wide | {"triangles": {"a": 25.0, "b": 39.0}}
    found = linkage_hold.check(shop(holds=[FREE], binds=None, **narrow))[1]
    assert (found.status, found.required) == (Status.WARN, 40)
    assert "spread the pair" in found.note
    for more in ({"needs_triangle": False}, {"triangles": {}}):
        assert len(linkage_hold.check(shop(holds=[FREE], binds=None, **(wide | more)))) == 1
