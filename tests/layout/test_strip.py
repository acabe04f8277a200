"""The compiled library as a second opinion: taken when it is right, ignored when it is not."""

import json
import math
import os
import subprocess
import sys
import time
from dataclasses import replace

import pytest
import shapely

from partgen.geometry.belt import Pin, belt, rectangle
from partgen.geometry.outline import Outline
from partgen.layout import Piece, lay_out, strip, verify
from partgen.layout.budget import Budget
from partgen.layout.compaction import Loose, loosened
from partgen.layout.search import Search
from partgen.layout.shop import prepare, trial

FRAME = Piece("frame", (rectangle(200, 160, 20), rectangle(300, 280, 10)), 2)
DISC = Piece("disc", (Outline.circle(0, 0, 110),), 3)
EAR = Piece("ear", (belt([Pin(0, 0, 8), Pin(150, 0, 8), Pin(40, 120, 25)]),), 4)
PIECES = [FRAME, DISC, EAR]


@pytest.fixture
def riders(plain_sheet):
    shop = prepare(PIECES, [plain_sheet(2000, 640)], 6.0, 10.0, 4.0)
    search = Search(shop, trial(shop, shop.rough_order), 6.0)
    filling = search.best.fillings[0][2]
    turns = (0.0, 90.0, 180.0, 270.0)
    found = [strip.Rider(p, shop.items[p.item][0], turns) for p in loosened(filling)]
    return found, filling.board.stock


def child(code):
    """A stand-in for the child: a process that runs ``code``."""
    return subprocess.Popen(
        [sys.executable, "-c", code],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    )


def run_of(found, stock, code):
    run = strip.StripRun(child(code), strip._groups(found), stock)
    assert run.is_over(60.0)
    return run


def row(groups, x=0.0):
    """All groups at (x, 0)."""
    return json.dumps([[k, 0.0, x, 0.0] for k in range(len(groups))])


def test_plates_in_windows_ride_with_their_host(riders):
    found, _ = riders
    groups = strip._groups(found)
    assert len(groups) == len(found) - 2
    hosts = [g for g in groups if len(g) > 1]
    assert {g[0].piece.name for g in hosts} == {"frame"}


def test_a_group_turns_as_one(riders, metal_of):
    found, _ = riders
    (group, *_) = [g for g in strip._groups(found) if len(g) == 2]
    moved = strip._moved(group, 90.0, 700.0, 50.0)
    shown = [
        metal_of(r.piece, p.x + p.shape.x, p.y + p.shape.y, p.shape.turn)
        for r, p in zip(group, moved, strict=True)
    ]
    before = [
        metal_of(
            r.piece, r.loose.x + r.loose.shape.x, r.loose.y + r.loose.shape.y, r.loose.shape.turn
        )
        for r in group
    ]
    assert shown[0].distance(shown[1]) == pytest.approx(before[0].distance(before[1]), abs=0.01)
    assert shown[0].convex_hull.contains(shown[1])


@pytest.mark.parametrize("said", ["", "not json", "[]", "[[0, 0.0, 0.0, 0.0]]", "{}", "[7]", "3"])
def test_a_child_that_fails_is_ignored(said, riders):
    run = run_of(*riders, f"print({said!r}); raise SystemExit(134)")
    assert run.answer() is None
    assert run.end == float("inf")
    run.stop()


def test_positions_that_are_no_numbers_are_ignored(riders):
    found, stock = riders
    said = row(strip._groups(found)).replace("0.0]", "NaN]")
    run = run_of(found, stock, f"print({said!r})")
    assert run.answer() is None
    run.stop()


def test_the_last_whole_line_counts_however_the_child_ends(riders):
    found, stock = riders
    groups = strip._groups(found)
    far, near = row(groups, 500.0), row(groups)[:-9]
    run = run_of(found, stock, f"print({far!r}); print({near!r}, end=''); raise SystemExit(1)")
    assert len(run.answer()) == len(found)
    assert run.end == max(p.end for p in run.answer())
    run.stop()


def test_a_child_that_goes_on_is_ended(riders):
    found, stock = riders
    groups = strip._groups(found)
    code = f"import time; print({row(groups)!r}, flush=True); time.sleep(600)"
    process = child(code)
    run = strip.StripRun(process, groups, stock)
    while run.answer() is None:
        assert not run.is_over(0.05)
    run.stop()
    assert process.returncode is not None
    assert run.answer() is not None


