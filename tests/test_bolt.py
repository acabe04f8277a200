"""Bolts: sizes as typed, and relations between the parts of one bolt.

The numbers of the tables are checked in tests/published; here they are put together.
"""

from math import sqrt

import pytest

from partgen.errors import ProfileError
from partgen.reference.bolt import bolt, sizes

METRIC = ["M5", "M6", "M8", "M10", "M12", "M14", "M16", "M18", "M20", "M24"]
INCH = ["1/4-20", "1/4-28", "5/16-18", "5/16-24", "3/8-16", "3/8-24", "7/16-14", "7/16-20"]
INCH += [
    "1/2-13",
    "1/2-20",
    "9/16-12",
    "9/16-18",
    "5/8-11",
    "5/8-18",
    "3/4-10",
    "3/4-16",
    "7/8-9",
    "7/8-14",
]
INCH += ["1-8", "1-12"]


def test_sizes_offered():
    """M22 lacks its head; 9/16 only its clearance hole, which can be typed."""
    assert sizes() == METRIC + INCH


@pytest.mark.parametrize(
    ("typed", "size"),
    [
        ("M16", "M16"),
        (" m16 ", "M16"),
        ("3/4", "3/4-10"),
        ("3/4 in", "3/4-10"),
        ("3/4in.", "3/4-10"),
        ('3/4"', "3/4-10"),
        ("3/4-10", "3/4-10"),
        ("3/4-16 in", "3/4-16"),
        ("5/8 - 18", "5/8-18"),
        ("5/8 18", "5/8-18"),
        ("1", "1-8"),
        ("1 inch", "1-8"),
        ("1-12", "1-12"),
    ],
)
def test_a_size_is_understood_as_typed(typed, size):
    assert bolt(typed).size == size


@pytest.mark.parametrize(
    ("typed", "hint"),
    [
        ("M17", "nearest: 'M16' and 'M18'; offered"),
        ("M11.5", "nearest: 'M12'"),
        ("M30", "nearest: 'M24'"),
        ("1 1/4", "nearest: '1-8'"),
        ("0.5", "nearest: '1/2-13'"),
        ("5/8-12", "nearest: '5/8-11'"),
        ("large", "known: "),
        ("", "known: "),
        ("M16x1.5", "nearest: 'M16'"),
    ],
)
def test_an_unknown_size_names_the_nearest_and_what_is_offered(typed, hint):
    with pytest.raises(ProfileError, match="is unknown; ") as caught:
        bolt(typed)
    assert hint in str(caught.value)
    assert "offered: M5, M6" in str(caught.value)


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ("M22", "ISO 4014 has no row M22; nearest: 'M20' and 'M24'"),
    ],
)
def test_a_size_one_table_lacks_names_the_table(typed, message):
    with pytest.raises(ProfileError, match=message):
        bolt(typed)


def test_a_hole_no_table_has_is_typed():
    """ASME B18.2.8 Table 1a goes from 1/2 to 5/8 in.; a 19/32 in. drill for 9/16."""
    size = bolt("9/16")
    assert (size.size, size.holes) == ("9/16-12", None)
    assert size.hole(19 / 32 * 25.4) == 19 / 32 * 25.4
    with pytest.raises(
        ProfileError, match=r"ASME B18\.2\.8 Table 1a has no row for its hole; write"
    ):
        size.hole("close")


@pytest.mark.parametrize("diameter", [15.9, 16.0, 30.0, 31.0])
def test_a_typed_hole_lets_the_bolt_through_and_its_washer_covers_it(diameter):
    """The washer of M16 is 30 mm wide (ISO 7089)."""
    assert (bolt("M16").hole(16.01), bolt("M16").hole(29.9)) == (16.01, 29.9)
    with pytest.raises(ProfileError, match="needs more than 16 mm and less than its washer, 30 mm"):
        bolt("M16").hole(diameter)


@pytest.mark.parametrize("size", METRIC + INCH)
def test_the_parts_of_a_bolt_fit_together(size):
    b = bolt(size)
    if b.holes:
        close, normal, loose = b.holes
        assert b.diameter < close < normal < loose < b.head_flats
    assert b.diameter < b.washer_hole < b.head_flats < b.head_corners <= b.tool_diameter
    assert b.head_corners == pytest.approx(b.head_flats * 2 / sqrt(3), abs=0.04)
    assert b.nut_corners == pytest.approx(b.nut_flats * 2 / sqrt(3), abs=0.04)
    assert b.tool_diameter == pytest.approx(1.5 * max(b.head_flats, b.nut_flats) + 1.016)
    assert b.washer_diameter > 1.8 * b.diameter
    assert 0.05 * b.diameter < b.pitch < 0.21 * b.diameter
    assert 0.6 * b.diameter < b.head_height < b.nut_height < 1.0 * b.diameter
    assert b.washer_thickness < 0.3 * b.diameter
    assert b.lengths == tuple(sorted(b.lengths))


