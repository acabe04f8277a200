"""Sections of the page on cutting, welds, strength and links, against sums and printed numbers."""

import csv
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest
from helpers import made_demo, replaced

from partgen.job.build import build
from partgen.job.job import load_job
from partgen.packet.finding_text import figures, findings_list, limit, ordered
from partgen.packet.findings_section import findings_section
from partgen.packet.page import FILE
from partgen.rules.finding import Finding, Status
from partgen.tasks.making import make

ROOT = Path(__file__).parents[2]
BUGGY = ROOT / "demo_parts" / "hill-trial-buggy.toml"
LINKS = ROOT / "demo_parts" / "hill-trial-buggy-rear-links.toml"
NAME = 'name = "Hill-trial buggy, rear lower links"'
HOSTILE = "<img src=x onerror=alert(1)>"
TIGHT = "more than the fit"


class Sections(HTMLParser):
    """Collects each section's texts, rows of tables, and texts in drawings."""

    def __init__(self, content):
        super().__init__()
        self.words, self.rows, self.drawn, self.tags = {}, {}, {}, []
        self.here, self.cell, self.in_text = "", None, False
        self.feed(content.decode("utf-8"))
        self.close()

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        if tag == "section":
            self.here = dict(attrs)["id"]
        elif tag == "tr":
            self.rows.setdefault(self.here, []).append([])
        elif tag == "td":
            self.cell = ""
        self.in_text = tag == "text"

    def handle_endtag(self, tag):
        if tag == "td":
            self.rows[self.here][-1].append(self.cell)
            self.cell = None
        if tag == "text":
            self.in_text = False

    def handle_data(self, data):
        kind = self.drawn if self.in_text else self.words
        kind[self.here] = kind.get(self.here, "") + data + " "
        if self.cell is not None:
            self.cell += data

    def table(self, name):
        return [row for row in self.rows.get(name, []) if row]


def page(path):
    return Sections(make(path, {}, (), "R2000").files[FILE])


def changed(tmp_path, *pairs):
    text = replaced(BUGGY.read_text(encoding="utf-8"), *pairs)
    path = tmp_path / "job.toml"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def buggy():
    return page(BUGGY)


@pytest.fixture(scope="module")
def links():
    return page(LINKS)


def test_time_is_the_sum_of_the_feeds(buggy):
    """6 mm: 2400 mm/min, pierce 0.4 s, lift 1.5 s, travel 10 m/min, as the profile has them."""
    row = next(r for r in buggy.table("time") if r[0] == "6 mm S355")
    burnt, pierces, travel = float(row[3]), int(row[4]), float(row[5])
    minutes = burnt / 2400 + pierces * 1.9 / 60 + travel / 10_000
    assert float(row[7]) == pytest.approx(minutes, abs=0.051)
    assert row[8] == ""
    assert "no cost" in buggy.words["time"]


def test_cost_is_shown_where_the_job_has_rates(tmp_path):
    path = changed(tmp_path, ("[measures]", "[prices]\npierce = 0.5\n\n[measures]"))
    rows = [r for r in page(path).table("time") if len(r) == 9]
    assert len(rows) == 2
    for row in rows:
        assert float(row[8]) == pytest.approx(0.5 * int(row[4]))


def test_tolerance_of_iso_9013_against_the_holes_clearance(buggy, tmp_path):
    """Class 2 of ISO 9013:2017, 6 mm plate, size from 10 to 35: 0.9 mm; a pivot of 17 for M16 may
    not come out larger than 17.5 (ISO 273): it is drilled, or as tight as the page says."""
    assert not [r for r in buggy.table("tolerances") if r[1] == "hole joint"]
    kept = '[[hole]]\nplate = "lower-front-mount"\nhole = "joint"\npolicy = "cut"\n'
    seen = page(changed(tmp_path, ("[measures]", f"{kept}[measures]")))
    row = next(r for r in seen.table("tolerances") if r[0].endswith("/outer/left"))
    assert row[1:6] == ["hole joint", "17", "0.9", "0.5", "more than the fit: drill or ream it"]
    assert all(r[4] for r in buggy.table("tolerances"))


def test_the_cut_list_says_what_happens_to_each_hole(buggy, tmp_path):
    rows = {r[0]: r for r in buggy.table("cut-list") if len(r) == 9}
    assert rows["lower-front-mount/inner/left"][6] == "joint: marked, drill 17 mm"
    assert rows["rail-spacer/pad"][6] == ""
    kept = '[[hole]]\nplate = "lower-front-mount/inner"\nhole = "joint"\npolicy = "pilot"\n'
    seen = page(changed(tmp_path, ("[measures]", f"{kept}[measures]")))
    rows = {r[0]: r for r in seen.table("cut-list") if len(r) == 9}
    assert rows["lower-front-mount/inner/left"][6] == "joint: cut 14 mm, drill to 17 mm"
    assert rows["lower-front-mount/outer/left"][6] == "joint: marked, drill 17 mm"


