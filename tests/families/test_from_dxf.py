"""From DXF: the file's place, its pieces, its bolts; mended drawings say so."""

import io

import ezdxf
import pytest
from helpers import shop
from pydantic import ValidationError

from partgen.errors import GeometryError
from partgen.families.from_dxf import FromDxf
from partgen.fields import Reading
from partgen.rules import note


@pytest.fixture
def folder(tmp_path):
    """A strap with two holes and a gap in its edge, and a disc beside it."""
    document = ezdxf.new("R2000")
    document.header["$INSUNITS"] = 4
    space = document.modelspace()
    for a, b in [((0, 0), (120, 0)), ((120, 0), (120, 40)), ((120, 40), (0, 40)),
                 ((0, 40), (0, 0.05))]:  # fmt: skip
        space.add_line(a, b)
    space.add_circle((20, 20), 8.75)
    space.add_circle((95, 22), 6)
    space.add_circle((200, 20), 25)
    stream = io.StringIO()
    document.write(stream)
    (tmp_path / "drawn").mkdir()
    (tmp_path / "drawn" / "strap.dxf").write_text(stream.getvalue(), encoding="ascii")
    (tmp_path.parent / "outside.dxf").write_text(stream.getvalue(), encoding="ascii")
    return tmp_path


def part(folder, **changes):
    data = {"name": "s", "family": "from-dxf", "plate": "6 mm S355",
            "file": "drawn/strap.dxf"} | changes  # fmt: skip
    return FromDxf.model_validate(data, context=Reading("mm", folder=folder))


def test_every_outside_edge_is_a_plate(folder):
    strap, disc = part(folder).plates(shop())
    assert (strap.name, disc.name) == ("drawn-1", "drawn-2")
    assert len(strap.windows) == 2
    assert disc.outline.circle_of == pytest.approx((200, 20, 50))


def test_one_piece_and_its_bolts(folder):
    (strap,) = part(folder, piece=1, bolts=[{"at": [20, 20], "bolt": "M16"}]).plates(shop())
    assert [(h.x, h.y, h.diameter) for h in strap.holes] == [pytest.approx((20, 20, 17.5))]
    assert len(strap.windows) == 1


def test_what_was_mended_is_a_warning(folder):
    (strap,) = part(folder, piece=1).plates(shop())
    (finding,) = note.check(strap, shop())
    assert finding.status == "warn"
    assert "1 gap closed, the widest 0.050 mm" in finding.note


def test_heal_zero_takes_no_mending(folder):
    with pytest.raises(GeometryError, match="open end"):
        part(folder, heal=0).plates(shop())


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"piece": 3}, "piece = 3: drawn/strap.dxf has 2"),
        ({"bolts": [{"at": [50, 20], "bolt": "M10"}]}, r"no round opening at \(50, 20\) mm"),
        ({"bolts": [{"at": [95, 22], "bolt": "M16"}]}, "too small for M16"),
        ({"unit": "in"}, "states a unit"),
    ],
)
def test_what_cannot_be_done_says_why(folder, changes, words):
    with pytest.raises(GeometryError, match=words):
        part(folder, **changes).plates(shop())


@pytest.mark.parametrize(
    "file",
    ["../outside.dxf", "/etc/hostname", "drawn/../../outside.dxf", "C:strap.dxf", "none.dxf", ""],
)
def test_files_outside_the_jobs_folder_are_refused(folder, file):
    with pytest.raises(ValidationError, match=r"job's own folder|cannot be read"):
        part(folder, file=file)


def test_a_link_out_of_the_folder_is_refused(folder):
    (folder / "link.dxf").symlink_to(folder.parent / "outside.dxf")
    with pytest.raises(ValidationError, match="leads out of the job's folder"):
        part(folder, file="link.dxf")


def test_thickness_of_the_drawing_is_compared(folder):
    (strap,) = part(folder, piece=1, drawn_thickness=8).plates(shop())
    assert strap.notes[-1] == "drawn for plate of 8 mm"
