"""Mutants of the demo jobs: every one must give valid output or lines a person can act on.

    python tests/fuzz/mutants.py 20000 [first seed]     # a report of what was seen; exit 1 on a fault

The text of a job has characters and lines changed, or its values are replaced by hostile ones, or its
numbers scaled. Most are made; a share goes through every other task. The jobs are the demos and one that has
every table. Memory and time are bounded for the whole process.
"""

import random
import re
import resource
import shutil
import sys
import time
import tomllib
from collections import Counter
from collections.abc import Callable
from pathlib import Path

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
sys.path[:0] = [str(ROOT), str(HERE)]

from mutant_tasks import make, tasks, toml_file  # noqa: E402
from mutant_text import change_text, replace_values, scale_numbers  # noqa: E402

from partgen.errors import PartgenError  # noqa: E402

DEMOS = sorted((ROOT / "demo_parts").glob("*.toml"))
EVERY_TABLE = HERE / "every-table.toml"
SCALED = 0.4  # of the mutants by value
EVERY_TABLE_SHARE = 0.2  # of the mutants
OTHER_TASKS = 0.4  # of the mutants; the rest is made
INNER = re.compile(r"function-|constrained-|tuple\[|pydantic")
TOLD = 500  # mutants between two lines of progress
SLOWEST = 30.0  # seconds of the processor for one mutant
MEMORY = 1 << 30  # bytes at the peak


def outcome(work: Callable[[], str]) -> str:
    """Return what came of it, "refused" by lines a person can act on too; else it is a fault."""
    try:
        return work()
    except PartgenError as error:
        if not error.problems:
            raise AssertionError("refused without a word") from error
        for line in error.problems:
            assert line, "an empty line"
            assert line.isprintable(), f"no plain line: {line[:200]!r}"
            assert not INNER.search(line), f"a validator's own word: {line[:200]!r}"
            assert len(line) < 1200, f"a line of {len(line)} characters"
        return "refused"


def with_data(folder: Path) -> Path:
    """Copy what demo jobs name into the folder that mutants are read from; return a drawing."""
    for file in (ROOT / "demo_parts").iterdir():
        if file.suffix in (".csv", ".dxf"):
            shutil.copy(file, folder)
    return folder / "lamp-bracket.dxf"


def work_of(seed: int, folder: Path, drawing: Path) -> Callable[[], str]:
    """Return the work on one mutant."""
    chance = random.Random(seed)
    demo = EVERY_TABLE if chance.random() < EVERY_TABLE_SHARE else chance.choice(DEMOS)
    text = demo.read_text(encoding="utf-8")
    path = folder / "mutant.toml"
    if seed % 2:
        change = scale_numbers if chance.random() < SCALED else replace_values
        path.write_bytes(toml_file(change(tomllib.loads(text), chance)))
    else:
        path.write_bytes(change_text(text, chance).encode("utf-8"))
    others = tuple(tasks(demo, drawing))
    task = chance.choice(others) if chance.random() < OTHER_TASKS else make
    return lambda: task(path, chance)


def memory() -> int:
    """Return the most that was ever used [bytes]."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024


def run(
    count: int, first: int, folder: Path, told: Callable[[str], None] | None = None
) -> tuple[Counter[str], list[str], float]:
    """Return what happened, the faults, and the slowest mutant's seconds."""
    seen: Counter[str] = Counter()
    faults: list[str] = []
    slowest, before = 0.0, memory()
    drawing = with_data(folder)
    for seed in range(first, first + count):
        begin, known = time.process_time(), len(faults)
        try:
            seen[outcome(work_of(seed, folder, drawing))] += 1
        except Exception as error:
            faults.append(f"seed {seed}: {type(error).__name__}: {str(error)[:300]}")
        took = time.process_time() - begin
        slowest = max(slowest, took)
        if took > SLOWEST:
            faults.append(f"seed {seed}: {took:.1f} s")
        if (peak := memory()) > MEMORY > before:
            faults.append(f"seed {seed}: {peak / (1 << 20):.0f} MB of memory")
        before = peak
        done = seed + 1 - first
        if told and (faults[known:] or done % TOLD == 0):
            told(f"{done} of {count}: {dict(seen)} slowest {slowest:.2f} s, {before >> 20} MB")
            for fault in faults[known:]:
                told(f"  {fault}")
    return seen, faults, slowest


if __name__ == "__main__":
    import tempfile
    from functools import partial

    wanted = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    start = int(sys.argv[2]) if len(sys.argv) > 2 else 0
    with tempfile.TemporaryDirectory() as top:
        result, wrong, longest = run(wanted, start, Path(top), partial(print, flush=True))
    print(dict(result), f"slowest {longest:.2f} s; {len(wrong)} faults")
    print(*wrong, sep="\n")
    sys.exit(bool(wrong))
