"""Sheets of a job: offcuts from DXF, keep-outs, cost; how its plates may be turned and grouped."""

import json
import tomllib

import pytest
import shapely
from click.testing import CliRunner

from partgen.cli import main
from partgen.dxf.write import Drawing, write
from partgen.errors import PartgenError
from partgen.geometry.belt import belt, corners, rectangle
from partgen.geometry.outline import Outline
from partgen.job.job import load_job
from partgen.tasks.making import make

HEAD = """
[job]
name = "Tank cradle"
units = "mm"

[[part]]
name = "strap"
family = "plate"
plate = "6 mm S355"
points = [[0, 0], [210, 0], [150, 70], [0, 90]]
hands = "left"
count = {count}
{more}

[[sheet]]
plate = "6 mm S355"
"""
L_SHAPE = belt(corners([(40, 20), (640, 20), (640, 220), (340, 220), (340, 620), (40, 620)]))


def job(folder, sheet="size = [1000, 500]", count=5, more=""):
    path = folder / "job.toml"
    path.write_text(HEAD.format(count=count, more=more) + sheet + "\n")
    return path


def refused(path):
    with pytest.raises(PartgenError) as caught:
        make(path, {}, (), "R2000")
    assert all("\n" not in line for line in caught.value.problems)
    return "; ".join(caught.value.problems)


def metal(nest):
    return {
        (p.sheet, p.number, p.piece, p.copy): shapely.Polygon(
            [(v.x, v.y) for v in piece.edge.turned(p.turn).moved(p.x, p.y).vertices]
        )
        for p in nest.layout.placements
        for piece in nest.pieces
        if piece.name == p.piece
    }


def draw(folder, *outlines, name="offcut.dxf", inside=()):
    (folder / name).write_bytes(write(Drawing(outlines, tuple(inside)), unit="mm"))


def test_plates_lie_on_an_offcut_clear_of_its_hole_and_of_rust(tmp_path):
    draw(tmp_path, L_SHAPE, inside=[Outline.circle(150, 400, 90)])
    more = 'outline = "offcut.dxf"\nkeep_out = [{ at = [560, 40], size = [140, 120] }]'
    (nest,) = make(job(tmp_path, more, count=7), {}, (), "R2000").nests
    whole = shapely.Polygon([(v.x - 40, v.y - 20) for v in L_SHAPE.vertices])
    shut = shapely.union_all(
        [shapely.Point(110, 380).buffer(44.9), shapely.box(490, -20, 630, 100)]
    )
    placed = list(metal(nest).values())
    assert len(placed) == 7
    for one in placed:
        assert whole.exterior.distance(one) > 9.999
        assert whole.contains(one)
        assert one.distance(shut) > 9.999


def test_a_drawing_that_is_no_sheet_is_refused(tmp_path):
    path = job(tmp_path, 'outline = "offcut.dxf"')
    assert "sheet[1].outline: 'offcut.dxf': cannot be read" in refused(path)
    square = rectangle(300, 300, 0, (150, 150))
    draw(tmp_path, square, square.moved(400, 0))
    assert "2 outside edges; a sheet has one" in refused(path)
    import ezdxf

    document = ezdxf.new("R2000", units=4)
    bow = [(0, 0), (500, 400), (500, 0), (0, 300)]
    document.modelspace().add_lwpolyline(bow, close=True)
    document.saveas(tmp_path / "offcut.dxf")
    assert "crosses itself" in refused(path)
    (tmp_path / "offcut.dxf").write_bytes(b"no drawing")
    assert "offcut.dxf" in refused(path)
    path = job(tmp_path, 'outline = "../offcut.dxf"')
    assert "in the job's own folder" in refused(path)


