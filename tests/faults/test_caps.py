"""The caps that keep a run in bounds, at their limit and one beyond: quick, each can be broken alone."""

from itertools import pairwise

import pytest

from partgen.entries.trace import read_trace
from partgen.errors import PartgenError
from partgen.geometry.belt import rectangle
from partgen.geometry.outline import Outline
from partgen.job import build as building
from partgen.job.build import build
from partgen.job.job import read_job
from partgen.layout.piece import Piece
from partgen.packet import png
from partgen.sheets.nest import MOST_PIECES, MOST_SHAPES, refuse_too_many


def of_counts(counts):
    return [Piece(f"p{k}", (rectangle(40, 30),), count) for k, count in enumerate(counts)]


def test_plates_and_shapes():
    """Job file: "one run lays out at most 2000 plates of 300 shapes"; each is a cap of its own."""
    refuse_too_many(of_counts([1701] + [1] * 299))
    for counts in ([2001], [1] * 301, [1701] + [1] * 300):
        said = f"{sum(counts)} plates of {len(counts)} shapes"
        with pytest.raises(PartgenError, match=said):
            refuse_too_many(of_counts(counts))
    assert (MOST_PIECES, MOST_SHAPES) == (2000, 300)


def test_lines_and_arcs():
    """30,000 at most: five drilled sheets, a rectangle and so many round holes of two arcs each."""
    hole = Outline.circle(0, 0, 5)
    sheets = [Piece(f"s{k}", (rectangle(900, 900), *[hole] * 2998), 40) for k in range(5)]
    refuse_too_many(sheets)
    with pytest.raises(
        PartgenError, match="5 shapes of 30002 lines and arcs to lay out; at most 30000"
    ):
        refuse_too_many([*sheets[:4], Piece("s", (rectangle(900, 900), *[hole] * 2999), 1)])


def drawn(monkeypatch, heights, width):
    """The pictures that would be made, each 100 units wide."""
    monkeypatch.setattr(png, "png", lambda svg, pixels: b"")
    return png.pngs({f"p{k}": f'<svg viewBox="0 0 100 {h}">' for k, h in enumerate(heights)}, width)


def test_pixels_of_one_picture(monkeypatch):
    """40 million at most: 10,000 wide and 4000 high."""
    assert list(drawn(monkeypatch, [40], 10_000)) == ["p0"]
    with pytest.raises(PartgenError, match="p1 would be 4001 pixels high; at most 40 million"):
        drawn(monkeypatch, [40, 40.01], 10_000)


def test_pixels_of_all_pictures(monkeypatch):
    """300 million at most: seven and a half of the largest."""
    assert len(drawn(monkeypatch, [40] * 7 + [20], 10_000)) == 8
    with pytest.raises(PartgenError, match="8 pictures would take 300 million pixels; at most 300"):
        drawn(monkeypatch, [40] * 7 + [20.01], 10_000)


def traced(count):
    lines = [f"0\nLINE\n8\n0\n10\n{k}\n20\n0\n11\n{k + 1}\n21\n0\n" for k in range(count)]
    lines = lines[1::2] + lines[::2]  # not in their order
    return f"0\nSECTION\n2\nENTITIES\n{''.join(lines)}0\nENDSEC\n0\nEOF\n".encode()


def test_lines_and_arcs_of_a_traced_edge():
    """Job file: "at most 2000"; they may be drawn in any order."""
    chain = read_trace(traced(2000))
    assert sorted(s.x0 for s in chain) == list(range(2000))
    assert {b.x0 - a.x0 for a, b in pairwise(chain)} == {1}
    with pytest.raises(PartgenError, match="holds 2001 lines and arcs; at most 2000"):
        read_trace(traced(2001))


def test_ends_of_a_traced_edge_in_one_place():
    """A hundred at most: what is looked for at each end stays little."""
    fan = [f"0\nLINE\n8\n0\n10\n0.5\n20\n0.5\n11\n9\n21\n{k}\n" for k in range(101)]
    text = "0\nSECTION\n2\nENTITIES\n{}0\nENDSEC\n0\nEOF\n"
    with pytest.raises(PartgenError, match="does not join"):
        read_trace(text.format("".join(fan[:100])).encode())
    with pytest.raises(PartgenError, match="101 pieces meet at"):
        read_trace(text.format("".join(fan)).encode())


def test_lines_and_arcs_of_a_job(monkeypatch, tmp_path):
    """Job file: "at most 30,000"; round corners make eight of a rectangle, here two are let through."""
    assert building.MOST_EDGES == 30_000
    monkeypatch.setattr(building, "MOST_EDGES", 16)
    plate = {
        "family": "plate",
        "plate": "6 mm S355",
        "points": [[0, 0], [90, 0], [90, 50], [0, 50]],
    }

    def plates(count):
        parts = [{"name": f"p{k}", "count": 7, **plate} for k in range(count)]
        data = {"job": {"name": "x", "units": "mm"}, "part": parts}
        return build(read_job(data, tmp_path / "j.toml", {})).plates

    assert len(plates(2)) == 2
    with pytest.raises(PartgenError, match='more than 16 lines and arcs, counted up to part "p2"'):
        plates(4)
