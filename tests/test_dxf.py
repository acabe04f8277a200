"""DXF: written files against two independent readers, foreign files against hand sums.

The readers are ezdxf (entities, header, its auditor) and GDAL through pyogrio (geometry only).
GDAL flattens arcs: at steps of 0.1 degree an area is low by the factor 1 - (0.1 deg in rad)^2 / 6,
5e-7, so areas must agree to 1e-6. Group codes and $INSUNITS values: DXF reference, header section.
"""

from __future__ import annotations

import io
import os
import re
import subprocess
import sys
from math import cos, sin

import ezdxf
import pyogrio
import pytest
import shapely

from partgen.dxf.write import Drawing, DxfError, read, read_pieces, write
from partgen.geometry.belt import Pin, belt
from partgen.geometry.outline import Outline, Vertex

SHELL = belt([Pin(0, 0), Pin(120, 0, 0, 8), Pin(60, 70, 22), Pin(10, 50, -9), Pin(-15, 40)])
HOLE = Outline.circle(60, 70, 16.5)
SLOT = Outline.slot(50, 20, 30, 11, 17)
DISC = Outline.circle(300, 10, 40)
MAJOR = Outline((Vertex(210, 30, 2.2), Vertex(203, 31.5)))  # an arc of 262 degrees and its chord
MARK = Outline.circle(-40, -50, 25.4)
DRAWING = Drawing((SHELL, DISC), (HOLE, SLOT, MAJOR), (MARK,), ("job: buggy", "6 mm S355"))
MINE = Drawing((*DRAWING.outside, MAJOR), (HOLE, SLOT), (), DRAWING.comments)  # by containment
FILES = [(unit, version) for unit in ("mm", "in") for version in ("R2000", "R12")]
PER = {"mm": 1.0, "in": 25.4}


def by_ezdxf(data):
    return ezdxf.read(io.StringIO(data.decode("ascii")))


def by_gdal(data, tmp_path):
    """Return (layer, shapely polygon) of every entity, in file order."""
    path = tmp_path / "plate.dxf"
    path.write_bytes(data)
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": "0.1", "OGR_ARC_MAX_GAP": "0"})
    try:
        _, _, shapes, fields = pyogrio.raw.read(path, columns=["Layer"])
    finally:
        pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": None, "OGR_ARC_MAX_GAP": None})
    lines = [
        shapely.get_exterior_ring(g) if g.geom_type == "Polygon" else g
        for g in shapely.from_wkb(shapes)
    ]
    assert all(line.is_closed for line in lines)
    return list(zip(fields[0], map(shapely.Polygon, lines), strict=True))


def tags(data):
    """Return the (code, text) pairs of a file, read in the plainest way there is."""
    lines = data.decode("ascii").split("\n")
    assert lines.pop() == ""
    return list(zip(map(int, lines[::2]), lines[1::2], strict=True))


@pytest.mark.parametrize(("unit", "version"), FILES)
def test_the_auditor_finds_nothing(unit, version):
    audit = by_ezdxf(write(DRAWING, unit=unit, version=version)).audit()
    assert (audit.errors, audit.fixes) == ([], [])


@pytest.mark.parametrize(("unit", "version"), FILES)
def test_gdal_reads_the_exact_areas_lengths_and_places(unit, version, tmp_path):
    found = by_gdal(write(DRAWING, unit=unit, version=version), tmp_path)
    expected = [("REFERENCE", MARK), *(("INSIDE_CUT", o) for o in DRAWING.inside)]
    expected += [("OUTSIDE_CUT", o) for o in DRAWING.outside]
    assert [layer for layer, _ in found] == [layer for layer, _ in expected]
    for (_, shape), (_, outline) in zip(found, expected, strict=True):
        assert shape.area * PER[unit] ** 2 == pytest.approx(outline.area, rel=1e-6)
        assert shape.length * PER[unit] == pytest.approx(outline.length, rel=1e-6)
        bounds = [v * PER[unit] for v in shape.bounds]
        assert bounds == pytest.approx(outline.box, abs=2e-5)
        assert shape.is_valid


@pytest.mark.parametrize(("unit", "version"), FILES)
def test_entities_are_closed_polylines_and_circles_openings_first(unit, version):
    document = by_ezdxf(write(DRAWING, unit=unit, version=version))
    polyline = "LWPOLYLINE" if version == "R2000" else "POLYLINE"
    kinds = [(e.dxftype(), e.dxf.layer) for e in document.modelspace()]
    assert kinds == [
        ("CIRCLE", "REFERENCE"),
        ("CIRCLE", "INSIDE_CUT"),
        (polyline, "INSIDE_CUT"),
        (polyline, "INSIDE_CUT"),
        (polyline, "OUTSIDE_CUT"),
        ("CIRCLE", "OUTSIDE_CUT"),
    ]
    for entity in document.modelspace().query(polyline):
        assert entity.is_closed
        assert not any(entity.dxf.hasattr(name) for name in ("color", "linetype", "const_width"))
    assert len(document.blocks) == 2  # model and paper space only


