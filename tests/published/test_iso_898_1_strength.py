"""ISO 898-1: strength of bolts by property class, MPa. Some 8.8 values from memory."""

import pytest

from partgen.reference.tables import load

TABLE = load("iso_898_1_strength")
PRINTED = [  # class, over, to, proof, tensile, yield
    ("8.8", 0, 16, 580, 800, 640),
    ("8.8", 16, None, 600, 830, 660),
    ("10.9", 0, None, 830, 1040, 940),
    ("12.9", 0, None, 970, 1220, 1100),
]


def test_every_printed_row_and_no_other():
    assert TABLE.cells() == PRINTED


@pytest.mark.parametrize("row", TABLE.rows)
def test_rows_make_sense(row):
    """The class number: hundreds of MPa, and ten times yield over tensile, as a floor."""
    hundreds, ratio = row["class"].split(".")
    assert row["sp"] < row["yield"] < row["rm"]
    assert 100 * int(hundreds) <= row["rm"] <= 104 * int(hundreds)
    assert row["yield"] / row["rm"] == pytest.approx(int(ratio) / 10, abs=0.006)


@pytest.mark.parametrize(
    ("name", "column", "sizes"),
    [
        ("8.8", "8_8", ("M5", "M6", "M8", "M10", "M12", "M14", "M16", "M18", "M20", "M22", "M24")),
        (
            "10.9",
            "10_9",
            ("M5", "M6", "M8", "M10", "M12", "M14", "M16", "M18", "M20", "M22", "M24"),
        ),
        (
            "12.9",
            "12_9",
            ("M5", "M6", "M8", "M10", "M12", "M14", "M16", "M18", "M20", "M22", "M24"),
        ),
    ],
)
def test_strength_times_stress_area_is_the_found_load(name, column, sizes):
    """Recalled strengths against found loads; printed areas and loads are rounded: 1 %."""
    loads = load("iso_898_1_loads")
    for size in sizes:
        d, row = float(size[1:]), loads.find(bolt=size)
        strength = next(
            r for r in TABLE.rows if r["class"] == name and r["over"] < d <= (r["to"] or 100)
        )
        assert row[f"tensile_{column}"] == pytest.approx(row["area"] * strength["rm"], rel=0.01)
        if row[f"proof_{column}"] is not None:
            assert row[f"proof_{column}"] == pytest.approx(row["area"] * strength["sp"], rel=0.01)


def test_a_class_the_table_does_not_print_is_refused():
    assert TABLE.find(**{"class": "5.6"}) is None
