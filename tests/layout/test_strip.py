"""The compiled library as a second opinion: taken when it is right, ignored when it is not."""

import io
import json
import math
import subprocess
import sys
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


class FakeChild:
    """A child that has already answered."""

    def __init__(self, answer, code=0):
        self.answer, self.returncode, self.stdin = answer, code, None
        self.stdout = None

    def communicate(self, timeout):
        return self.answer, None

    def poll(self):
        return self.returncode


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


@pytest.mark.parametrize(
    ("answer", "code"),
    [("", 1), ("not json", 0), ("[]", 0), ("[[0, 0.0, 0.0, 0.0]]", 0), ("", 134)],
)
def test_a_child_that_fails_is_ignored(answer, code, riders):
    found, stock = riders
    run = strip.StripRun(FakeChild(answer, code), strip._groups(found), stock, 6.0)
    assert run.answer(1.0) is None


def test_a_child_that_answers_and_then_fails_is_ignored(riders):
    found, stock = riders
    groups = strip._groups(found)
    answer = json.dumps([[k, 0.0, 0.0, 0.0] for k in range(len(groups))])
    assert strip.StripRun(FakeChild(answer, 0), groups, stock, 6.0).answer(1.0) is not None
    assert strip.StripRun(FakeChild(answer, 1), groups, stock, 6.0).answer(1.0) is None


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


def test_the_answer_is_proposed(monkeypatch, plain_sheet):
    shop = prepare(PIECES, [plain_sheet(2000, 640)], 6.0, 10.0, 4.0)
    search = Search(shop, trial(shop, shop.rough_order), 6.0)
    monkeypatch.setattr(strip, "is_installed", lambda: True)
    monkeypatch.setattr(strip.StripRun, "answer", lambda self, wait: self.stop() or ["here"])
    monkeypatch.setattr(Search, "_shorten_last", lambda self, budget: None)
    search.run(Budget(0, 3.0))
    assert search.proposal == ["here"]


def test_the_library_is_heard_however_much_time_was_given(monkeypatch, plain_sheet):
    """It ends near the end of the time: whoever is done earlier waits till then, and a little."""
    shop = prepare(PIECES, [plain_sheet(2000, 640)], 6.0, 10.0, 4.0)
    search = Search(shop, trial(shop, shop.rough_order), 6.0)
    waited = []
    monkeypatch.setattr(strip, "is_installed", lambda: True)
    monkeypatch.setattr(strip.StripRun, "answer", lambda s, wait: s.stop() or waited.append(wait))
    monkeypatch.setattr(Search, "_shorten_last", lambda self, budget: None)
    search.run(Budget(0, 600.0))
    assert waited[0] == pytest.approx(600 + strip.GRACE, abs=30)


def test_a_proposal_that_overlaps_is_not_taken(monkeypatch, plain_sheet):
    """All pieces at the start of the sheet: the shortest layout there is, and wrong."""

    def heap(self, wait):
        riders = [r for group in self.groups for r in group]
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


def test_the_child_speaks_json(monkeypatch):
    """With a stand-in for the library, so that it runs everywhere."""
    asked = {"height": 100, "gap": 2, "seconds": 1, "workers": 1, "items": []}
    code = (
        "import sys, types; m = types.ModuleType('spyrrow');"
        "m.Item = lambda *a: a; m.StripPackingConfig = lambda **k: k;"
        "P = types.SimpleNamespace(id='0', rotation=90.0, translation=(3.0, 4.0));"
        "S = types.SimpleNamespace(placed_items=[P]);"
        "m.StripPackingInstance = lambda *a: types.SimpleNamespace(solve=lambda c: S);"
        "sys.modules['spyrrow'] = m;"
        "from partgen.layout import strip_child; strip_child.main()"
    )
    run = subprocess.run(
        [sys.executable, "-c", code],
        input=json.dumps(asked),
        capture_output=True,
        text=True,
        check=True,
    )
    assert json.load(io.StringIO(run.stdout)) == [[0, 90.0, 3.0, 4.0]]


@pytest.mark.skipif(
    not strip.is_installed(), reason="the optional packing library is not installed"
)
def test_the_library_itself(riders, independent_faults, plain_sheet):
    found, stock = riders
    run = strip.start(found, stock, 6.0, 1)
    answer = run.answer(30.0)
    assert answer is not None
    assert sorted(p.item for p in answer) == sorted(r.loose.item for r in found)
    sheets = [plain_sheet(2000, 640)]
    layout = lay_out(PIECES, sheets, gap=6, margin=10, seconds=3)
    assert verify(layout, PIECES, sheets, gap=6, margin=10) == []
    assert independent_faults(layout, PIECES, sheets, 6, 10) == []