@pytest.mark.parametrize("version", ["R2000", "R12"])
def test_vertices_and_bulges_are_those_of_the_outline(version):
    document = by_ezdxf(write(DRAWING, unit="mm", version=version))
    shell = document.modelspace()[4]
    if version == "R2000":
        found = list(shell.get_points("xyb"))
    else:
        found = [(*v.dxf.location.vec2, v.dxf.bulge) for v in shell.vertices]
    assert len(found) == len(SHELL.vertices)
    for point, vertex in zip(found, SHELL.vertices, strict=True):
        assert point == pytest.approx((vertex.x, vertex.y, vertex.bulge), abs=1e-9)
    assert any(b < 0 for *_, b in found)


def test_no_arc_turns_more_than_half():
    """GDAL 3.12 draws only 204 of the 262 degrees of such an arc, so it is written in halves."""
    space = by_ezdxf(write(Drawing((MAJOR,), ()), unit="mm")).modelspace()
    bulges = [b for _, _, b in space[0].get_points("xyb")]
    half = sin(MAJOR.segments[0].sweep / 8) / cos(MAJOR.segments[0].sweep / 8)
    assert bulges == pytest.approx([half, half, 0])


@pytest.mark.parametrize(("unit", "code", "metric"), [("mm", 4, 1), ("in", 1, 0)])
def test_units_in_the_header(unit, code, metric):
    header = by_ezdxf(write(DRAWING, unit=unit)).header
    assert (header["$INSUNITS"], header["$MEASUREMENT"], header["$LUNITS"]) == (code, metric, 2)


@pytest.mark.parametrize(("unit", "version"), FILES)
def test_extents_and_version_in_the_header(unit, version):
    header = by_ezdxf(write(DRAWING, unit=unit, version=version)).header
    # by hand: the reference circle reaches -40 - 12.7 and -50 - 12.7, the disc 320, the ear 92
    low, high = (-52.7, -62.7), (320.0, 92.0)
    assert [v * PER[unit] for v in header["$EXTMIN"][:2]] == pytest.approx(low, abs=1e-8)
    assert [v * PER[unit] for v in header["$EXTMAX"][:2]] == pytest.approx(high, abs=1e-8)
    assert header["$ACADVER"] == {"R2000": "AC1015", "R12": "AC1009"}[version]


@pytest.mark.parametrize("version", ["R2000", "R12"])
def test_only_used_layers_exist(version):
    bare = tags(write(Drawing((DISC,), ()), unit="mm", version=version))
    starts = [k for k, tag in enumerate(bare) if tag == (0, "LAYER")]
    names = [next(text for code, text in bare[k:] if code == 2) for k in starts]
    assert names == ["0", "OUTSIDE_CUT"]


@pytest.mark.parametrize(("unit", "version"), FILES)
def test_the_head_states_unit_and_nominal_size(unit, version):
    head = tags(write(DRAWING, unit=unit, version=version))[:5]
    assert head == [
        (999, f"unit: {unit}"),
        (999, "nominal size, kerf not compensated"),
        (999, "job: buggy"),
        (999, "6 mm S355"),
        (0, "SECTION"),
    ]


def test_r12_has_no_newer_group_codes_nor_exponents():
    flat = belt([Pin(0, 0), Pin(90, 1e-5), Pin(40, 30)])
    for version in ("R2000", "R12"):
        found = tags(write(Drawing((flat,), ()), unit="mm", version=version))
        assert not [value for code, value in found if 10 <= code < 60 and "e" in value.lower()]
        assert (version == "R12") == (not [code for code, _ in found if code in (100, 330, 370)])
        assert (10, "90.0") in found
        assert any(code == 20 and float(value) == 1e-5 for code, value in found)


@pytest.mark.parametrize("version", ["R2000", "R12"])
def test_inch_and_mm_are_the_same_geometry(version):
    mm = by_ezdxf(write(DRAWING, unit="mm", version=version)).modelspace()
    inch = by_ezdxf(write(DRAWING, unit="in", version=version)).modelspace()
    for a, b in zip(mm.query("CIRCLE"), inch.query("CIRCLE"), strict=True):
        assert a.dxf.radius == pytest.approx(25.4 * b.dxf.radius, rel=1e-9)
        assert tuple(a.dxf.center) == pytest.approx(tuple(25.4 * b.dxf.center), abs=1e-8)
    assert mm.query("CIRCLE")[0].dxf.radius == 12.7
    assert inch.query("CIRCLE")[0].dxf.radius == 0.5


SCRIPT = """
import sys
from partgen.geometry.belt import Pin, belt
from partgen.dxf.write import Drawing, write
from partgen.geometry.outline import Outline
shell = belt([Pin(0, 0), Pin(120, 0, 0, 8), Pin(60, 70, 22), Pin(10, 50, -9), Pin(-15, 40)])
drawing = Drawing((shell,), (Outline.circle(60, 70, 16.5),), (), ("a", "b"))
for version in ("R2000", "R12"):
    sys.stdout.buffer.write(write(drawing, unit="in", version=version))
"""


