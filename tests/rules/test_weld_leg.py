"""Weld leg: AISC 360-16 Table J2.4 and J2.2b (typed in again) on mounts, ears and named edges."""

import pytest
from helpers import replaced

from partgen.errors import PartgenError
from partgen.job.build import build
from partgen.job.job import load_job
from partgen.packet.weld_notes import weld_section
from partgen.rules import weld_leg
from partgen.rules.finding import Status
from partgen.strength.fillet_weld import usual_leg
from partgen.welds.weld_map import weld_map

# Table J2.4M: to 6 mm 3, to 13 mm 5, to 19 mm 6, beyond 8; J2.2b: t, from 6 mm on t - 2 mm.
LEAST = ((6, 3), (13, 5), (19, 6), (1e9, 8))
JOB = """
[job]
name = "ears"
units = "mm"
[rail.left]
width = 52
depth = 100
corner_radius = 8
[joint.bush]
width = 57
body_diameter = 64
bolt = "M16"
[[part]]
name = "mount"
family = "link-mount"
rail = "left"
joint = "bush"
pivot = [0, -68]
plate = "6 mm S355"
weld_leg = 4
[[part]]
name = "ear"
family = "ear"
bolt = "M16"
height = 60
plate = "6 mm S355"
welded = [{ at = [0, 0], to = "a plate", sides = 1, leg = 4 }]
[[part]]
name = "thin"
family = "washer"
bolt = "M16"
plate = "2 mm S355"
welded = [{ at = [15, 0], to = "an ear" }]
[[sheet]]
plate = "3 mm S355"
size = [1250, 2500]
"""


def found(tmp_path, *changes):
    text = replaced(JOB, *changes)
    path = tmp_path / "job.toml"
    path.write_text(text, encoding="utf-8")
    return weld_leg.check(build(load_job(path)))


@pytest.mark.parametrize(
    ("leg", "least", "most"),
    [(3, Status.PASS, Status.PASS), (4, Status.PASS, Status.PASS),
     (4.1, Status.PASS, Status.WARN), (2.9, Status.WARN, Status.PASS)],
)  # fmt: skip
@pytest.mark.parametrize("what", ["weld_leg = 4", "leg = 4 }"])
def test_leg_turns_at_both_limits(tmp_path, what, leg, least, most):
    """6 mm plate: at least 3 (Table J2.4M), along its edge at most 6 - 2."""
    plate, mate = ("mount/inner", "rail") if what.startswith("weld") else ("ear/ear", "a plate")
    changed = found(tmp_path, (what, what.replace("4", str(leg))))
    mine = [f for f in changed if f.plate == plate and mate in f.where]
    assert [f.status for f in mine] == [least, most]
    assert [f.required for f in mine] == pytest.approx([3, 4])
    assert [f.measured for f in mine] == pytest.approx([leg, leg])
    assert [f.margin for f in mine] == pytest.approx([leg - 3, 4 - leg])
    said = ["a larger leg for this thickness", "a smaller leg, or the edge is built out"]
    warned = [f.status is Status.WARN for f in mine]
    assert [f.note for f in mine] == [s if w else "" for s, w in zip(said, warned, strict=True)]


def test_what_is_welded_flush_has_no_leg_to_judge(tmp_path):
    """A rail of 45 mm takes two pads of 3 mm on each side: between them, flush."""
    pad = '[[part]]\nname = "pad"\nfamily = "spacer"\nmount = "mount"\nsize = [150, 60]\n[[sheet]]'
    judged = found(tmp_path, ("width = 52", "width = 45"), ("[[sheet]]", pad))
    flush = [w for w in weld_map(build(load_job(tmp_path / "job.toml")))[0] if w.leg is None]
    assert {w.seam.mate for w in flush} == {"the next pad"}
    mine = [f.where for f in judged if f.plate == "pad/pad"]
    assert mine == ["usual leg of the fillet to rail", "usual leg of the fillet to mount plate"]


def test_a_named_leg_is_judged_by_the_rails_wall(tmp_path):
    """10 mm plate on a wall of 4: at least 3 (Table J2.4M, to 6 mm), not the plate's 5."""
    wall = walled(tmp_path, "wall = 4")
    judged = found(tmp_path, wall[0], ("weld_leg = 4", "weld_leg = 3"), *wall[2:])
    mine = [f for f in judged if f.plate == "mount/outer"]
    assert [(f.required, f.status, f.at_most) for f in mine] == [
        (3, Status.PASS, False),
        (8, Status.PASS, True),
    ]


def test_an_edge_that_stands_has_no_largest_leg(tmp_path):
    (only,) = [
        f
        for f in found(tmp_path, ("sides = 1, leg = 4 }", "leg = 9, sides = 2 }"))
        if f.plate == "ear/ear" and "a plate" in f.where
    ]
    assert (only.status, only.measured) == (Status.PASS, 9)


def test_a_plate_thinner_than_the_least_leg_needs_no_more_than_itself(tmp_path):
    """2 mm: the table's 3 mm need not exceed the thinner part (AWS D1.1, from memory)."""
    named = found(tmp_path, ('"an ear"', '"an ear", leg = 2'))
    thin = [f for f in named if f.plate == "thin/washer"]
    assert [(f.measured, f.required, f.status) for f in thin] == [(2, 2, Status.PASS)] * 2


