"""Faults planted in what writes cut files, one at a time: none gets out, nothing is written.

A plan that is wrong is wrong in every file made of it, so that each is held against the finished
plates too: the torch's middle runs half a kerf off their edges, in scrap.
"""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from partgen.cut import loop
from partgen.cut.loop import placed
from partgen.dxf.read import INSIDE, LEAD, ONE_LAYER, OUTSIDE, REFERENCE
from partgen.geometry.belt import rectangle
from partgen.geometry.outline import Outline, Vertex
from partgen.geometry.segment import Segment
from partgen.layout import Sheet
from partgen.output.metal_proof import Room, gap_faults, torch_faults
from partgen.sheets import cut_files, cut_plans, offcut_files
from partgen.tasks import couponing, making, nesting
from partgen.tasks.making import Asked

BUGGY = Path(__file__).parents[2] / "demo_parts" / "hill-trial-buggy.toml"
KERF, LEADS, MOTION = Asked(kerf="profile"), Asked(leads=True), Asked(motion="plain")
torch = loop.torch_path


def written(asked, folder):
    making.write(making.make(BUGGY, {}, ("outrigger-gusset",), "R2000", asked=asked), folder)


def items(change):
    """Change the entities that every DXF is written from."""
    real = cut_files.write_items

    def plant(monkeypatch):
        monkeypatch.setattr(
            cut_files, "write_items", lambda drawn, *a, **k: real(change(list(drawn)), *a, **k)
        )

    return plant


def text(pattern, other):
    """Change the text of every DXF."""
    real = cut_files.write_items

    def plant(monkeypatch):
        monkeypatch.setattr(
            cut_files,
            "write_items",
            lambda *a, **k: re.sub(pattern, other, real(*a, **k), count=1),
        )

    return plant


def first(drawn, layer, change):
    """The entities with the first on a layer changed."""
    k = next(k for k, item in enumerate(drawn) if item.layer == layer)
    return [*drawn[:k], *change(drawn[k]), *drawn[k + 1 :]]


def moved(item):
    """An entity 0.2 mm off; a lead too."""
    if isinstance(item.shape, Outline):
        return [replace(item, shape=item.shape.moved(0.2, 0.0))]
    shape = (Segment(s.x0 + 0.2, s.y0, s.x1 + 0.2, s.y1, s.bulge) for s in item.shape)
    return [replace(item, shape=tuple(shape))]


def on(layer):
    return lambda item: [replace(item, layer=layer)]


def outside_first(drawn):
    return sorted(drawn, key=lambda item: item.layer != OUTSIDE)


def other_way(drawn):
    return [replace(item, clockwise=not item.clockwise) for item in drawn]


def twice(drawn):
    """An edge on a layer that no operation has, beside the edge itself."""
    edge = next(item for item in drawn if item.layer == OUTSIDE)
    return [*drawn, replace(edge, layer="SPARE", shape=edge.shape.moved(0.2, 0.0))]


def paths(part, *, other_side=False):
    """Set paths off by another part of the kerf, or to the other side of the edge."""

    def torch_path(outline, kerf, *, inside, name):
        return torch(outline, kerf * part, inside=inside != other_side, name=name)

    return lambda monkeypatch: monkeypatch.setattr(loop, "torch_path", torch_path)


def plan_moved(monkeypatch):
    """Move what a motion program cuts, and only that."""
    real = cut_plans.plan

    def plan(plates, process, way, sheet=()):
        there = [placed(p, -1.0, 0.0, 0.0) for p in plates] if way.clockwise else plates
        return real(there, process, way, sheet)

    monkeypatch.setattr(cut_plans, "plan", plan)


def program(change):
    """Change a motion program after its dry run."""
    real = cut_files.motion_program

    def plant(monkeypatch):
        monkeypatch.setattr(cut_files, "motion_program", lambda *a: change(real(*a)))

    return plant