def test_same_drawing_same_bytes_in_any_process():
    def run(seed, zone):
        path = os.pathsep.join(p for p in sys.path if p)
        env = {**os.environ, "PYTHONPATH": path, "PYTHONHASHSEED": seed, "TZ": zone}
        return subprocess.run(
            [sys.executable, "-c", SCRIPT], env=env, capture_output=True, check=True
        )

    first = run("1", "UTC").stdout
    assert len(first) > 10_000
    assert run("4242", "Asia/Kolkata").stdout == first
    assert str(ezdxf.__version__).encode() not in first
    assert set(re.findall(rb"\d{4}-\d\d-\d\d", first)) == {b"2000-01-01"}


@pytest.mark.parametrize(
    "comment",
    [
        "x\n0\nEOF",
        "x\r\n  0\r\nSECTION",
        "x\r0\rEOF",
        "x\x0b0\x0bEOF\x0c",
        "x\x850\u20280\u2029",
        "x\x000\x1a",
    ],
)
@pytest.mark.parametrize("version", ["R2000", "R12"])
def test_a_comment_can_never_become_a_group_code(comment, version, tmp_path):
    data = write(
        Drawing((SHELL,), (HOLE,), (), (comment, "", "é 8 ✓ 4")), unit="mm", version=version
    )
    head = tags(data)[:5]
    assert [code for code, _ in head] == [999, 999, 999, 999, 0]
    assert head[2][1].startswith("x ")
    assert head[2][1].isprintable()
    assert head[3][1] == "? 8 ? 4"
    assert len(by_ezdxf(data).modelspace()) == len(by_gdal(data, tmp_path)) == 2


def test_a_long_comment_is_cut():
    head = tags(write(Drawing((DISC,), (), (), ("y" * 5000,)), unit="mm"))
    assert head[2] == (999, "y" * 200)


@pytest.mark.parametrize(
    ("drawing", "says"),
    [
        (Drawing((), (), (MARK,)), "nothing to cut"),
        (Drawing((DISC, DISC.moved(0, 1e-5)), ()), "(300, 10) mm"),
        (Drawing((SHELL,), (HOLE, HOLE)), "cut twice"),
        (Drawing((DISC.moved(float("nan"), 0),), ()), "nan"),
        (Drawing((DISC.moved(2e5, 0),), ()), "100 m"),
    ],
)
def test_what_cannot_be_written(drawing, says):
    with pytest.raises(DxfError) as caught:
        write(drawing, unit="mm")
    assert says in str(caught.value)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(("unit", "version"), FILES)
def test_written_and_read_is_the_same_drawing(unit, version):
    back = read(write(MINE, unit=unit, version=version), where="a.dxf")
    assert back.reference == ()
    assert back.comments == MINE.comments
    assert (len(back.outside), len(back.inside)) == (3, 2)
    for a in (SHELL, DISC):
        assert any(a.is_same(b, 1e-7) for b in back.outside)
    for a in (HOLE, SLOT):
        assert any(a.is_same(b, 1e-7) for b in back.inside)
    major = next(o for o in back.outside if o.box[0] > 200 and o.area < 100)
    assert major.area == pytest.approx(MAJOR.area, abs=1e-6)
    assert major.length == pytest.approx(MAJOR.length, abs=1e-6)
    assert [o.circle_of for o in back.inside if o.circle_of] == [pytest.approx((60, 70, 16.5))]


def test_reading_and_writing_again_gives_the_same_bytes():
    first = write(MINE, unit="mm")
    again = write(read(first, where="a.dxf"), unit="mm")
    assert write(read(again, where="a.dxf"), unit="mm") == again


def test_pieces_have_their_own_openings_and_the_shell_last():
    pieces = read_pieces(write(MINE, unit="mm"), where="a.dxf")
    areas = sorted([round(o.area, 3) for o in piece] for piece in pieces)
    assert areas == sorted(
        [round(o.area, 3) for o in piece] for piece in [(HOLE, SLOT, SHELL), (DISC,), (MAJOR,)]
    )


@pytest.mark.parametrize("version", ["R2000", "R12"])
def test_a_file_cut_short_anywhere_is_refused(version):
    data = write(MINE, unit="mm", version=version)
    for size in range(0, len(data) - 4, 97):
        with pytest.raises(DxfError) as caught:
            read(data[:size], where="x.dxf")
        assert "\n" not in str(caught.value)


def test_line_ends_and_byte_order_mark_do_not_matter():
    data = write(MINE, unit="mm")
    for other in (data.replace(b"\n", b"\r\n"), data.replace(b"\n", b"\r"), b"\xef\xbb\xbf" + data):
        assert read(other, where="x.dxf") == read(data, where="x.dxf")