def test_legs_nobody_named_pass(tmp_path):
    changed = found(tmp_path, ("weld_leg = 4\n", ""), (", leg = 4 }", " }"))
    assert {f.plate for f in changed} == {"mount/inner", "mount/outer", "ear/ear", "thin/washer"}
    assert {f.status for f in changed} == {Status.PASS}
    assert {(f.plate, f.measured) for f in changed} == {
        ("mount/inner", 4), ("mount/outer", 4), ("ear/ear", 4), ("thin/washer", 2)
    }  # fmt: skip
    assert {f.margin for f in changed} == {None}  # chosen between the limits, not measured


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_the_usual_leg_is_between_the_two_limits(unit):
    """Three quarters of the thickness, in whole mm or 1/16 in, where the limits leave it."""
    for sixteenths in range(2, 20):
        t = float(sixteenths) if unit == "mm" else 25.4 * sixteenths / 16
        leg, edge = usual_leg(t, unit), usual_leg(t, unit, edge=t)
        size = t if unit == "mm" else t / 25.4 * 16
        if unit == "mm":
            least = min(t, next(leg for top, leg in LEAST if t <= top))
            most = t if t < 6 else t - 2
        else:
            least = 25.4 / 16 * min(size, next(n for top, n in ((4, 2), (8, 3), (12, 4), (99, 5)) if size <= top))  # fmt: skip
            most = t if size < 4 else t - 25.4 / 16
        assert least - 1e-9 <= leg <= t + 1e-9
        assert least - 1e-9 <= edge <= most + 1e-9
        assert leg == pytest.approx(max(least, int(0.75 * size + 1e-9) * (1 if unit == "mm" else 25.4 / 16)))  # fmt: skip


NO_PADS = (("width = 52", "width = 58"), ("weld_leg = 4\n", ""))


def walled(tmp_path, wall, plate="10 mm S355"):
    thick = (
        'pivot = [0, -68]\nplate = "6 mm S355"',
        f'pivot = [0, -68]\nplate = "{plate}"',
    )
    with_wall = ("corner_radius = 8", f"corner_radius = 8\n{wall}")
    return *NO_PADS, thick, with_wall


@pytest.mark.parametrize(
    ("wall", "leg", "least"),
    [("", 7, 5), ("wall = 12", 7, 5), ("wall = 6.5", 5, 5), ("wall = 4", 3, 3), ("wall = 2", 2, 2)],
)
def test_a_rails_wall_is_the_thinner_part(tmp_path, wall, leg, least):
    """10 mm plates: Table J2.4M by the thinner part, never over it; the leg three quarters of it."""
    thinner = min(10, float(wall.split()[-1])) if wall else 10
    assert leg == max(min(int(0.75 * thinner), 10 - 2), least)
    assert least == min(next(need for top, need in LEAST if thinner <= top), thinner)
    (text,) = {
        f.measured for f in found(tmp_path, *walled(tmp_path, wall)) if f.plate == "mount/outer"
    }
    assert text == leg
    made = build(load_job(tmp_path / "job.toml"))
    welds, notes = weld_map(made)
    on_rail = [w for w in welds if w.key == "mount/outer"]
    assert {(w.leg, w.least) for w in on_rail} == {(leg, least)}
    told = [n for n in notes if n.startswith("rail left: its wall is not known")]
    assert len(told) == (0 if wall else 1)
    page = str(weld_section(made))
    assert ("not known: leg by the plate" in page) == (not wall)


@pytest.mark.parametrize(
    ("asked", "wall", "said"),
    [(5, 4, "leg 5 mm is more than what it is welded to is thick, 4 mm"), (4, 4, None)],
)
def test_a_leg_thicker_than_the_wall_is_said(tmp_path, asked, wall, said):
    changes = walled(tmp_path, f"wall = {wall}")[1:]
    found(
        tmp_path,
        ("width = 52", "width = 58"),
        ("weld_leg = 4\n", f"weld_leg = {asked}\n"),
        *changes[1:],
    )
    notes = [n for w in weld_map(build(load_job(tmp_path / "job.toml")))[0] for n in w.notes]
    assert (said in notes) == bool(said)


def test_pads_part_the_plate_from_the_wall(tmp_path):
    """With 3 mm pads the thin wall rules the pads' fillets on the rail, not those of the plates."""
    found(tmp_path, ("weld_leg = 4\n", ""), ("corner_radius = 8", "corner_radius = 8\nwall = 2"),
          ("[[sheet]]", '[[part]]\nname = "pad"\nfamily = "spacer"\nmount = "mount"\nsize = [150, 60]\n[[sheet]]'))  # fmt: skip
    made = build(load_job(tmp_path / "job.toml"))
    pads = [w for w in weld_map(made)[0] if w.key == "pad/pad"]
    assert {(w.seam.mate, w.leg, w.least) for w in pads} == {("rail", 2, 2), ("mount plate", 3, 3)}
    assert next(p for p in made.job.parts if p.name == "mount").leg(made.shop) == 4


@pytest.mark.parametrize(
    ("wall", "said"),
    [("wall = 27", "wall = 27 mm is more than half the rail's smaller side; at most 26 mm"),
     ("wall = 0", "must be more than 0")],
)  # fmt: skip
def test_a_wall_that_cannot_be(tmp_path, wall, said):
    with pytest.raises(PartgenError, match=r"rail\.left") as error:
        found(tmp_path, ("corner_radius = 8", f"corner_radius = 8\n{wall}"))
    assert said in str(error.value)
