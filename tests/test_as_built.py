"""The as-built sheet typed into and read back: sums by hand, off the symmetric case."""

import csv
import io
import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from partgen.cli import main
from partgen.errors import PartgenError
from partgen.job.build import build
from partgen.job.job import load_job
from partgen.packet.as_built import as_built_list
from partgen.tasks.as_built import compared

ROOT = Path(__file__).parents[1]
BUGGY = ROOT / "demo_parts" / "hill-trial-buggy.toml"
TRAILER = ROOT / "demo_parts" / "camping-trailer.toml"
GAP = "lower-front-mount, left: gap at the bolt"
ROD = "lower-front-mount, left: rod through both ears"


def sheet(tmp_path, filled, job=BUGGY, mark=","):
    """The sheet of a job with some lines filled in, by what they measure."""
    text = as_built_list(build(load_job(job))).decode()
    rows = list(csv.reader(io.StringIO(text)))
    at = {row[1]: row for row in rows[1:]}
    for what, value in filled.items():
        at[what][-1] = value
    stream = io.StringIO()
    csv.writer(stream, delimiter=mark).writerows(rows)
    path = tmp_path / "filled.csv"
    path.write_text(stream.getvalue(), encoding="utf-8")
    return path


def line(found, what):
    return next(r for r in found.readings if r.target.what == what)


@pytest.mark.parametrize(
    ("typed", "value", "within"),
    [("58.4", 58.4, True), ("57", 57, True), ("56.9", 56.9, False), ("59.6", 59.6, True),
     ("59.7", 59.7, False), ("2-5/16 in", 58.7375, True)],
)  # fmt: skip
def test_a_gap_against_the_sum_of_its_fit(tmp_path, typed, value, within):
    """Gap 52 + 2 x 3 = 58; at least the joint, 57, at most 58 + 1/16 in = 59.6 as printed."""
    reading = line(compared(BUGGY, sheet(tmp_path, {GAP: typed})), GAP)
    assert reading.value == pytest.approx(value)
    assert reading.difference == pytest.approx(value - 58)
    assert reading.within is within


def test_blanks_are_no_answer_and_words_take_yes_or_no(tmp_path):
    found = compared(BUGGY, sheet(tmp_path, {ROD: "no", GAP: "58"}))
    assert [r.target.what for r in found.out] == [ROD]
    assert len(found.blank) == len(found.readings) - 2
    assert line(compared(BUGGY, sheet(tmp_path, {ROD: "Yes"})), ROD).within


def test_a_spreadsheets_semicolons_and_commas_are_read(tmp_path):
    reading = line(compared(BUGGY, sheet(tmp_path, {GAP: "58,4"}, mark=";")), GAP)
    assert reading.value == pytest.approx(58.4)


def test_inches(tmp_path):
    what = "arm-mount, right: bolt centre off the rail"
    reading = line(compared(TRAILER, sheet(tmp_path, {what: "2.05"}, TRAILER)), what)
    assert reading.difference == pytest.approx(0.05 * 25.4)
    assert reading.within
    assert not line(
        compared(TRAILER, sheet(tmp_path, {what: "1-7/8 in"}, TRAILER)), what
    ).within  # 1/8 off, 1/16 allowed


def test_every_mistake_is_named_with_its_line(tmp_path):
    path = sheet(tmp_path, {GAP: "58 apples", ROD: "maybe"})
    rows = path.read_text().replace("gap at the ears' tips", "gap at the tips", 1)
    path.write_text(rows + "99,more,1,1,1,,2\n", encoding="utf-8")
    with pytest.raises(PartgenError) as error:
        compared(BUGGY, path)
    said = error.value.problems
    assert len(said) == 4
    assert "filled.csv: line 2:" in said[0]
    assert "apples" in said[0]
    assert "gap at the tips" in said[1]
    assert "answer yes or no" in said[2]
    assert "goes from 1 to" in said[3]


def test_a_sheet_of_another_state_of_the_job_is_refused(tmp_path):
    path = sheet(tmp_path, {GAP: "58"})
    job = tmp_path / "wider.toml"
    job.write_text(BUGGY.read_text().replace("rail_width = 52", "rail_width = 50"))
    with pytest.raises(PartgenError, match="in the job as it is now; make the job again"):
        compared(job, path)


@pytest.mark.parametrize(
    ("content", "said"),
    [(b"a,b\n1,2\n", "no column 'number'"), (b"\xff\xfe\x00", "UTF-8"), (None, "cannot be read"),
     (b"x" * 1_000_001, "larger than")],
)  # fmt: skip
def test_what_is_no_sheet_is_refused_in_one_line(tmp_path, content, said):
    path = tmp_path / "odd.csv"
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(PartgenError, match=said):
        compared(BUGGY, path)


def run(*args):
    return CliRunner().invoke(main, [str(a) for a in args])


def test_the_command_says_it_and_exits_1_if_out(tmp_path):
    made = run("make", BUGGY, "--out", tmp_path / "out")
    assert made.exit_code == 0
    blank = tmp_path / "out" / "as-built.csv"
    well = run("measure", BUGGY, "--as-built", blank)
    assert well.exit_code == 0
    assert "0 of 13 measured, 0 out of tolerance" in well.output
    path = sheet(tmp_path, {GAP: "59.9"})
    out = run("measure", BUGGY, "--as-built", path)
    assert out.exit_code == 1
    row = next(text for text in out.output.splitlines() if GAP in text)
    assert row.split()[-3:] == ["59.9", "+1.90", "OUT"]
    data = json.loads(run("measure", BUGGY, "--as-built", path, "--json").output)
    assert (data["out"], data["blank"]) == (1, 12)
    assert data["as_built"][0]["difference"] == pytest.approx(1.9)
    both = run("measure", BUGGY, "--as-built", path, "--csv", tmp_path / "new.csv")
    assert both.exit_code == 2


def test_a_filled_in_sheet_is_never_written_over(tmp_path):
    """The sheet in make's folder, typed into, stops the next make until it is moved."""
    assert run("make", BUGGY, "--out", tmp_path / "out").exit_code == 0
    there = tmp_path / "out" / "as-built.csv"
    typed = sheet(tmp_path, {GAP: "58.2"}).read_bytes()
    there.write_bytes(typed)
    again = run("make", BUGGY, "--out", tmp_path / "out")
    assert again.exit_code == 2
    assert "changed since" in again.output
    assert there.read_bytes() == typed
