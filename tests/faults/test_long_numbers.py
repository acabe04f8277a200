"""Numbers of thousands of digits, in every file and option that holds one: one line each.

Python itself refuses to read a whole number of more than 4,300 digits (the library reference, "Integer
string conversion length limitation").
"""

import csv
import io
from pathlib import Path

import pytest

from partgen.errors import PartgenError
from partgen.job.build import build
from partgen.job.job import load_job
from partgen.measure import parse_angle, parse_force, parse_length, parse_stress
from partgen.packet.as_built import as_built_list
from partgen.plates.revision import known_revisions
from partgen.reference import bolt_sizes
from partgen.reference.bolt import bolt
from partgen.sheets.known_layout import known_layouts
from partgen.tasks import as_built, nesting
from partgen.template.paper import paper
from partgen.toml_text import toml_data

DEMO = Path(__file__).parents[2] / "demo_parts" / "hill-trial-buggy.toml"
DRAWING = DEMO.with_name("lamp-bracket.dxf")
LONG = "9" * 5000


def lines(work, *args, **options):
    with pytest.raises(PartgenError) as error:
        work(*args, **options)
    assert all(len(line) <= 1000 for line in error.value.problems)
    return error.value.problems


@pytest.mark.parametrize("number", [LONG, "0" * 5000 + "1", "²", "1" * 20, "-1", "٣", "1_0"])
def test_the_number_of_a_line_of_the_as_built_sheet(tmp_path, number):
    rows = list(csv.reader(io.StringIO(as_built_list(build(load_job(DEMO))).decode())))
    rows[3][0] = number
    stream = io.StringIO()
    csv.writer(stream).writerows(rows)
    sheet = tmp_path / "filled.csv"
    sheet.write_text(stream.getvalue(), encoding="utf-8")
    (line,) = lines(as_built.compared, DEMO, sheet)
    assert f"line 4: number '{number[:20]}'" in line


@pytest.mark.parametrize("count", [LONG, "0" * 8 + "1" + LONG, "1" * 9, "00000000199999", "²"])
def test_the_count_of_a_file(count):
    request = nesting.Request(
        [DRAWING], ["1250x2500"], 1, {DRAWING.name: count}, None, "mm", None, None, "R12"
    )
    (line,) = lines(nesting.nest_files, request)
    assert "write a whole number, 1 to 10000" in line


@pytest.mark.parametrize(
    "size", [LONG, "M" + LONG, LONG + "/8", "1/" + LONG, LONG + "-1/8", "M1e999"]
)
def test_a_bolt(size):
    assert len(lines(bolt, size)) == 1
    assert bolt_sizes.near(size)


@pytest.mark.parametrize("typed", [LONG, LONG + "/8", "1/" + LONG, LONG + "-1/8 in", "1e" + LONG])
@pytest.mark.parametrize(
    "read", [lambda t: parse_length(t, "mm"), parse_angle, parse_force, parse_stress]
)
def test_a_measure(read, typed):
    assert len(lines(read, typed)) == 1


def test_paper_and_toml():
    assert len(lines(paper, "a4", LONG)) == 1
    assert len(lines(toml_data, f"a = {LONG}".encode(), "a.toml")) == 1


def test_what_an_earlier_run_left_is_passed_over(tmp_path):
    manifest = tmp_path / "job.json"
    manifest.write_text(f'{{"revisions": {LONG}, "sheets": [{LONG}]}}', encoding="utf-8")
    assert known_revisions(manifest) == {}
    assert known_layouts(manifest) == {}
