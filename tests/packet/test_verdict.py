"""The page's first line and the folded passes: counted by hand here, from the findings and the lists."""

import csv
import io
import re
from html import unescape
from pathlib import Path

import pytest
from helpers import made_demo, replaced

from partgen.packet.page import FILE
from partgen.packet.verdict import verdict
from partgen.rules.finding import Finding, Status
from partgen.tasks.making import make

ROOT = Path(__file__).parents[2]
DEMOS = ROOT / "demo_parts"
BUGGY = DEMOS / "hill-trial-buggy.toml"
SMALL_EAR = ("pivot = [310, -68]", "pivot = [310, -68]\near_radius = 18")


def finding(status, accepted=""):
    return Finding(
        rule="web", plate="p", where="there", status=status, source="-", accepted=accepted
    )


def words(html):
    return unescape(re.sub(r"<[^>]+>", "", html))


def made(tmp_path, *pairs):
    text = replaced(BUGGY.read_text(encoding="utf-8"), *pairs)
    path = tmp_path / "job.toml"
    path.write_text(text, encoding="utf-8")
    return make(path, {}, (), "R2000").files[FILE].decode("utf-8")


def first_line(page):
    """What stands right below the title."""
    return re.search(r"</h1>(<p class=\"verdict \w+\">.*?</p>)", page)[1]


P, W, F, N = Status.PASS, Status.WARN, Status.FAIL, Status.NOT_COVERED


@pytest.mark.parametrize(
    ("statuses", "plates", "sheets", "line"),
    [
        ([P, P], 14, 2, "Ready to cut: 14 plates on 2 sheets."),
        ([P, W], 1, 1, "Ready to cut: 1 plate on 1 sheet; 1 warning to look at."),
        ([W, N, W, N, W, P], 7, 2, "Ready to cut: 7 plates on 2 sheets; 3 warnings, 2 findings not covered to look at."),
        ([N, F], 7, 0, "Not for cutting: 1 finding fails; 1 finding not covered to look at."),
        ([F, W, F, P], 7, 0, "Not for cutting: 2 findings fail; 1 warning to look at."),
        ([], 0, 0, "Nothing to cut: the job has no plates."),
    ],
)  # fmt: skip
def test_line_counts_what_stops_and_what_to_look_at(statuses, plates, sheets, line):
    assert words(verdict([finding(s) for s in statuses], plates, sheets)) == line


def test_what_the_shop_accepts_stops_nothing_and_is_counted():
    found = [finding(F, "seen"), finding(W, "seen"), finding(W)]
    line = words(verdict(found, 3, 1))
    assert (
        line == "Ready to cut: 3 plates on 1 sheet; 1 warning, 2 accepted by the shop to look at."
    )
    assert words(verdict([*found, finding(F)], 3, 0)).startswith(
        "Not for cutting: 1 finding fails;"
    )


def test_line_of_a_page_agrees_with_its_lists():
    files = made_demo("fold-down-carrier").files
    tables = {
        name: list(csv.DictReader(io.StringIO(files[name].decode("utf-8-sig"))))
        for name in ("cut-list.csv", "findings.csv")
    }
    plates = sum(int(row["count"]) for row in tables["cut-list.csv"] if row["count"])
    warnings = sum(row["status"] == "WARN" for row in tables["findings.csv"])
    sheets = sum(name.startswith("sheets/") and name.endswith(".dxf") for name in files)
    line = first_line(files[FILE].decode("utf-8"))
    told = f"Ready to cut: {plates} plates on {sheets} sheets; {warnings} warnings to look at."
    assert words(line) == told
    assert re.findall(r'href="#([\w-]+)"', line) == ["plates", "sheets", "findings"]


def test_a_job_that_is_stopped_is_not_for_cutting(tmp_path):
    page = made(tmp_path, SMALL_EAR)
    fails = len(re.findall(r"<h3>FAIL: ", page))
    assert fails == 2
    assert words(first_line(page)).startswith(f"Not for cutting: {fails} findings fail")
    assert "Ready to cut" not in page


def test_passes_are_folded_away_and_nothing_else_is(tmp_path):
    page = made(tmp_path, SMALL_EAR)
    (folded,) = re.findall(r"<details>.*?</details>", page, re.DOTALL)
    assert folded.startswith("<details><summary>Passed: ")
    count = int(re.match(r"<details><summary>Passed: (\d+)", folded)[1])
    inside = [int(n) for n in re.findall(r'data-label="passed" class="n">(\d+)<', folded)]
    assert sum(inside) == count > len(inside) > 10
    assert "FAIL" not in folded
    assert "WARN" not in folded
    assert page.index("<h3>FAIL: ") < page.index("<details>") < page.index('id="plates"')
