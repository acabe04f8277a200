"""The page: complete, in order, escaped, stamped when a rule stops the job."""

import re
from html.parser import HTMLParser
from pathlib import Path

import pytest
from helpers import made_demo, replaced

from partgen.packet.page import FILE, STOPPED
from partgen.tasks.making import make

ROOT = Path(__file__).parents[2]
DEMOS = sorted((ROOT / "demo_parts").glob("*.toml"))
BUGGY = ROOT / "demo_parts" / "hill-trial-buggy.toml"
MINUS_ZERO = re.compile(r"(?<![\w.)-])-0(?:\.0+)?(?![\w.])")
HOSTILE = "</title><script>alert(1)</script><img src=x onerror=alert(2)> \"'&<!--"


class Reader(HTMLParser):
    """Collects tags and texts; complains where they are not nested."""

    def __init__(self):
        super().__init__()
        self.open, self.tags, self.attributes, self.words = [], [], [], []

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes += attrs
        if tag not in ("meta", "br", "hr"):
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes += attrs

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        if self.open and self.open[-1] != "style":
            self.words.append(data)


def read(content):
    reader = Reader()
    reader.feed(content.decode("utf-8"))
    reader.close()
    assert not reader.open
    return reader


def page(path, **changes):
    return make(path, changes, (), "R2000").files[FILE]


def job(tmp_path, *pairs, name="job.toml"):
    text = replaced(BUGGY.read_text(encoding="utf-8"), *pairs)
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize("demo", DEMOS, ids=lambda p: p.stem)
def test_page_of_a_demo_holds_everything(demo):
    made = made_demo(demo.stem)
    reader = read(made.files[FILE])
    text = " ".join(reader.words)
    bolted = ("Fit at the bolt", "Hardware") if made.build.mounts else ()
    for title in (*bolted, "Before you cut or weld", "Findings", "Plates", "Cut list", "Sheets", "Weld notes",
                  "Fit-up order", "As-built sheet"):  # fmt: skip
        assert title in text
    for plate in made.build.plates:
        assert text.count(plate.label) >= 3
        pounds = made.build.job.unit == "in"
        mass = f"{plate.mass / 0.45359237:.2f} lb" if pounds else f"{plate.mass:.2f} kg"
        assert mass in text
    assert text.count("HOLD.") == 5
    assert STOPPED not in text
    assert {"script", "iframe", "link", "object"}.isdisjoint(reader.tags)
    targets = [value for key, value in reader.attributes if key in ("href", "src")]
    anchors = {value for key, value in reader.attributes if key == "id"}
    assert targets
    assert all(t.startswith("#") and t[1:] in anchors for t in targets)
    for name in (FILE, "findings.csv", "job.json"):
        assert not MINUS_ZERO.findall(made.files[name].decode("utf-8")), name


def test_title_blocks_carry_the_revision():
    made = made_demo("hill-trial-buggy")
    text = " ".join(read(made.files[FILE]).words)
    for plate in made.build.plates:
        assert plate.revision
        assert f"revision {plate.revision}" in text


def test_same_job_same_page():
    assert page(BUGGY) == page(BUGGY)


def test_a_failing_rule_stamps_the_page_and_comes_first(tmp_path):
    path = job(tmp_path, ("pivot = [310, -68]", "pivot = [310, -68]\near_radius = 18"))
    reader = read(page(path))
    text = " ".join(reader.words)
    assert text.count(STOPPED) == 2
    assert "No cut files were written" in text
    heads = re.findall(r"(FAIL|WARN|not covered|Passed)\b(?:: [\w-]+,)?", text)
    assert heads[0] == "FAIL"
    assert heads == sorted(heads, key=["FAIL", "WARN", "not covered", "Passed"].index)
    start = text.index("FAIL: edge-distance")
    assert "measured 18.00, needs 22.00, margin -4.00" in text[start : start + 200]


def test_an_accepted_finding_shows_its_reason_and_no_stamp(tmp_path):
    entry = "\n".join(
        f'[[accept]]\nrule = "edge-distance"\nplate = "lower-front-mount/{side}"\nreason = "seen"'
        for side in ("inner", "outer")
    )
    path = job(tmp_path, ("pivot = [310, -68]", "pivot = [310, -68]\near_radius = 18"),
               ("[rail.left]", f"{entry}\n[rail.left]"))  # fmt: skip
    text = " ".join(read(page(path)).words)
    assert STOPPED not in text
    assert text.count("Accepted by the shop: ") == 2


def test_nothing_from_the_job_becomes_markup(tmp_path):
    quoted = "'''" + HOSTILE + "'''"
    path = job(
        tmp_path,
        ('name = "Hill-trial buggy, rear lower links"', f"name = {quoted}"),
        (
            "[rail.left]",
            f'[[accept]]\nrule = "web"\nplate = "none"\nreason = {quoted}\n[rail.left]',
        ),
        name="<img src=x onerror=alert(3)>.toml",
    )
    content = page(path)
    reader = read(content)
    assert b"<script" not in content
    assert b"<img" not in content
    assert b"<!--" not in content
    assert not [key for key, _ in reader.attributes if key.startswith("on")]
    assert HOSTILE in "".join(reader.words)


def test_targets_are_the_sums_of_the_fit(tmp_path):
    """Gap 52 + 2 x 3 = 58 mm; it must take the joint, 57, and stay within 1/16 in over the plan."""
    text = " | ".join(read(page(BUGGY)).words)
    row = text.index("lower-front-mount, right: gap at the bolt")
    assert text[row : row + 100].split(" | ")[1:3] == ["58.0", "57.0 to 59.6"]


def test_least_weld_leg_is_the_tables(tmp_path):
    """AISC 360-16 Table J2.4: 1/8 in to 1/4 in plate; 3 mm to 6 mm plate in the metric print."""
    inch = " | ".join(read(page(ROOT / "demo_parts" / "camping-trailer.toml")).words)
    assert "1/8 in, AISC 360-16 Table J2.4" in inch
    assert "3 mm, AISC 360-16 Table J2.4" in " | ".join(read(page(BUGGY)).words)