def test_a_tight_size_comes_first_and_is_counted(tmp_path):
    """A web as wide as the gap, 58 mm, and a joint of 57.8: 0.2 mm clearance against 0.9 mm."""
    path = changed(
        tmp_path,
        ("joint_width = 57 ", "joint_width = 57.8 "),
        ('bolt = "M16"', 'bolt = "M16"\nside_clearance = 0.1'),
    )
    seen = page(path)
    verdicts = [r[5].startswith(TIGHT) for r in seen.table("tolerances")]
    assert verdicts == sorted(verdicts, reverse=True)
    assert sum(verdicts) >= 1
    assert f"{sum(verdicts)} of {len(verdicts)} sizes" in seen.words["tolerances"]


def test_a_stopped_job_has_no_time_but_its_welds(tmp_path):
    path = changed(tmp_path, ("pivot = [310, -68]", "pivot = [310, -68]\near_radius = 18"))
    seen = page(path)
    assert not [r for r in seen.table("time") if len(r) == 9]
    assert seen.table("weld-map")


def test_every_weld_is_listed_once_in_sequence_and_drawn(buggy):
    """Least leg of AISC 360-16 Table J2.4, metric print: 3 mm for plate up to 6 mm."""
    rows = [dict(zip(WELD_HEAD, r, strict=False)) for r in buggy.table("weld-map")]
    assert [int(r["step"]) for r in rows] == list(range(1, len(rows) + 1))
    assert min(float(r["leg"]) for r in rows) >= 3
    numbers = re.findall(r"(\d+): [\d.]+ x ", buggy.drawn["weld-map"])
    assert sorted(map(int, numbers)) == list(range(1, len(rows) + 1))
    many = [int(r["fillets"]) * int(r["plates"]) for r in rows]
    total = sum(float(r["weld"]) * k for r, k in zip(rows, many, strict=True))
    said = float(re.search(r"In all (\d+) mm of weld", buggy.words["weld-map"])[1])
    assert said == pytest.approx(total, abs=0.05 * sum(many) + 0.5)
    assert "HOLD POINT after tacking" in buggy.words["weld-map"]


WELD_HEAD = ("step", "plate", "plates", "edge", "to", "long", "leg", "fillets", "weld")


def test_strength_only_with_a_load_and_always_screening_only(buggy, links):
    """The load's direction is cos and sin of -8 degrees."""
    assert "strength" not in links.words
    words = buggy.words["strength"]
    assert words.startswith("Strength, screening only")
    assert "6.00 kN times your factor 3, direction 0.99, 0, -0.139" in words
    assert words.count("screening only: weakest link") == 2
    assert "safe" not in words.lower()
    at_joint = {r[1]: r[5] for r in buggy.table("strength")}
    worst = re.search(r"in the plates' plane: ([\w ]+), lower-front-mount/\w+, ([\d.]+ kN)", words)
    assert at_joint[worst[1]] == worst[2]


def test_links_have_cases_joints_and_pictures(buggy, links):
    """Four links, two ends each."""
    assert "linkage" not in buggy.words
    rows = links.table("linkage")
    cases = {"ride", "full bump", "full droop", "twist, left up", "twist, right up"}
    assert cases <= {r[0] for r in rows}
    assert sum(r[1] in ("frame", "axle") for r in rows) == 8
    for view in ("Side view", "Plan", "Rear view", "Axle over heave"):
        assert view in links.drawn["linkage"]


def test_mounts_are_drawn_with_all_their_pieces(buggy):
    for name in ("inner", "outer", "rail", "web"):
        assert f"{name} " in buggy.drawn["assembly"]
    assert buggy.drawn["assembly"].count("rail-spacer") == 2


def test_names_from_the_job_stay_words(tmp_path):
    path = changed(
        tmp_path,
        (NAME, f'name = "{HOSTILE}"'),
        ('force = "6 kN"', 'force = "6 kN"\nname = "a-load"'),
    )
    seen = page(path)
    assert "img" not in seen.tags
    assert "load a-load: 6.00 kN" in seen.words["strength"]


def finding(**more):
    return Finding(rule="r", plate="p", where="w", status=Status.FAIL, source="s", **more)


def test_an_upper_limit_reads_as_one():
    """At most 144: 150 is 6 over, 140 has 4 left; at least 144: 150 has 6 left."""
    over = finding(measured=150.0, required=144.0, at_most=True)
    assert limit(over, "mm") == "at most 144.00"
    assert figures(over, "mm") == ("150.00", "at most 144.00", "-6.00")
    under = finding(measured=140.0, required=144.0, at_most=True)
    assert figures(under, "mm")[2] == "4.00"
    least = finding(measured=150.0, required=144.0)
    assert limit(least, "mm") == "needs 144.00"
    assert figures(least, "mm") == ("150.00", "144.00", "6.00")
    assert figures(finding(at_most=True), "mm") == ("-", "-", "-")


