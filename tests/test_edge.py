"""Measured edges: stations inline and from CSV, bends, traced drawings, and their mistakes."""

import re
from math import atan2, cos, hypot, radians, sin

import ezdxf
import pytest

from partgen.errors import PartgenError
from partgen.job.build import build
from partgen.job.job import load_job

JOB = """
[job]
name = "t"
units = "{unit}"
[rail.r]
width = {width}
depth = {depth}
corner_radius = 0
{edge}
[joint.j]
width = {joint}
body_diameter = 20
bolt = "M16"
[[part]]
name = "p"
family = "spacer"
shape = "round"
diameter = "40 mm"
plate = "6 mm S355"
[[sheet]]
plate = "6 mm S355"
size = ["1 m", "1 m"]
"""


def rail(tmp_path, edge, unit="mm"):
    sizes = (
        {"width": 50, "depth": 100, "joint": 57}
        if unit == "mm"
        else {"width": 2, "depth": 4, "joint": 3}
    )
    job = tmp_path / "job.toml"
    job.write_text(JOB.format(edge=edge, unit=unit, **sizes))
    return load_job(job).shop.rail("r")


def test_stations_with_bend_radii(tmp_path):
    found = rail(tmp_path, "lower_edge = [[0, 0], [300, 0, 120], [500, 40, 80], [700, 40]]").lower
    assert [s.radius for s in found.segments] == pytest.approx([0, 120, 0, 80, 0])
    assert found.marks == (1, 2, 2, 3, 3)
    assert found.height(700) == 40


@pytest.mark.parametrize(
    "text",
    [
        "x,y\n0,0\n300,0,120\n\n# a remark; and more\n500,40,80\n700,40\n",
        "0;0\n300;0;120\n500;40;80\n700;40\n",
        "x mm\ty mm\tradius\n0\t0\n300 mm\t0\t120\n50 cm\t40\t80\n700\t40\n",
        '\ufeff0,0\n300,0,"120 mm"\n500,40,80,\n700,40,,\n',
    ],
)
def test_csv_is_the_same_as_inline(tmp_path, text):
    (tmp_path / "measured").mkdir()
    (tmp_path / "measured" / "rail.csv").write_text(text, encoding="utf-8")
    inline = rail(tmp_path, "lower_edge = [[0, 0], [300, 0, 120], [500, 40, 80], [700, 40]]")
    from_file = rail(tmp_path, 'lower_edge = { file = "measured/rail.csv" }')
    assert from_file.lower == inline.lower


def test_csv_reads_fractions_in_the_jobs_unit(tmp_path):
    (tmp_path / "rail.csv").write_text("0,0\n12 3/8,1/16\n30,-1-1/2\n")
    found = rail(tmp_path, 'lower_edge = { file = "rail.csv" }', "in").lower
    assert found.segments[0].end == pytest.approx((12.375 * 25.4, 25.4 / 16))
    assert found.end == pytest.approx((762, -38.1))


def test_smooth_edge_meets_its_tolerance(tmp_path):
    heights = [0, 0.3, -0.2, 2, 9, 20, 34, 47, 61, 75]
    stations = [[80 * k, y] for k, y in enumerate(heights)]
    found = rail(
        tmp_path, f'lower_edge = {{ stations = {stations}, through = "smooth", tolerance = 0.4 }}'
    ).lower
    assert max(found.distance(tuple(p)) for p in stations) <= 0.4
    assert len(found.segments) <= 6


def drawing(tmp_path, points, bulges=(), **turned):
    """A polyline of the true edge, drawn small, turned and shifted."""
    file = ezdxf.new("R2000")
    bulges = [*bulges, *[0] * (len(points) - len(bulges))]
    drawn = [(*placed(p, **turned), b) for p, b in zip(points, bulges, strict=True)]
    file.modelspace().add_lwpolyline(drawn, format="xyb")
    file.saveas(tmp_path / "trace.dxf")


def placed(p, scale=0.37, turn=25, shift=(310, -44)):
    c, s = cos(radians(turn)), sin(radians(turn))
    return (shift[0] + scale * (c * p[0] - s * p[1]), shift[1] + scale * (s * p[0] + c * p[1]))


EDGE = [(0, 0), (260, 0), (420, -28), (700, -60)]


@pytest.mark.parametrize("backwards", [False, True])
def test_traced_edge_comes_to_size_by_two_points(tmp_path, backwards):
    drawing(tmp_path, EDGE[::-1] if backwards else EDGE, [] if backwards else [0, -0.04])
    (ax, ay), (bx, by) = placed((0, 0)), placed((420, -28))
    found = rail(
        tmp_path,
        f'lower_edge = {{ dxf = "trace.dxf", known = [[[{ax}, {ay}], [0, 0]], [[{bx}, {by}], [420, -28]]] }}',
    ).lower
    assert [s.end for s in found.segments] == [pytest.approx(p, abs=1e-9) for p in EDGE[1:]]
    if not backwards:
        assert found.segments[1].bulge == -0.04
        assert found.height(340) == pytest.approx(
            -14 + 0.02 * hypot(160, 28) / cos(atan2(28, 160)), abs=0.1
        )