def test_the_child_ends_with_whoever_asked(riders, tmp_path):
    """The library at work, and nobody left to hear: the process must not go on alone."""
    (tmp_path / "spyrrow.py").write_text(STAND_IN + "def forever(*a):\n    time.sleep(600)\n")
    code = f"import sys; sys.path.insert(0, {str(tmp_path)!r})\n"
    code += f"exec(compile(open({str(strip.CHILD)!r}).read(), 'child', 'exec'))"
    process = child(code)
    process.stdin.write(json.dumps({**ASKED, "height": -1}) + "\n")
    process.stdin.close()
    assert process.wait(60.0) == 0
    process.stdout.close()


def test_a_group_turns_only_as_all_its_plates_may(riders):
    found, _ = riders
    (group, *_) = [g for g in strip._groups(found) if len(g) == 2]
    assert len(strip._turns(group)) == 4
    fixed = [group[0], replace(group[1], turns=(group[1].loose.shape.turn,))]
    assert strip._turns(fixed) == [0.0]


def test_what_the_child_is_asked(riders, monkeypatch):
    """The library keeps its distance from the strip's edges too: the strip is that much wider."""
    found, stock = riders
    told = []
    tell = strip._tell
    monkeypatch.setattr(strip, "_tell", lambda child, text: told.append(text) or tell(child, text))
    run = strip.start(found, stock, 6.0, 3)
    run.stop()
    asked = json.loads(told[0])
    assert asked["gap"] == pytest.approx(6, abs=0.001)
    assert asked["height"] == pytest.approx(640 - 2 * 10 + 2 * 6, abs=0.001)
    assert asked["seconds"] == 3
    areas = sorted(shapely.Polygon(i["points"]).area for i in asked["items"])
    assert areas[-1] == pytest.approx(300 * 280 - (4 - math.pi) * 10**2, rel=1e-4)


def searched(monkeypatch, sheet, seconds, answer, *, over=lambda wait: True):
    """A search with a library that has ``answer``; ``over`` is asked with each wait."""
    shop = prepare(PIECES, [sheet], 6.0, 10.0, 4.0)
    search = Search(shop, trial(shop, shop.rough_order), 6.0)
    monkeypatch.setattr(strip, "is_installed", lambda: True)
    monkeypatch.setattr(strip.StripRun, "answer", lambda self: answer)
    monkeypatch.setattr(strip.StripRun, "end", 1.0)
    monkeypatch.setattr(strip.StripRun, "is_over", lambda self, wait=0.0: over(wait))
    monkeypatch.setattr(Search, "_shorten_last", lambda self, budget: None)
    search.run(Budget(0, seconds))
    return search


def test_the_answer_is_proposed(monkeypatch, plain_sheet):
    search = searched(monkeypatch, plain_sheet(2000, 640), 3.0, ["here"])
    assert search.proposal == ["here"]


def test_an_interrupt_keeps_what_the_library_has(monkeypatch, plain_sheet):
    def over(wait):
        raise KeyboardInterrupt

    search = searched(monkeypatch, plain_sheet(2000, 640), 600.0, ["here"], over=over)
    assert search.proposal == ["here"]
    assert search.interrupted


def test_the_library_is_heard_to_the_end_of_the_time(monkeypatch, plain_sheet):
    """And no longer: it may be late."""
    waits = []
    before = time.monotonic()
    sheet = plain_sheet(2000, 640)
    over = lambda wait: waits.append(wait) or time.sleep(wait)  # noqa: E731
    assert searched(monkeypatch, sheet, 1.5, ["late"], over=over).proposal == ["late"]
    assert sum(waits) > 0.5
    assert time.monotonic() - before < 30