def laid(x, y):
    """Move the first plate once the layout was accepted: its box to a place beside the second's."""
    real = making.nest_job

    def plant(monkeypatch):
        def nest_job(*a):
            (found,) = real(*a)
            one, other, *rest = found.layout.placements
            (_, first), (_, second), *_ = found.placed(one.sheet, one.number)
            dx, dy = (second[-1].box[k] - first[-1].box[k] for k in (0, 1))
            there = replace(one, x=one.x + dx + x, y=one.y + dy + y)
            layout = replace(found.layout, placements=(there, other, *rest))
            return [replace(found, layout=layout)]

        monkeypatch.setattr(making, "nest_job", nest_job)

    return plant


NOMINAL = rb"nominal size, kerf not compensated"
STATED = rb"kerf compensated in this file: [^\n]*"
PLANTS = {
    "hole moved": (Asked(), items(lambda d: first(d, INSIDE, moved)), "opening 1 is missing"),
    "hole gone": (Asked(), items(lambda d: first(d, INSIDE, lambda _: [])), "opening 1 is missing"),
    "layer": (Asked(), items(lambda d: first(d, INSIDE, on(ONE_LAYER))), "belongs to no cut"),
    "no layer of ours": (Asked(), items(twice), "belongs to no cut"),
    "outside edges first": (Asked(), items(outside_first), "which is round it"),
    "other way round": (Asked(), items(other_way), "not as it should be"),
    "sheet elsewhere": (Asked(), items(lambda d: d if d[0].layer != REFERENCE else
                                       first(d, REFERENCE, moved)), "sheet's edge is missing"),
    "no lead": (LEADS, items(lambda d: first(d, LEAD, lambda _: [])), "leads, not"),
    "lead moved": (LEADS, items(lambda d: first(d, LEAD, moved)), "leads are not where"),
    "unit": (Asked(), text(rb"unit: mm", b"unit: in"), "states a unit"),
    "called nominal": (KERF, text(STATED, NOMINAL), "its head says a kerf of 0 mm"),
    "called compensated": (Asked(), text(NOMINAL, b"kerf compensated in this file: 1.7 mm"),
                           "its head says a kerf of 1.7 mm"),
    "kerf on the other side": (KERF, paths(1, other_side=True), "burns into a plate"),
    "half the kerf": (KERF, paths(0.5), "burns into a plate"),
    "twice the kerf": (KERF, paths(2), "not along an edge"),
    "motion, other side": (MOTION, paths(1, other_side=True), "ngc: the torch burns into a plate"),
    "motion, twice the kerf": (MOTION, paths(2), "ngc: a cut is not along an edge"),
    "motion elsewhere": (MOTION, plan_moved, "ngc: the torch burns into a plate"),
    "motion cut short": (MOTION, program(lambda c: c[: len(c) // 2]), "ngc: contour at"),
    "one plate on another": (Asked(), laid(3.0, 3.0), "burns into a plate"),
    "two plates that touch": (Asked(one_layer=True), laid(20.0, 0.0), "too near each other"),
    "off the sheet": (Asked(one_layer=True), laid(9000.0, 0.0), "sheet's edge, or off it"),
}  # fmt: skip


@pytest.mark.parametrize("name", PLANTS)
def test_a_fault_in_what_writes_is_found_and_nothing_written(name, tmp_path, monkeypatch):
    asked, plant, says = PLANTS[name]
    plant(monkeypatch)
    with pytest.raises(RuntimeError, match=says):
        written(asked, tmp_path / "out")
    assert list((tmp_path / "out").iterdir()) == []


def test_without_a_plant_all_of_them_are_written(tmp_path):
    for k, asked in enumerate((Asked(one_layer=True), LEADS, KERF, MOTION)):
        written(asked, tmp_path / str(k))


def test_sheets_of_nest_and_coupons_are_held_to_the_same(tmp_path, monkeypatch):
    request = nesting.Request(
        (BUGGY,), ("1250x2500",), 2, {}, None, None, None, None, "R2000", None
    )
    with monkeypatch.context() as m:
        paths(1, other_side=True)(m)
        with pytest.raises(RuntimeError, match="ngc: the torch burns into a plate"):
            nesting.write(nesting.nest_files(request, asked=MOTION), tmp_path / "nest")
    coupon = couponing.coupon("6 mm S355", "plasma-65a", "in", "R12")
    couponing.write(coupon, tmp_path / "right")
    name = next(n for n in coupon.files if n.endswith(".dxf"))
    coupon.files[name] = coupon.files[name].replace(b"INSIDE_CUT", b"OUTSIDE_CUT")
    with pytest.raises(RuntimeError, match=r"square-30: outside edge|opening 1 is missing"):
        couponing.write(coupon, tmp_path / "wrong")
    assert list((tmp_path / "nest").iterdir()) == list((tmp_path / "wrong").iterdir()) == []


def test_the_torch_against_a_plate_by_hand():
    """A plate 40 mm square with a hole of 20 mm in its middle, a kerf of 2 mm."""
    plate, hole = rectangle(40, 40), Outline.circle(0, 0, 20)
    plates = [("p", (hole, plate))]
    round_it = Outline.of(
        [v for x, y in ((20, -20), (20, 20), (-20, 20), (-20, -20)) for v in corner(x, y)]
    )
    inside, lead = Outline.circle(0, 0, 18).segments, Segment(0, 0, 9, 0)
    assert torch_faults("f", [inside, round_it.segments], [[lead]], plates, 2) == []
    (cut,) = torch_faults("f", [inside, round_it.segments], [[Segment(15, 0, 9, 0)]], plates, 2)
    assert cut == "f: the torch burns into a plate at (15.000, 0.000) mm"
    (uncut,) = torch_faults("f", [inside], [], plates, 2)
    assert uncut.startswith("f: an edge is not cut at (")
    wide = Outline.circle(0, 0, 17.9).segments
    (off,) = torch_faults("f", [wide, round_it.segments], [], plates, 2)
    assert off.startswith("f: a cut is not along an edge")
    assert (
        torch_faults("f", [hole.segments, plate.segments], [[Segment(0, 0, 10, 0)]], plates, 0)
        == []
    )
    (cut,) = torch_faults(
        "f", [hole.segments, plate.segments], [[Segment(15, 0, 10, 0)]], plates, 0
    )
    assert "burns into a plate" in cut


def corner(x, y):
    """The torch's way round a corner of the square, a quarter turn of radius 1 mm."""
    ends = [(x + x / 20, y), (x, y + y / 20)]
    (x0, y0), (x1, y1) = ends if x * y > 0 else ends[::-1]
    return [Vertex(x0, y0, 2**0.5 - 1), Vertex(x1, y1, 0.0)]


def test_a_plate_off_the_sheet_or_in_an_opening_of_it_is_found():
    sheet = Sheet(
        "s", rectangle(100, 100, 0, (50, 50)), 1, openings=(rectangle(40, 40, 0, (50, 50)),)
    )
    for at, faults in (((15, 15), 0), ((150, 15), 1), ((50, 50), 1)):
        found = gap_faults("f", [rectangle(10, 10, 0, at)], sheet, Room(5, 5))
        assert len(found) == faults, at
    for out, faults in ((0.8, 0), (0.9, 1)):
        path = rectangle(10, 10, 0, (5 - out, 50))
        assert len(gap_faults("f", [path], sheet, Room(5, 0).between_paths(1.7))) == faults, out


@pytest.mark.parametrize("change", ["half a file", "moved"])
def test_what_is_left_of_a_sheet_is_read_back(change, tmp_path, monkeypatch):
    """A file for the next job: its plates would be laid out where there is no metal."""
    real = offcut_files.write

    def other(drawing, **options):
        if change == "moved":
            drawing = replace(drawing, outside=tuple(o.moved(0.2, 0) for o in drawing.outside))
        content = real(drawing, **options)
        return content[: len(content) // 2] if change == "half a file" else content

    written(Asked(), tmp_path / "good")
    assert list((tmp_path / "good" / "offcuts").glob("*.dxf"))
    monkeypatch.setattr(offcut_files, "write", other)
    with pytest.raises(RuntimeError, match="offcut-"):
        written(Asked(), tmp_path / "out")
    assert not list((tmp_path / "out").glob("*"))