def test_a_three_quarter_inch_bolt_in_mm():
    """ASME B18.2.1, .2 and 21.1 by hand: 1.125, 1.299, .483, .665, .812, 1.469, .134 in."""
    b = bolt("3/4")
    assert (b.system, b.diameter) == ("inch", 19.05)
    assert (b.head_flats, b.head_corners, b.head_height) == pytest.approx(
        (28.575, 32.9946, 12.2682)
    )
    assert (b.nut_height, b.nut_corners) == pytest.approx((16.891, 32.9946))
    washer = (b.washer_hole, b.washer_diameter, b.washer_thickness)
    assert washer == pytest.approx((20.6248, 37.3126, 3.4036))
    assert b.hole() == pytest.approx(20.6248)


def test_an_m16_bolt_in_mm():
    """ISO 4014, 4032, 7089 and 273 by hand; corners of a sharp hexagon of 24 mm."""
    b = bolt("M16")
    assert (b.system, b.diameter, b.pitch) == ("metric", 16, 2)
    assert (b.head_flats, b.head_height, b.nut_height) == (24, 10.18, 14.8)
    assert b.head_corners == pytest.approx(27.713, abs=0.001)
    assert (b.washer_hole, b.washer_diameter, b.washer_thickness) == (17, 30, 3)
    assert (b.hole("close"), b.hole(), b.hole("loose")) == (17, 17.5, 18.5)


@pytest.mark.parametrize(
    ("size", "length", "thread", "grip", "body"),
    [
        ("M16", 100, 38, 62, 52),
        ("M16", 140, 44, 96, 86),
        ("M16", 45, 38, 7, 0),
        ("M16", 30, 30, 0, 0),
        ("M12", 130, 36, 94, 85.25),
        ("M12", 220, 49, 171, 162.25),
        ("1/2-20", 101.6, 31.75, 69.85, 60.071),
    ],
)
def test_thread_grip_and_body(size, length, thread, grip, body):
    """b = 2 d + 6, + 12 over 125, + 25 over 200 mm (from memory); 1/2 in.: LT 1.25, Y .385."""
    b = bolt(size)
    assert b.thread_length(length) == pytest.approx(thread)
    assert b.grip_length(length) == pytest.approx(grip)
    assert b.body_length(length) == pytest.approx(body)


def test_inch_stock_lengths():
    """1/4 in. steps to 6 in., 1/2 in. steps to 12 in.: common practice, no source."""
    lengths = [round(length / 25.4, 6) for length in bolt("1/2").lengths]
    assert lengths[:3] == [0.5, 0.75, 1.0]
    assert [x for x in lengths if 5.6 < x < 7.2] == [5.75, 6.0, 6.5, 7.0]
    assert lengths[-1] == 12
    assert len(lengths) == 35


def test_sources_name_every_table():
    assert bolt("M16").sources == (
        "ISO 261 (from memory)",
        "ISO 273",
        "ISO 4014",
        "ISO 4032",
        "ISO 7089",
        "ISO 888 (from memory)",
    )
    assert bolt("7/8").sources[:5] == (
        "ASME B1.1",
        "ASME B18.2.1",
        "ASME B18.2.2",
        "ASME B18.21.1",
        "ASME B18.2.8 Table 1a",
    )
    assert bolt("7/8", washer="W").sources[3] == "ASME B18.21.1 (from memory)"


def test_an_unknown_fit_names_the_nearest():
    with pytest.raises(
        ProfileError, match="bolt M16: fit 'nromal' is unknown; did you mean 'normal'"
    ):
        bolt("M16").hole("nromal")


@pytest.mark.parametrize(("size", "washer"), [("1/2", "X"), ("M12", "W"), ("M12", "")])
def test_an_unknown_washer_is_refused(size, washer):
    with pytest.raises(ProfileError, match=r"washer series is .*, needs N"):
        bolt(size, washer=washer)


@pytest.mark.parametrize("length", [0, -5, float("nan")])
def test_an_impossible_length_is_refused(length):
    with pytest.raises(ProfileError, match=r"bolt M12: length is .* mm, needs > 0 mm"):
        bolt("M12").thread_length(length)