def test_traced_pieces_are_joined(tmp_path):
    file = ezdxf.new("R2000")
    file.modelspace().add_line((420, -28), (700, -60))
    file.modelspace().add_line((260, 0), (0, 0))
    file.modelspace().add_line((260, 0), (420, -28))
    file.saveas(tmp_path / "trace.dxf")
    known = "known = [[[0, 0], [0, 0]], [[700, -60], [700, -60]]]"
    found = rail(tmp_path, f'lower_edge = {{ dxf = "trace.dxf", {known} }}').lower
    assert [found.start, *(s.end for s in found.segments)] == EDGE


def test_upper_edge_measured_too(tmp_path):
    found = rail(tmp_path, "lower_edge = [[0, 0], [700, 0]]\nupper_edge = [[0, 100], [700, 90]]")
    assert found.upper.height(350) == 95
    assert found.below(13, 87, 100, 200).start == pytest.approx((100, 98.5714 - 13.0013), abs=1e-3)
    assert rail(tmp_path, "").upper.height(5) == 100


KNOWN = "known = [[[0, 0], [0, 0]], [[1, 0], [5, 0]]]"


@pytest.mark.parametrize(
    ("edge", "words"),
    [
        ("lower_edge = []", "give one of 'stations', 'file' or 'dxf'"),
        ("lower_edge = [[0, 0]]", "one station is no edge"),
        ("lower_edge = [[0, 0], [9, 1], [9, 4]]", "station 3 (x = 9 mm) must lie at least 1 mm beyond"),
        ("lower_edge = [[0, 0], [9, 0, 80], [19, 9]]", "too near for bends of radius 0 and 80 mm"),
        ("lower_edge = [[0, 0], [100, 0], [102, 900]]", "stands upright after station 2"),
        ('lower_edge = { file = "none.csv" }', "none.csv': cannot be read: No such file"),
        ('lower_edge = { file = "../r.csv" }', "name a file in the job's own folder"),
        ('lower_edge = { file = "/etc/passwd" }', "name a file in the job's own folder"),
        ('lower_edge = { file = "C:\\\\r.csv" }', "name a file in the job's own folder"),
        ('lower_edge = { file = "link.csv" }', "leads out of the job's folder"),
        ('lower_edge = { file = "bad.csv" }', "line 3 has 1 values; write x, y or x, y, radius"),
        ('lower_edge = { file = "worse.csv" }', "line 2: 'abc' is no length"),
        ('lower_edge = { file = "bad.csv", stations = [[0, 0], [9, 9]] }', "line 3 has 1 values"),
        ('lower_edge = { stations = [[0, 0], [9, 9]], known = [[[0, 0], [0, 0]], [[1, 0], [5, 0]]] }', "'dxf' needs 'known'"),
        ('lower_edge = { dxf = "trace.dxf" }', "'dxf' needs 'known'"),
        (f'lower_edge = {{ dxf = "bad.csv", {KNOWN} }}', "bad.csv"),
        (f'lower_edge = {{ dxf = "closed.dxf", {KNOWN} }}', "is closed; keep only the edge"),
        (f'lower_edge = {{ dxf = "two.dxf", {KNOWN} }}', "does not join the others"),
        ('lower_edge = { dxf = "trace.dxf", known = [[[0, 0], [0, 0]], [[0, 0], [5, 0]]] }', "must be apart"),
        ('lower_edge = { stations = [[0, 0], [50, 0, 9], [90, 9]], through = "smooth" }', "takes no bend radii"),
        ('lower_edge = { stations = [[0, 0], [50, 0], [90, 9]], trough = "smooth" }', "unknown key; did you mean 'through'?"),
        ('mirror_from = "q"', "no such other rail"),
    ],
)  # fmt: skip
def test_mistakes_are_named_with_their_place(tmp_path, edge, words):
    folder = tmp_path / "job"
    folder.mkdir()
    (tmp_path / "r.csv").write_text("0,0\n9,9\n")
    (folder / "link.csv").symlink_to(tmp_path / "r.csv")
    (folder / "bad.csv").write_text("0,0\n9,9\n12\n")
    (folder / "worse.csv").write_text("0,0\n9,abc\n")
    drawing(folder, EDGE)
    for name, shapes in {"closed": [EDGE], "two": [[(0, 0), (5, 0)], [(7, 0), (9, 0)]]}.items():
        file = ezdxf.new("R2000")
        for points in shapes:
            file.modelspace().add_lwpolyline(points, close=name == "closed")
        file.saveas(folder / f"{name}.dxf")
    with pytest.raises(PartgenError) as error:
        rail(folder, edge)
    assert len(error.value.problems) == 1
    assert words in error.value.problems[0]
    assert re.match(r"job\.toml: rail\.r\.", error.value.problems[0])


def test_inches_read_in_inches(tmp_path):
    with pytest.raises(PartgenError) as error:
        rail(tmp_path, "lower_edge = [[0, 0], [3, 0], [3, 4]]", "in")
    assert "station 3 (x = 3 in) must lie" in str(error.value)


def test_a_job_with_a_measured_rail_builds(tmp_path):
    rail(tmp_path, "lower_edge = [[0, 0], [300, 0, 120], [700, 40]]")
    assert build(load_job(tmp_path / "job.toml")).plates
