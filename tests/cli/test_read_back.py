"""Every DXF of every demo, read by GDAL and by ezdxf's auditor, against the exact plates as cut.

GDAL draws arcs in steps of 0.1 degree here; an area may be off by the slivers beyond those chords.
"""

from math import radians
from pathlib import Path

import ezdxf
import pyogrio
import pytest
import shapely

from partgen.measure import per_unit
from partgen.sheets.cut_files import plate_file, slug
from partgen.tasks.making import make, write

MARKS = ("SCRIBE_MARK", "DRILL_CENTRE", "BEND_LINE")  # open lines, not cut
DEMOS = sorted((Path(__file__).parents[2] / "demo_parts").glob("*.toml"))


@pytest.fixture(scope="module", params=[(d, v) for d in DEMOS for v in ("R2000", "R12")],
                ids=lambda p: f"{p[0].stem}-{p[1]}")  # fmt: skip
def made(request, tmp_path_factory):
    demo, version = request.param
    result = make(demo, {}, (), version)
    folder = tmp_path_factory.mktemp("out")
    write(result, folder)
    return result, folder, version


@pytest.fixture(autouse=True)
def fine_arcs():
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": "0.1", "OGR_ARC_MAX_GAP": "0"})
    yield
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": None, "OGR_ARC_MAX_GAP": None})


def rings(path):
    """Layer and ring of every entity that GDAL finds."""
    _, _, shapes, (layers,) = pyogrio.raw.read(path, columns=["Layer"])
    found = []
    for layer, shape in zip(layers, shapely.from_wkb(shapes), strict=True):
        if layer in MARKS:
            continue
        line = shape.exterior if shape.geom_type == "Polygon" else shape
        assert line.is_closed
        found.append((layer, shapely.Polygon(line)))
    return found


def metal(path):
    return sum(
        ring.area * {"OUTSIDE_CUT": 1, "INSIDE_CUT": -1, "REFERENCE": 0}[layer]
        for layer, ring in rings(path)
    )


def slivers(plate):
    """Area between a plate's arcs and chords of 0.1 degree, with a little to spare [mm2]."""
    step = radians(0.1)
    arcs = [s for o in plate.outlines for s in o.segments]
    return 1e-7 * plate.area + 1.05 * sum(s.radius**2 * abs(s.sweep) * step**2 / 12 for s in arcs)


def test_plates_have_their_exact_area(made):
    result, folder, _ = made
    job, unit = result.build.job, result.build.job.unit
    for plate in result.ready.build.plates:
        path = folder / "plates" / plate_file(plate, slug(job.path.stem), unit)
        assert metal(path) * per_unit(unit) ** 2 == pytest.approx(plate.area, abs=slivers(plate))
        assert len(rings(path)) == len(plate.outlines)
        box = shapely.total_bounds([ring for _, ring in rings(path)])
        x0, y0, x1, y1 = (v / per_unit(unit) for v in plate.outline.box)
        assert box == pytest.approx((0, 0, x1 - x0, y1 - y0), abs=1e-4)


def test_sheets_have_the_area_of_their_plates(made):
    result, folder, _ = made
    unit = result.build.job.unit
    total = sum(metal(path) for path in (folder / "sheets").iterdir())
    wanted = sum(plate.area * plate.count for plate in result.ready.build.plates)
    most = sum(slivers(plate) * plate.count for plate in result.ready.build.plates)
    assert total * per_unit(unit) ** 2 == pytest.approx(wanted, abs=most)


def test_sheets_keep_gap_and_margin_for_another_reader(made):
    result, folder, _ = made
    factor = per_unit(result.build.job.unit)
    process = result.build.shop.cutting
    for path in (folder / "sheets").iterdir():
        shells = [ring for layer, ring in rings(path) if layer == "OUTSIDE_CUT"]
        (edge,) = [ring for layer, ring in rings(path) if layer == "REFERENCE"]
        for k, shell in enumerate(shells):
            assert edge.exterior.distance(shell) * factor >= process.sheet_margin - 1e-3
            for other in shells[k + 1 :]:
                assert shell.exterior.distance(other.exterior) * factor >= process.part_gap - 1e-3


def test_auditor_finds_nothing_and_units_are_set(made):
    result, folder, version = made
    for path in folder.rglob("*.dxf"):
        document = ezdxf.readfile(path)
        auditor = document.audit()
        assert not auditor.errors
        assert not auditor.fixes
        kinds = {"LWPOLYLINE", "CIRCLE"} if version == "R2000" else {"POLYLINE", "CIRCLE"}
        assert {e.dxftype() for e in document.modelspace()} <= kinds
        if version == "R2000":
            assert document.header["$INSUNITS"] == {"mm": 4, "in": 1}[result.build.job.unit]
        assert f"unit: {result.build.job.unit}" in path.read_text()
