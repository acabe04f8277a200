"""Subject and peer in turn, both by the processor's time: what a busy machine leaves of a clock."""

import resource
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).parents[2]
for place in (ROOT / "tests", ROOT):  # this tree, whatever else is installed
    sys.path.insert(0, str(place))


def seconds(work: Callable[[], object]) -> float:
    """Return the processor's time of ``work``, in this process and in those it started [s]."""
    begin = time.process_time() + _of_children()
    work()
    return time.process_time() + _of_children() - begin


def _of_children() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def command(*words: object) -> Callable[[], object]:
    """Return what runs this Python with ``words`` in a new process."""
    line = [sys.executable, *map(str, words)]
    return lambda: subprocess.run(line, cwd=ROOT, check=True, capture_output=True)


def row(
    name: str, mine: Callable[[], object], peer: Callable[[], object], runs: int, asked: str = ""
) -> None:
    """Print medians of ``runs`` turns and their ratio."""
    turns = [(seconds(mine), seconds(peer)) for _ in range(runs)]
    a, b = (statistics.median(side) for side in zip(*turns, strict=True))
    print(f"{name:52}{1e3 * a:10.1f}{1e3 * b:10.1f}{a / b:8.2f}  {asked}", flush=True)


def head(peer: str) -> None:
    """Print the line above the rows."""
    print(f"{'processor time in ms, beside ' + peer:52}{'partgen':>10}{'peer':>10}{'ratio':>8}")