@pytest.mark.parametrize(
    ("sheet", "words"),
    [
        ("count = 2", "give size = [length, width] or outline"),
        ("size = [900, 500]\nkeep_out = [{ at = [950, 40], size = [60, 60] }]", "off the sheet"),
        (
            "size = [900, 500]\nkeep_out = [{ at = [50, 40], size = [60, 60] }, "
            "{ at = [80, 40], size = [60, 60] }]",
            "keep_out[2] meets another one",
        ),
        ("size = [900, 500]\ncost = -1", "sheet[1].cost = -1: must be at least 0"),
        ("size = [900, 500]\n[cutting]\npart_gap = 0", "cutting.part_gap = 0: must be more than 0"),
        ("size = [200, 90]", "fits no sheet"),
        ("size = [260, 140]", "4 plates are left: 4 x 'strap/plate/left'"),
    ],
)
def test_sheets_that_make_no_sense(sheet, words, tmp_path):
    assert words in refused(job(tmp_path, sheet))


@pytest.mark.parametrize(
    ("more", "turns"),
    [
        ("turn = [0]", {0.0}),
        ("turn = [30, '200 deg']", {30.0, 200.0}),
        ("turn = 120", {0.0, 120.0, 240.0}),
        ('turn = "any"', {15.0 * k for k in range(24)}),
        ("", {0.0, 90.0, 180.0, 270.0}),
    ],
)
def test_plates_are_turned_as_allowed(more, turns, tmp_path):
    (nest,) = make(job(tmp_path, more=more), {}, (), "R2000").nests
    assert set(nest.pieces[0].turns) == turns
    assert {p.turn for p in nest.layout.placements} <= turns


@pytest.mark.parametrize("turn", ["0.5", "[]", "'any way'", "400"])
def test_turns_that_make_no_sense(turn, tmp_path):
    assert 'part[1] "strap".turn' in refused(job(tmp_path, more=f"turn = {turn}"))


PAIR = """
[[part]]
name = "{name}"
family = "plate"
plate = "6 mm S355"
points = [[0, 0], [{long}, 0], [{long}, 300], [0, 300]]
hands = "left"
{more}
"""


def three_parts(tmp_path, *more):
    text = (tmp_path / "job.toml").read_text()
    parts = [
        PAIR.format(name=n, long=size, more=m)
        for n, size, m in zip(("a", "b", "c"), (420, 400, 380), more, strict=True)
    ]
    head, tail = text.split("[[part]]", 1)
    sheet = tail[tail.index("[[sheet]]") :]
    (tmp_path / "job.toml").write_text(head + "".join(parts) + sheet)
    (nest,) = make(tmp_path / "job.toml", {}, (), "R2000").nests
    return {p.piece.split("/")[0]: p.number for p in nest.layout.placements}


def test_what_belongs_together_and_what_goes_first(tmp_path):
    path = job(tmp_path, "size = [900, 350]\ncount = 2")
    assert three_parts(path.parent, "", "", "") == {"a": 1, "b": 1, "c": 2}
    path = job(tmp_path, "size = [900, 350]\ncount = 2")
    where = three_parts(path.parent, 'together = "set"', "", 'together = "set"')
    assert where["a"] == where["c"] != where["b"]
    path = job(tmp_path, "size = [900, 350]\ncount = 2")
    assert three_parts(path.parent, "", "", "priority = 5")["c"] == 1


@pytest.mark.parametrize(
    ("costs", "used", "total"),
    [
        ((None, None), {"1000x500": 1}, None),  # fewest sheets
        ((50, None), {"400x300": 1}, 0),  # the offcut is paid for
        ((90, 10), {"400x300": 2}, 20),
        ((15, 10), {"1000x500": 1}, 15),
    ],
)
def test_sheets_are_chosen_by_cost_then_number_then_size(costs, used, total, tmp_path):
    whole, small = (f"cost = {c}" if c is not None else "" for c in costs)
    count = 6 if total in (None, 20, 15) else 2
    sheet = (
        f'size = [1000, 500]\n{whole}\n[[sheet]]\nplate = "6 mm S355"\nsize = [400, 300]\n'
        f"count = 3\n{small}"
    )
    (nest,) = make(job(tmp_path, sheet, count=count), {}, (), "R2000").nests
    found = {}
    for u in nest.layout.used:
        found[u.sheet] = found.get(u.sheet, 0) + 1
    assert (found, nest.cost) == (used, total)
    assert len(nest.layout.placements) == count


