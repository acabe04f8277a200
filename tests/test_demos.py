"""Every demo: makes cut files, and gives the numbers worked out by hand beside each."""

from math import cos, pi, radians, tan

import pytest
from helpers import DEMOS, made_demo
from lamp_bracket import AREA as LAMP_AREA

from partgen.families import FAMILIES
from partgen.job.assembly import assemblies

NEW = [
    "hill-trial-buggy-upper-links",
    "hill-trial-buggy-lower-axle",
    "hill-trial-buggy-crossmember",
    "hill-trial-buggy-skid",
    "hill-trial-buggy-coil-over",
    "fold-down-carrier",
    "hill-trial-buggy-through-bolt",
]


def plates(name):
    return {p.label: p for p in made_demo(name).build.plates}


def size(plate):
    x0, y0, x1, y1 = plate.outline.box
    return x1 - x0, y1 - y0


@pytest.mark.parametrize("name", NEW)
def test_nothing_stops_it_and_every_plate_lies_on_a_sheet(name):
    result = made_demo(name)
    assert not result.stopped
    placed = sum(len(nest.layout.placements) for nest in result.nests)
    assert placed == sum(p.count for p in result.build.plates)


def test_every_family_is_in_a_demo():
    parts = (p for job in sorted(DEMOS.glob("*.toml")) for p in made_demo(job.stem).build.job.parts)
    assert {part.family for part in parts} == set(FAMILIES)


def test_upper_links():
    """Gap 66 + 1/32 in; 11 discs of 6 mm a pair; back plate 94 long, tabs as long as the ears.

    Ears 116 long, 6.15 thick as measured, cut tolerance 0.5: slots 7.15 wide, 23.2 + 1 + 2 x 2 and
    11.6 + 1 + 4 long, a gap and 6 mm apart, at 22 degrees in plan; tabs 6 long through the top plate.
    """
    job, gap = plates("hill-trial-buggy-upper-links"), 66 + 25.4 / 32
    assert size(job["back/bridge/left"]) == pytest.approx((94, gap + 12))
    assert job["dummy/6mm"].count == 22
    assert len(job["ears/inner/left"].windows) == 2
    assert job["ears/inner/left"].outline.box[1] == pytest.approx(-6)
    slots = {w.name: w.outline for w in job["top-plate/plate"].windows if w.name != "weight"}
    assert len(slots) == 8
    turned = {name: slot.turned(22 if "right" in name else -22) for name, slot in slots.items()}
    across = {name: o.box[2] - o.box[0] for name, o in turned.items()}
    along = {name: o.box[3] - o.box[1] for name, o in turned.items()}
    assert list(across.values()) == pytest.approx([7.15] * 8)
    assert [round(a, 6) for a in along.values()] == [28.2, 28.2, 16.6, 16.6] * 2
    (inner, _), (outer, _) = (turned[f"ears-{e}-long"].centroid for e in ("inner", "outer"))
    assert abs(inner - outer) == pytest.approx(gap + 6)


def test_through_bolt():
    """M14 through washer 2.5, plates 6 + 52 + 6, joint 47, ear 6, washer; sleeve 52 - 1/4 in the rail.

    ISO 4014 thread 40 over 125 mm: 160 has 120 plain, the ear ends at 119.5; ISO 273 fine: 15.
    """
    name = "hill-trial-buggy-through-bolt"
    job, result = plates(name), made_demo(name)
    holes = [
        next(h for h in job[f"rail-plates/{side}/left"].holes if h.name == "upper")
        for side in ("inner", "outer")
    ]
    assert {(h.x, h.y, h.diameter) for h in holes} == {(352, 41, 15)}
    assert 0 < 41 - -28 * (352 - 260) / 160 < 100  # inside the rail's depth
    items = {(i.item, i.mount): (i.count, i.size) for i in result.items}
    assert items["bolt", "upper-mount"] == (2, "M14 x 160 mm")
    assert items["crush sleeve", "upper-mount"] == (2, "51.75 mm long, outside 26, bore 15 mm")
    assert items["bolt", "rail-plates"] == (2, "M16 x 110 mm")
    assert size(job["floor/gusset/left"]) == pytest.approx((47 + 25.4 / 32, 110))
    assert not [f for f in result.findings if f.status in ("warn", "fail")]


