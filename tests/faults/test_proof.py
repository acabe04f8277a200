"""Faults planted in written files: the proof finds each, and nothing is put in place."""

import re
from pathlib import Path

import pytest

from partgen.output.folder import MANIFEST
from partgen.output.proof import Room, gap_faults, prove
from partgen.tasks import making
from partgen.tasks.making import Asked, make, write

ROOT = Path(__file__).parents[2]
BUGGY = ROOT / "demo_parts" / "hill-trial-buggy.toml"
TRAILER = ROOT / "demo_parts" / "camping-trailer.toml"


@pytest.fixture(scope="module", params=["R2000", "R12"])
def made(request):
    return make(BUGGY, {}, (), request.param)


def faults_of(made, change, tmp_path, name="_outer_left_"):
    """Write the files with one of them changed; return what the proof says."""
    hit = next(n for n in made.files if name in n and n.endswith(".dxf"))
    text = made.files[hit].decode()
    changed = change(text)
    assert changed != text
    for path, content in made.files.items():
        target = tmp_path / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(changed.encode() if path == hit else content)
    return prove(tmp_path, made.ready, made.plans, made.work)


def test_files_as_written_are_right(made, tmp_path):
    write(made, tmp_path)
    assert prove(tmp_path, made.ready, made.plans, made.work) == []


def drop_entity(text):
    """Take the circle of the joint's hole out."""
    return re.sub(r"(?ms)^  0\nCIRCLE\n.*?(?=^  0\n)", "", text, count=1)


def shift_number(text):
    """Move one point of the last outline by a thousandth of a mm in x and two in y."""
    cuts = [m.end() for m in re.finditer(r"  8\n(?:OUTSIDE_|INSIDE_)?CUT\n", text)]
    points = max(k for k in cuts if "\n 10\n" in text[k : text.find("\n  0\n", k)])
    at = text.rindex("\nVERTEX\n") if "\nVERTEX\n" in text else points
    for code, step in ((" 10", 1e-3), (" 20", 2e-3)):
        begin = text.index(f"\n{code}\n", at) + len(code) + 2
        end = text.index("\n", begin)
        text = text[:begin] + f"{float(text[begin:end]) + step:.10f}" + text[end:]
    return text


def drop_bulge(text):
    """Make one arc straight."""
    at = text.index("\n 42\n", text.index("ENTITIES")) + 5
    end = text.index("\n", at)
    return text[:at] + "0.0" + text[end:]


def open_outline(text):
    """Take the closed flag from the last outline."""
    kind = "LWPOLYLINE" if "LWPOLYLINE" in text else "POLYLINE"
    at = text.index("\n 70\n", text.rindex(f"\n{kind}\n")) + 5
    end = text.index("\n", at)
    return text[:at] + "     0" + text[end:]


def swap_layers(text):
    return text.replace("INSIDE_CUT", "OUTSIDE_CUT")


def double_entity(text):
    found = re.search(r"(?ms)^  0\nCIRCLE\n.*?(?=^  0\n)", text)
    return text[: found.end()] + found[0] + text[found.end() :]


def other_unit(text):
    text = text.replace("unit: mm", "unit: in")
    return re.sub(r"(\$INSUNITS\n\s*70\n\s*)4", r"\g<1>1", text)


def half_file(text):
    return text[: len(text) // 2]


@pytest.mark.parametrize(
    "change",
    [drop_entity, shift_number, drop_bulge, open_outline, swap_layers, double_entity, other_unit, half_file],
)  # fmt: skip
def test_a_planted_fault_is_found(change, made, tmp_path):
    faults = faults_of(made, change, tmp_path)
    assert faults
    assert all("_outer_left_" in line for line in faults)


def test_a_fault_on_a_sheet_is_found(made, tmp_path):
    assert any("sheet-" in line for line in faults_of(made, shift_number, tmp_path, "sheet-"))


def test_a_missing_file_is_found(made, tmp_path):
    write(made, tmp_path)
    next((tmp_path / "plates").glob("*.dxf")).unlink()
    assert any(
        "cannot be read back" in f for f in prove(tmp_path, made.ready, made.plans, made.work)
    )


def test_gap_and_margin_are_measured_on_what_was_read(made, tmp_path):
    write(made, tmp_path)
    (found,) = [p for p in made.plans if len(p.nest.placed(p.sheet, p.number)) == 8]
    path = next((tmp_path / "sheets").glob("*6mm*.dxf"))
    sheet = found.nest.sheet(found.sheet)
    assert gap_faults(path, sheet, Room(8.0, 10.0)) == []
    assert any("each other" in line for line in gap_faults(path, sheet, Room(30.0, 10.0)))
    assert any("sheet's edge" in line for line in gap_faults(path, sheet, Room(8.0, 12.0)))


@pytest.mark.parametrize(
    "asked",
    [
        Asked(kerf="profile"),
        Asked(joints=3),
        Asked(one_layer=True),
        Asked(kerf="profile", leads=True),
    ],
    ids=["kerf", "joints", "one-layer", "kerf-leads"],
)
def test_every_way_of_cutting_is_proved(asked, tmp_path):
    made = make(TRAILER, {}, (), "R2000", asked=asked)
    write(made, tmp_path / "out")
    assert faults_of(made, shift_number, tmp_path / "bad")


def test_a_faulty_writer_writes_nothing(tmp_path, monkeypatch):
    made = make(BUGGY, {}, (), "R2000")
    name = next(n for n in made.files if n.endswith(".dxf"))
    made.files[name] = shift_number(made.files[name].decode()).encode()
    with pytest.raises(RuntimeError, match="failed their own check"):
        making.write(made, tmp_path / "out")
    assert list((tmp_path / "out").iterdir()) == []
    assert MANIFEST in made.files
