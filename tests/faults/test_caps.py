"""The caps that keep a run in bounds, at their limit and one beyond: quick, each can be broken alone."""

import pytest

from partgen.errors import PartgenError
from partgen.packet import png
from partgen.sheets.nest import MOST_PIECES, MOST_SHAPES, refuse_too_many


def test_plates_and_shapes():
    """README: "one run lays out at most 2000 plates of 300 shapes"; each is a cap of its own."""
    refuse_too_many(2000, 300)
    for pieces, shapes in ((2001, 1), (300, 301), (2001, 301)):
        with pytest.raises(PartgenError, match=f"{pieces} plates of {shapes} shapes"):
            refuse_too_many(pieces, shapes)
    assert (MOST_PIECES, MOST_SHAPES) == (2000, 300)


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