def run(*args, code=0):
    result = CliRunner().invoke(main, [str(a) for a in args])
    assert result.exit_code == code, result.output
    return result.output


def placements(folder):
    return [s["placements"] for s in json.loads((folder / "job.json").read_text())["sheets"]]


def test_what_was_found_with_time_is_kept_until_something_changes(tmp_path):
    path, out = job(tmp_path, count=7, more="turn = 30"), tmp_path / "out"
    quick = make(path, {}, (), "R2000").nests[0].layout.used_length
    run("make", path, "--out", out, "--seconds", 1.5)
    found = placements(out)
    data = json.loads((out / "job.json").read_text())
    assert data["sheets"][0]["used"][0]["length"] <= quick + 1e-9
    assert "laid out as last time" in run("make", path, "--out", out)
    assert placements(out) == found
    said = run("make", path, "--out", out, "--fresh")
    assert "as last time" not in said
    assert placements(out) == fresh_placements(path)
    job(tmp_path, count=8, more="turn = 30")
    assert "as last time" not in run("make", path, "--out", out)
    assert len(placements(out)[0]) == 8
    job(tmp_path, count=8, more="turn = 30", sheet="size = [1000, 500]\n[cutting]\npart_gap = 9")
    assert "as last time" not in run("make", path, "--out", out)


def fresh_placements(path):
    """What a run without memory places, as job.json has it: to nine decimals."""
    return [
        sheet["placements"]
        for sheet in json.loads(make(path, {}, (), "R2000").files["job.json"])["sheets"]
    ]


def test_a_layout_kept_is_the_same_to_the_last_byte(tmp_path):
    path, out = job(tmp_path, count=7, more="turn = 37"), tmp_path / "out"
    run("make", path, "--out", out)
    first = {p.name: p.read_bytes() for p in out.rglob("*") if p.is_file()}
    assert "laid out as last time" in run("make", path, "--out", out)
    assert {p.name: p.read_bytes() for p in out.rglob("*") if p.is_file()} == first


@pytest.mark.parametrize(
    "spoil",
    [
        lambda s: s["placements"][0].update(x=s["placements"][0]["x"] + 3),
        lambda s: s["placements"].pop(),
        lambda s: s["placements"][0].update(turn=11.0),
        lambda s: s["placements"][0].update(x=float("nan")),
        lambda s: s["used"][0].update(length=12.0),
        lambda s: s["used"].clear(),
        lambda s: s.update(placements="none"),
        lambda s: s.update(digest=None),
    ],
)
def test_a_kept_layout_that_does_not_hold_is_passed_over(spoil, tmp_path):
    path, out = job(tmp_path), tmp_path / "out"
    run("make", path, "--out", out)
    good = placements(out)
    data = json.loads((out / "job.json").read_text())
    spoil(data["sheets"][0])
    (out / "job.json").write_text(json.dumps(data))
    assert "as last time" not in run("make", path, "--out", out)
    assert placements(out) == good


@pytest.mark.parametrize("seconds", ["0", "-3", "nan", "inf", "100000"])
def test_a_time_that_makes_no_sense(seconds, tmp_path):
    result = run("make", job(tmp_path), "--out", tmp_path / "o", "--seconds", seconds, code=2)
    assert "--seconds" in result
    assert not (tmp_path / "o").exists()


