"""Ctrl-C as a user's terminal sends it, to a process that lays out."""

import json
import signal
import subprocess
import sys
import time

import pytest

from partgen.layout import Layout, lay_out
from partgen.sheets import nest as nesting
from partgen.sheets.searching import Searching

SCRIPT = """
import json, signal, sys
signal.signal(signal.SIGINT, signal.default_int_handler)  # a background shell ignores it
from partgen.geometry.belt import rectangle
from partgen.layout import Piece, Sheet, lay_out, verify
pieces = [Piece(f"p{k}", (rectangle(90 + 7 * k, 60 + k),), 500) for k in range(20)]
sheets = [Sheet("s", rectangle(2500, 1250, 0, (1250, 625)), 90)]
told = []
def placing(placed, count):
    if placed // 1000 > len(told):
        told.append(placed)
        print("placed", flush=True)
def progress(length):
    print("searching", flush=True)
layout = lay_out(pieces, sheets, gap=5, margin=8, seconds=120, progress=progress, placing=placing)
faults = verify(layout, pieces, sheets, gap=5, margin=8)
print(json.dumps([len(layout.placements), len(faults), layout.interrupted, told]))
"""


@pytest.mark.skipif(sys.platform == "win32", reason="no SIGINT to another process there")
def test_ten_thousand_plates_tell_how_far_they_are_and_can_be_stopped():
    child = subprocess.Popen([sys.executable, "-c", SCRIPT], stdout=subprocess.PIPE, text=True)
    lines = []
    for line in child.stdout:
        lines.append(line.strip())
        if line.startswith("searching") and lines.count("searching") == 1:
            time.sleep(0.2)
            child.send_signal(signal.SIGINT)
    child.stdout.close()
    assert child.wait(60) == 0
    count, faults, interrupted, told = json.loads(lines[-1])
    assert (count, faults, interrupted) == (10_000, 0, True)
    assert lines[0] == "placed"
    assert told == sorted(told)
    assert len(told) >= 9


def test_what_has_no_place_yet_is_not_kept(plain_sheet, rectangle_piece):
    """An interrupt while the sheets do not hold all: there is nothing to keep."""

    def stop(length):
        raise KeyboardInterrupt

    pieces = [rectangle_piece("a", 200, 200, 9), rectangle_piece("b", 190, 190, 2)]
    with pytest.raises(KeyboardInterrupt):
        lay_out(pieces, [plain_sheet(640, 430)], gap=5, margin=10, seconds=60, progress=stop)


def test_one_interrupt_ends_the_search_for_all_sheets(tmp_path, monkeypatch):
    """The other thicknesses are laid out once, quickly."""
    from partgen.job.build import build
    from partgen.job.job import load_job

    part = """
[[part]]
name = "strap-{t}"
family = "plate"
plate = "{t} mm S355"
points = [[0, 0], [210, 0], [150, 70]]
[[sheet]]
plate = "{t} mm S355"
size = [1000, 500]
"""
    text = '[job]\nname = "Two"\nunits = "mm"\n' + part.format(t=4) + part.format(t=6)
    (tmp_path / "job.toml").write_text(text)
    asked = []

    def laid(pieces, sheets, **kw):
        asked.append((kw["seconds"], kw["steps"]))
        found = lay_out(pieces, sheets, gap=kw["gap"], margin=kw["margin"], steps=0)
        return Layout(found.placements, found.used, interrupted=True)

    monkeypatch.setattr(nesting, "lay_out", laid)
    nesting.nest_job(build(load_job(tmp_path / "job.toml", {})), Searching(seconds=90))
    assert asked == [(pytest.approx(45, abs=5), 60), (None, 0)]
    assert asked[0][0] <= 45


def test_an_interrupt_while_plates_slide_keeps_the_layout(plain_sheet, monkeypatch, some_pieces):
    def stop(*args):
        raise KeyboardInterrupt

    monkeypatch.setattr("partgen.layout.report.compact", stop)
    layout = lay_out(some_pieces(5, 3), [plain_sheet(1500, 500)], gap=5, margin=8, steps=5)
    assert len(layout.placements) == 5
