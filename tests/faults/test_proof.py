"""Faults planted in written files: the proof finds each, and nothing is put in place."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from partgen.dxf.read import OUTSIDE, read_drawn
from partgen.entries.hole_policy import HolePolicy
from partgen.geometry.outline import Outline, Vertex
from partgen.job.build import build
from partgen.job.job import load_job
from partgen.output import proof
from partgen.output.folder import MANIFEST
from partgen.output.metal_proof import Room, gap_faults
from partgen.output.proof import prove
from partgen.tasks import making
from partgen.tasks.making import Asked, make, make_job, write

ROOT = Path(__file__).parents[2]
BUGGY = ROOT / "demo_parts" / "hill-trial-buggy.toml"
TRAILER = ROOT / "demo_parts" / "camping-trailer.toml"


def worked_through(version="R2000", asked=None, policy="cut"):
    """The buggy's job, its pivots cut, for a round opening, or marked."""
    hole = HolePolicy(plate="lower-front-mount", hole="joint", policy=policy)
    job = replace(load_job(BUGGY), holes=(hole,))
    return make_job(build(job), (), version, asked=asked)


@pytest.fixture(scope="module", params=["R2000", "R12"])
def made(request):
    return worked_through(request.param)


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


def outside_edges(path):
    drawn = read_drawn(path.read_bytes(), where="sheet").entities
    edges = [d.path.segments for d in drawn if d.layer == OUTSIDE]
    return [Outline(tuple(Vertex(s.x0, s.y0, s.bulge) for s in edge)) for edge in edges]


def test_gap_and_margin_are_measured_on_what_was_read(made, tmp_path):
    write(made, tmp_path)
    (found,) = [p for p in made.plans if len(p.nest.placed(p.sheet, p.number)) == 8]
    path = next((tmp_path / "sheets").glob("*6mm*.dxf"))
    sheet = found.nest.sheet(found.sheet)
    edges = outside_edges(path)
    assert gap_faults("f", edges, sheet, Room(8.0, 10.0)) == []
    assert any("each other" in line for line in gap_faults("f", edges, sheet, Room(30.0, 10.0)))
    assert any("sheet's edge" in line for line in gap_faults("f", edges, sheet, Room(8.0, 12.0)))


def test_each_file_is_read_once(made, tmp_path, monkeypatch):
    write(made, tmp_path)
    seen = []

    def counted(data, *, where):
        seen.append(where)
        return read_drawn(data, where=where)

    monkeypatch.setattr(proof, "read_drawn", counted)
    assert prove(tmp_path, made.ready, made.plans, made.work) == []
    assert sorted(seen) == sorted(p.name for p in tmp_path.rglob("*.dxf"))


def test_gaps_are_measured_between_compensated_paths_too(tmp_path):
    """Paths run half a kerf off each edge: 8 mm between plates leaves 6.3, 10 at the edge 9.15."""
    made = worked_through(asked=Asked(kerf="profile", joints=2))
    write(made, tmp_path)
    (found,) = [p for p in made.plans if len(p.nest.placed(p.sheet, p.number)) == 8]
    path = next((tmp_path / "sheets").glob("*6mm*.dxf"))
    edges = outside_edges(path)
    sheet, room = found.nest.sheet(found.sheet), Room(8.0, 10.0).between_paths(1.7)
    assert (room.gap, room.margin) == pytest.approx((6.3, 9.15))
    assert gap_faults("f", edges, sheet, room) == []
    assert gap_faults("f", edges, sheet, Room(room.gap + 22, 0.0))
    assert gap_faults("f", edges, sheet, Room(0.0, room.margin + 2))


def runs(text):
    return [
        m
        for m in re.finditer(r"(?ms)^  0\nLWPOLYLINE\n.*?(?=^  0\n)", text)
        if "OUTSIDE_CUT" in m[0]
    ]


