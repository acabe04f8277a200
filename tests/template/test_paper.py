"""Paper and the printer's stretch."""

import pytest

from partgen.errors import PartgenError
from partgen.template.paper import paper


def test_sizes():
    """ISO 216: A4 210 x 297 mm, A3 297 x 420 mm; Letter 8-1/2 x 11 in (ANSI/ASME Y14.1, size A)."""
    assert (paper("a4").width, paper("A4").height) == (210, 297)
    assert (paper("a3").width, paper("a3").height) == (297, 420)
    assert (paper("Letter").width, paper("letter").height) == pytest.approx((8.5 * 25.4, 11 * 25.4))


@pytest.mark.parametrize(
    ("measured", "stretch"),
    [
        ("99.1", (0.991, 0.991)),
        ("99.1x99.4", (0.991, 0.994)),
        ("3.9 in", (0.9906, 0.9906)),
        ("", (1, 1)),
    ],
)
def test_measured(measured, stretch):
    assert paper("a4", measured).stretch == pytest.approx(stretch)


@pytest.mark.parametrize(
    "measured", ["4", "0", "-100", "89.9", "110.1", "4 in x 4 in x 4 in", "wide", "nan", "1e2"]
)
def test_no_printer_is_that_far_off(measured):
    with pytest.raises(PartgenError, match="--measured"):
        paper("a4", measured)


def test_all_mistakes_at_once():
    with pytest.raises(PartgenError) as error:
        paper("a5", "9.9")
    assert len(error.value.problems) == 2


def test_unknown_paper_names_the_nearest():
    with pytest.raises(PartgenError, match="letter"):
        paper("leter")
