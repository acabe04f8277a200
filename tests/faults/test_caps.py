"""The caps that keep a run in bounds, at their limit and one beyond: quick, each can be broken alone."""

import pytest

from partgen.errors import PartgenError
from partgen.geometry.belt import rectangle
from partgen.geometry.outline import Outline
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