def drop_run(text):
    found = runs(text)[1]
    return text[: found.start()] + text[found.end() :]


def shorten_run(text):
    """Take the last point of a run away: the joint behind it is wider than the others."""
    found = runs(text)[0]
    count = int(re.search(r"\n 90\n *(\d+)\n", found[0])[1])
    at = found[0].rindex("\n 10\n")
    short = re.sub(r"(\n 90\n *)\d+", rf"\g<1>{count - 1}", found[0][:at])
    return text[: found.start()] + short + "\n" + text[found.end() :]


def move_run(text):
    """Shift every point of a run by a hundredth of a mm in y."""
    found = runs(text)[0]
    moved = re.sub(r"(\n 20\n)(\S+)", lambda m: f"{m[1]}{float(m[2]) + 0.01:.10f}", found[0])
    return text[: found.start()] + moved + text[found.end() :]


def no_words(text):
    return re.sub(r"999\nheld by micro-joints[^\n]*\n", "", text)


@pytest.mark.parametrize("change", [drop_run, shorten_run, move_run, no_words])
@pytest.mark.parametrize("kerf", [None, "profile"])
def test_faults_between_micro_joints_are_found(change, kerf, tmp_path):
    made = worked_through(asked=Asked(joints=3, kerf=kerf))
    assert faults_of(made, lambda text: text.replace("job: ", "job:  "), tmp_path / "a") == []
    assert faults_of(made, change, tmp_path / "b")
    assert faults_of(made, change, tmp_path / "c", "_6mm-S355_sheet-")


def closed_run(text):
    """Close the only run of an edge, as if no micro-joint held it."""
    found = runs(text)[0]
    return (
        text[: found.start()] + re.sub(r"(\n 70\n *)0", r"\g<1>1", found[0]) + text[found.end() :]
    )


def test_a_joint_that_is_missing_is_found(tmp_path):
    made = worked_through(asked=Asked(joints=1))
    faults = faults_of(made, closed_run, tmp_path)
    assert any("0 micro-joints, not 1" in line for line in faults)


def shift_mark(text):
    """Move one end of a drill centre by a thousandth of a mm."""
    at = text.index("\n 10\n", text.index("DRILL_CENTRE", text.index("ENTITIES"))) + 5
    if "\nPOLYLINE\n" in text:  # of R12, whose first point is no vertex
        at = text.index("\n 10\n", text.index("\nVERTEX\n", at)) + 5
    end = text.index("\n", at)
    return text[:at] + f"{float(text[at:end]) + 1e-3:.10f}" + text[end:]


def drop_marks(text):
    return text.replace("DRILL_CENTRE", "REFERENCE")


@pytest.mark.parametrize("version", ["R2000", "R12"])
@pytest.mark.parametrize(("change", "says"), [(shift_mark, "a mark on DRILL_CENTRE is not where"),
                                              (drop_marks, "0 marks on DRILL_CENTRE, not")])  # fmt: skip
def test_faults_in_drill_centres_are_found(change, says, version, tmp_path):
    made = worked_through(version, policy="mark")
    for name in ("_outer_left_", "sheet-"):
        folder = tmp_path / name
        hit = "sheets/" if name == "sheet-" else name
        hit = next(n for n in made.files if hit in n and b"\nDRILL_CENTRE\n" in made.files[n])
        assert any(says in line for line in faults_of(made, change, folder, hit))


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
    assert faults_of(made, shift_number, tmp_path / "bad", "_outer_left_")


def test_a_faulty_writer_writes_nothing(tmp_path, monkeypatch):
    made = make(BUGGY, {}, (), "R2000")
    name = next(n for n in made.files if n.endswith(".dxf"))
    made.files[name] = shift_number(made.files[name].decode()).encode()
    with pytest.raises(RuntimeError, match="failed their own check"):
        making.write(made, tmp_path / "out")
    assert list((tmp_path / "out").iterdir()) == []
    assert MANIFEST in made.files