def test_the_search_here_gives_way_to_a_library_that_leads(monkeypatch, plain_sheet):
    """With few cores only; and not while it leads itself."""
    shop = prepare(PIECES, [plain_sheet(2000, 640)], 6.0, 10.0, 4.0)
    heard = []

    def shorten(self, budget):
        for length in (300.0, 1200.0):
            budget.report(length)
            heard.append(budget.is_over)

    monkeypatch.setattr(strip, "is_installed", lambda: True)
    monkeypatch.setattr(strip.StripRun, "answer", lambda self: None)
    monkeypatch.setattr(strip.StripRun, "end", 700.0)
    monkeypatch.setattr(strip.StripRun, "is_over", lambda self, wait=0.0: True)
    monkeypatch.setattr(Search, "_shorten_last", shorten)
    for cores in (2, 8):
        monkeypatch.setattr(os, "cpu_count", lambda cores=cores: cores)
        Search(shop, trial(shop, shop.rough_order), 6.0).run(Budget(0, 60.0))
    assert heard == [False, True, False, False]


def test_a_proposal_that_overlaps_is_not_taken(monkeypatch, plain_sheet):
    """All pieces at the start of the sheet: the shortest layout there is, and wrong."""

    def heap(self):
        riders = [r for group in self._groups for r in group]
        return [Loose(r.loose.item, r.loose.shape, 0.0, 0.0) for r in riders]

    monkeypatch.setattr(strip, "is_installed", lambda: True)
    monkeypatch.setattr(strip.StripRun, "answer", heap)
    monkeypatch.setattr(strip, "CHILD", "/no/such/child.py")
    sheets = [plain_sheet(2000, 640)]
    layout = lay_out(PIECES, sheets, gap=6, margin=10, seconds=2.6)
    assert verify(layout, PIECES, sheets, gap=6, margin=10) == []


def test_without_the_library_the_search_goes_on_alone(monkeypatch, plain_sheet):
    monkeypatch.setattr(strip, "is_installed", lambda: False)
    sheets = [plain_sheet(2000, 640)]
    layout = lay_out(PIECES, sheets, gap=6, margin=10, seconds=0.3)
    assert verify(layout, PIECES, sheets, gap=6, margin=10) == []


ASKED = {"height": 100, "gap": 2, "seconds": 1, "workers": 1, "seed": 1, "items": []}
STAND_IN = """
import time
from types import SimpleNamespace as N
Item = StripPackingConfig = lambda *a, **k: k
ReportType = N(ExplFeas=1, CmprFeas=2)
placed = lambda w: N(width=w, placed_items=[N(id="0", rotation=90.0, translation=(w, 4.0))])
class ProgressQueue(list):
    def drain(self):
        found, self[:] = list(self), []
        return found
def StripPackingInstance(name, height, items):
    return N(solve=forever if height < 0 else solve)
def solve(config, queue):
    queue += [(1, placed(9.0)), (3, placed(2.0)), (2, placed(7.0))]
    time.sleep(0.2)
    queue += [(1, placed(8.0))]
    time.sleep(0.2)
    return placed(6.0)
"""


def test_the_child_tells_every_shorter_strip_that_is_a_layout(tmp_path):
    """With a stand-in for the library, so that it runs everywhere."""
    (tmp_path / "spyrrow.py").write_text(STAND_IN)
    code = f"import sys; sys.path.insert(0, {str(tmp_path)!r})\n"
    code += "from partgen.layout import strip_child; strip_child.main()"
    process = child(code)
    process.stdin.write(json.dumps(ASKED) + "\n")
    process.stdin.flush()
    lines = [json.loads(line) for line in process.stdout]
    assert lines == [[[0, 90.0, 7.0, 4.0]], [[0, 90.0, 6.0, 4.0]]]
    assert process.wait(60.0) == 0
    process.stdin.close()
    process.stdout.close()


@pytest.mark.skipif(
    not strip.is_installed(), reason="the optional packing library is not installed"
)
def test_the_library_itself(riders, independent_faults, plain_sheet):
    found, stock = riders
    run = strip.start(found, stock, 6.0, 1)
    assert run.is_over(60.0)
    answer = run.answer()
    run.stop()
    assert answer is not None
    assert sorted(p.item for p in answer) == sorted(r.loose.item for r in found)
    sheets = [plain_sheet(2000, 640)]
    layout = lay_out(PIECES, sheets, gap=6, margin=10, seconds=3)
    assert verify(layout, PIECES, sheets, gap=6, margin=10) == []
    assert independent_faults(layout, PIECES, sheets, 6, 10) == []