def test_offcuts_are_the_sheets_of_the_next_job(tmp_path):
    draw(tmp_path, L_SHAPE, inside=[Outline.circle(500, 120, 60)])
    more = 'outline = "offcut.dxf"\nkeep_out = [{ at = [0, 500], size = [80, 200] }]'
    out = tmp_path / "out"
    run("make", job(tmp_path, more, count=2), "--out", out)
    (entry,) = tomllib.loads((out / "offcuts" / "offcuts.toml").read_text())["sheet"]
    assert entry["plate"] == "6 mm S355"
    used = json.loads((out / "job.json").read_text())["sheets"][0]["used"][0]
    ((drawing),) = (out / "offcuts").glob("*.dxf")
    following = tmp_path / "next"
    (following / "offcuts").mkdir(parents=True)
    (following / "offcuts" / drawing.name).write_bytes(drawing.read_bytes())
    text = (out / "offcuts" / "offcuts.toml").read_text()
    path = job(following, "", count=3)
    path.write_text(path.read_text().replace('\n[[sheet]]\nplate = "6 mm S355"\n', "\n") + text)
    (sheet,) = load_job(path).sheets
    line = used["length"] + 8
    old = shapely.Polygon([(v.x - 40, v.y - 20) for v in L_SHAPE.vertices])
    left = old.intersection(
        shapely.box(line, -1, 700, 700) if used["along"] == "x" else shapely.box(-1, line, 700, 700)
    ).difference(shapely.box(-40, 400, 40, 600))
    assert sheet.shape.outline.area == pytest.approx(left.area, rel=1e-9)
    (nest,) = make(path, {}, (), "R2000").nests
    assert len(nest.layout.placements) == 3
    assert {p.sheet for p in nest.layout.placements} == {entry["name"]}


def test_a_sheet_used_up_leaves_no_offcut(tmp_path):
    made = make(job(tmp_path, "size = [240, 120]", count=1), {}, (), "R2000")
    assert not [name for name in made.files if name.startswith("offcuts/")]


def test_plates_that_may_tip_are_named_unless_they_are_held(tmp_path):
    path = job(tmp_path, "size = [1000, 500]\n[cutting]\nslats = 80")  # 89.1 mm across
    assert "may tip between slats 80 mm apart" in run("make", path, "--out", tmp_path / "a")
    held = run("make", path, "--out", tmp_path / "b", "--joints", 2)
    assert "between slats" not in held
    path = job(tmp_path, "size = [1000, 500]\n[cutting]\nslats = 20")
    assert "between slats" not in run("make", path, "--out", tmp_path / "c")
    path = job(tmp_path, "size = [1000, 500]\n[cutting]\nslats = 120")
    assert "may fall between slats 120 mm apart" in run("make", path, "--out", tmp_path / "d")


def test_the_shipped_profiles_know_of_slats(tmp_path):
    """50 mm, common practice, no source: a disc of 45 mm may fall, one of 95 tip, one of 105 stays."""
    path = tmp_path / "discs.toml"
    disc = '[[part]]\nname = "d{0}"\nfamily = "washer"\ndiameter = {0}\nbolt = "M12"\nplate = "6 mm S355"\n'
    head = '[job]\nname = "Discs"\nunits = "mm"\ncutting = "{}"\n[[sheet]]\nplate = "6 mm S355"\nsize = [900, 500]\n'
    for profile in ("plasma-45a", "plasma-65a"):
        path.write_text(head.format(profile) + "".join(map(disc.format, (45, 95, 105))))
        tips = [t for p in make(path, {}, (), "R2000").plans for t in p.tips]
        assert [t.split(": ")[1][:8] for t in tips] == ["may fall", "may tip "]
        assert [t[:3] for t in tips] == ["d45", "d95"]


def test_progress_is_one_line_and_only_on_a_terminal():
    import io

    from partgen.printing.progress import progress
    from partgen.sheets.searching import Searching

    class Terminal(io.StringIO):
        def isatty(self):
            return True

    screen = Terminal()
    with progress(screen) as told:
        Searching(told=told).progress("6 mm S355")(480.0)
    assert "\n" not in screen.getvalue()
    assert "\r6 mm S355: 480.0 mm of sheet used; Ctrl-C keeps it" in screen.getvalue()
    with progress(io.StringIO()) as told:
        assert told is None