def test_lower_axle():
    """Tube 76.1 + 2 x 1/64 in: R 38.447; skewed 8 degrees the edge is 38.825 wide at half.

    Square to the plates the bolt crosses the tube (57 + 1/32 in + 6) / 2 x tan 8 behind the middle.
    """
    mount = plates("hill-trial-buggy-lower-axle")["lower-mount/inner/left"]
    up = 76.1 / 2 + 25.4 / 64
    across = up / cos(radians(8))
    aside = (57 + 25.4 / 32 + 6) / 2 * tan(radians(8))
    for x, y in ((0, -up), (across * cos(radians(-40)), -up * 0.6427876097)):
        assert mount.outline.distance((x - aside, y)) < 0.05
    assert mount.outline.distance((18, -128)) == pytest.approx(28)
    assert size(plates("hill-trial-buggy-lower-axle")["boxing/bridge/left"])[0] == pytest.approx(70)


def test_crossmember():
    """Length between rails less two flanges; the faces' holes; four bolts each side."""
    job = plates("hill-trial-buggy-crossmember")
    face = job["face/face/left"]
    assert size(face) == pytest.approx((640 - 16, 96))
    assert (face.count, job["end/flange"].count, job["top/plate"].count) == (2, 2, 1)
    assert [h.diameter for h in job["end/flange"].holes] == [13.5] * 4
    assert sum(p.count for label, p in job.items() if label.startswith("link-ears")) == 8
    (box,) = assemblies(made_demo("hill-trial-buggy-crossmember").build)
    low, high = (tuple(f(c) for c in zip(*(p for s in box.solids if "dummy" not in s.name
                 and "ears" not in s.name for p in s.box), strict=True)) for f in (min, max))  # fmt: skip
    assert [h - w for h, w in zip(high, low, strict=True)] == pytest.approx([190, 640, 150])
    rounds = [w.outline for w in face.windows if w.outline.circle_of]
    assert rounds[0].area == pytest.approx(pi * 32**2)
    assert (
        sum(i.count for i in made_demo("hill-trial-buggy-crossmember").items if i.item == "bolt")
        == 4
    )


def test_skid():
    """Outside 90 / 380 / 130, bends 30 and 40 degrees, R 12, T 5, K .5: setbacks and allowances."""
    skid = plates("hill-trial-buggy-skid")["skid/skid/left"]
    backs = tan(radians(15)) * 17 + tan(radians(20)) * 17
    bends = radians(70) * (12 + 2.5)
    assert skid.outline.box[2] == pytest.approx(600 - 2 * backs + bends)
    assert len(skid.holes) == 6
    first = 90 - tan(radians(15)) * 17 + radians(30) * 14.5 / 2
    assert skid.marks[0].path[0][0] == pytest.approx(first)


def test_coil_over():
    """Eye 38 + 1/32 in; three holes 48 apart (3 x 16) at 14 degrees; the notch's plates."""
    job = plates("hill-trial-buggy-coil-over")
    assert size(job["tower/back"])[0] == pytest.approx(40)  # the rail's width
    first, _, third = job["lower-mount/inner/left"].holes
    assert third.y - first.y == pytest.approx(2 * 48 * cos(radians(14)))
    assert job["notch-side/plate"].count == 4
    assert len(job["notch-roof/skid"].marks) == 2


def test_carrier():
    """Bores of 1-1/4 in, pins 3 in from the hinge along x, and the mended bracket's true area."""
    job = plates("fold-down-carrier")
    hinge = job["hinge-ear/ear/left"]
    x, _, bore = hinge.windows[0].outline.circle_of
    assert bore == pytest.approx(1.25 * 25.4)
    assert hinge.holes[0].x - x == pytest.approx(3 * 25.4)
    bracket = job["lamp-bracket/drawn/left"]
    assert bracket.area / 25.4**2 == pytest.approx(LAMP_AREA, abs=0.01)
    assert len(bracket.outline.segments) == 4
    assert [h.bolt.size for h in bracket.holes] == ["1/2-13"]
    assert any("36 facets are one arc" in note for note in bracket.notes)