def test_passes_are_one_line_for_each_rule_and_plate_the_rest_in_the_list():
    """Counts add up to all passes; the margin shown is the least of its rule and plate."""
    made = made_demo("hill-trial-buggy")
    seen = Sections(made.files[FILE])
    passed = [f for f in made.findings if f.status is Status.PASS]
    rows = [r for r in seen.table("findings") if len(r) == 8]
    assert len({(r[0], r[1]) for r in rows}) == len(rows)
    assert {(r[0], r[1]) for r in rows} == {(f.rule, f.plate) for f in passed}
    assert sum(int(r[2]) for r in rows) == len(passed)
    assert len(rows) < len(passed)
    for shown in rows:
        mine = [f for f in passed if [f.rule, f.plate] == shown[:2] and f.margin is not None]
        if mine and mine[0].unit == "mm":
            assert float(shown[6]) == pytest.approx(min(f.margin for f in mine), abs=0.006)
    row = next(r for r in rows if r[:2] == ["web", "lower-front-mount/outer"])
    mine = [f for f in passed if (f.rule, f.plate) == ("web", "lower-front-mount/outer")]
    assert int(row[2]) == len(mine) > 1
    assert float(row[6]) == pytest.approx(min(f.measured - f.required for f in mine), abs=0.006)
    listed = list(csv.DictReader(made.files["findings.csv"].decode().splitlines()))
    assert len(listed) == len(made.findings) == len(made.data["findings"])
    assert sum(r["status"] == "pass" for r in listed) == len(passed)
    for entry, f in zip(listed, ordered(made.findings), strict=True):
        assert (entry["rule"], entry["plate"]) == (f.rule, f.plate)
        if f.margin is not None:
            assert float(entry["margin"]) == pytest.approx(f.margin, abs=6e-5)


def test_a_mounts_section_is_drawn_beside_its_first_finding_only(tmp_path):
    """No [[room]] and a wide gap: two findings of one mount, one picture, and words that point to it."""
    path = changed(tmp_path, ("joint_width = 57", "joint_width = 55"))
    content = make(path, {}, (), "R2000").files[FILE].decode("utf-8")
    findings = content.split('id="findings"')[1].split("</section>")[0]
    cards = [c for c in findings.split("<article")[1:] if "lower-front-mount</h3>" in c]
    assert len(cards) == 2
    assert ["<svg" in c for c in cards] == [True, False]
    assert ["stands above" in c for c in cards] == [False, True]


def test_a_page_in_inches_speaks_no_millimetres():
    """Holes to drill, notes at the table, masses; the weld notes give both units."""
    made = made_demo("camping-trailer")
    seen = re.sub(
        r"<style.*?</style>|<[^>]+>", "|", made.files[FILE].decode("utf-8"), flags=re.DOTALL
    )
    assert "in off by ISO 9013" in seen
    assert not re.findall(r"[\d.]+ mm\b(?! \()", seen)
    assert not re.search(r"\d kg", seen)
    assert b" mm" not in made.files["holes.csv"]


def test_the_list_of_findings_is_in_inches_for_a_job_in_inches():
    found = [
        Finding(rule="web", plate="a/b", where="hole 1", status=Status.FAIL, measured=12.7,
                required=19.05, source="x", note="move it 25.4 mm"),
        Finding(rule="bend", plate="a/b", where="bend 1", status=Status.PASS, measured=12,
                required=20, unit="deg", at_most=True, source="x"),
    ]  # fmt: skip
    first, second = csv.DictReader(findings_list(found, "in").decode().splitlines())
    assert [first[k] for k in ("measured", "limit", "required", "margin", "unit", "note")] == [
        "0.5", "at least", "0.75", "-0.25", "in", "move it 1 in"]  # fmt: skip
    assert [second[k] for k in ("measured", "limit", "margin", "unit")] == ["12.0", "at most", "8.0", "deg"]  # fmt: skip


def test_what_a_rule_says_again_and_again_of_one_plate_is_summed_up():
    """Thirty alike are twelve and a line; another plate's and another verdict's stand for themselves."""
    made = build(load_job(BUGGY))
    plate = made.plates[0].key

    def alike(rule, status, count):
        return [
            Finding(rule=rule, plate=plate, where=f"hole {k}", status=status, source="test")
            for k in range(count)
        ]

    found = [
        *alike("web", Status.FAIL, 30),
        *alike("web", Status.WARN, 13),
        *alike("neck", Status.WARN, 12),
    ]
    shown = Sections(findings_section(made, found).encode("utf-8"))
    assert shown.tags.count("article") == 12 + 12 + 12
    words = shown.words["findings"]
    assert f"FAIL: web, {plate}: 18 more like it." in words
    assert f"WARN: web, {plate}: 1 more like it." in words
    assert words.count("more like it") == 2
    assert "findings.csv" in words
