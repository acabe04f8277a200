"""The most expensive input a command can be given: an answer or one line, in bounded time and memory.

Each runs in a process of its own: 30 s of the processor, and 1 GB of memory with 0.2 GB of address
space for the interpreter and its libraries.
"""

import os
import resource
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "demo_parts" / "hill-trial-buggy.toml"
LINKS = ROOT / "demo_parts" / "hill-trial-buggy-rear-links.toml"
SECONDS, MEMORY, LIBRARIES = 30, 1 << 30, 200 << 20
HEAD = '[job]\nname = "x"\nunits = "mm"\n'
PLATE = (
    '[[part]]\nname = "p{k}"\nfamily = "plate"\nplate = "6 mm S355"\n'
    "points = [[0, 0], [{w}, 0], [{w}, {h}], [0, {h}]]\ncount = {count}\n"
)
SHEET = '[[sheet]]\nplate = "6 mm S355"\nsize = [{w}, {h}]\ncount = 10000\n'


def job(parts=1, w=100, h=60, count=1, sheet=(1250, 2500)):
    plates = "".join(
        PLATE.format(k=k, w=w + k % 97, h=h + k % 53, count=count) for k in range(parts)
    )
    return HEAD + plates + SHEET.format(w=sheet[0], h=sheet[1])


def pattern(times):
    """Return a plate with 236 bolt holes for each time."""
    one = '{{shape = "rectangle", bolt = "M10", at = [4500, 4500], size = [{0}, {0}], count = 60, along = 60}}'
    rows = ", ".join(one.format(8000 - 100 * k) for k in range(times))
    return HEAD + PLATE.format(k=1, w=9000, h=9000, count=1) + f"bolts = [{rows}]\n"


def patterns(plates):
    """Return plates with 2832 bolt holes each."""
    rest = pattern(12).removeprefix(HEAD)
    return HEAD + "".join(rest.replace('"p1"', f'"p{k}"') for k in range(plates))


def chain(links):
    """Return measures that use each other, the first one last."""
    uses = " + ".join(["0 * m{0}"] * 15)
    rows = [f'm{k} = "= 1 + {uses.format(k + 1)}"\n' for k in range(links)]
    return (
        HEAD
        + "[measures]\n"
        + "".join(rows)
        + f"m{links} = 1\n"
        + PLATE.format(k=1, w=90, h=60, count=1)
    )


def sheets(kinds):
    return job() + "".join(SHEET.format(w=300 + k, h=2500) for k in range(kinds))


def mounts(count):
    """Return the buggy's link mount so many times, no rule failing on it."""
    head, first, *_ = DEMO.read_text().split("[[part]]")
    parts = "".join(
        f"[[part]]{first.replace('lower-front-mount', f'mount-{k}')}" for k in range(count)
    )
    return head + parts + SHEET.format(w=1250, h=2500)


def obstacles(count):
    """Return the buggy's rear links with obstacles of 100 points each."""
    head, sheet, tail = LINKS.read_text().partition("[[sheet]]")
    rows = [", ".join(f"[{850 + 3 * j}, {-53 - k}]" for j in range(100)) for k in range(count)]
    row = '[[linkage.obstacle]]\nname = "o{}"\nmount = "lower-front-mount"\nline = [{}]\n'
    return head + "".join(row.format(k, line) for k, line in enumerate(rows)) + sheet + tail


def traced():
    edge = '{ dxf = "t.dxf", known = [[[0, 0], [0, 0]], [[9, 0], [9, 0]]] }'
    rail = f"[rail.main]\nwidth = 60\ndepth = 120\nlower_edge = {edge}\n"
    return HEAD + rail + PLATE.format(k=1, w=90, h=60, count=1)


def lines(count):
    rows = "".join(f"0\nLINE\n8\n0\n10\n{k}\n20\n0\n11\n{k + 1}\n21\n0\n" for k in range(count))
    return "0\nSECTION\n2\nENTITIES\n" + rows + "0\nENDSEC\n0\nEOF\n"


def circles(count):
    rows = "".join(
        f"0\nCIRCLE\n8\n0\n10\n{10 * (k % 300)}\n20\n{10 * (k // 300)}\n40\n3\n"
        for k in range(count)
    )
    return "0\nSECTION\n2\nENTITIES\n" + rows + "0\nENDSEC\n0\nEOF\n"


# name: arguments, text of j.toml, exit status, words of the one line
HOSTILE = {
    "counts": (["make", "j.toml"], job(1000, count=10_000), 2, "at most 2000"),
    "shapes": (["make", "j.toml"], job(301), 2, "of 301 shapes"),
    "narrow-sheet": (["make", "j.toml"], job(w=80, count=100, sheet=(120, 100_000)), 0, ""),
    "pixels": (["picture", "j.toml", "--png", "10000"], job(w=100, h=90_000), 2, "million pixels"),
    "letters": (["picture", "j.toml"], pattern(5), 0, ""),
    "template": (["template", "j.toml"], job(w=90_000, h=90_000), 2, "larger than 1200 mm"),
    "digits": (["check", "j.toml"], job(w=10**4000), 2, "longer than 100 m"),
    "count-digits": (["check", "j.toml"], job(count=10**400), 2, "count"),
    "device": (["coupon", "--plate", "6 mm S355", "--cutting", "zero.toml"], "", 2, "no plain file"),
    "seconds": (["make", "j.toml", "--seconds", "1e300"], job(), 2, "up to 86400"),
    "sweep": (["adjust", "j.toml", "--sweep", "w=1..100000:0.000000001"],
              job() + "[measures]\nw = 1\n", 2, "widen the step"),
    "holes": (["check", "j.toml"], pattern(20), 2, "4720 openings; at most 3000"),
    "bolts": (["check", "j.toml"], patterns(3), 0, ""),
    "mounts": (["check", "j.toml"], mounts(200), 0, ""),
    "obstacles": (["linkage", "j.toml"], obstacles(98), 0, ""),
    "trace": (["check", "j.toml"], traced(), 2, "100000 lines and arcs; at most 2000"),
    "most-kinds": (["make", "j.toml"], sheets(299), 0, ""),
    "chain": (["check", "j.toml"], chain(900), 0, ""),
    "key": (["check", "j.toml"], HEAD + ".".join(["a"] * 400_000) + " = 1", 2, "more than 50 names"),
    "kinds": (["make", "j.toml"], sheets(1000), 2, "more than 300 entries"),
    "pages": (["template", "j.toml"], job(200, w=1000, h=1000), 2, "more than 500 pages"),
    "cell": (["measure", "j.toml", "--as-built", "long.csv"], job(), 2, "cannot be read as CSV"),
    "drawing": (["nest", "--sheet", "1250x2500", "--file-unit", "mm", "a.dxf"], "", 2, "at most 10000"),
    "cope": (["cope", "--tube", "100 m", "--onto", "100 m", "--angle", "0.001"], "", 2, ""),
}  # fmt: skip


def bounded():
    resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS + 1))
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY + LIBRARIES, MEMORY + LIBRARIES))


@pytest.mark.skipif(sys.platform != "linux", reason="limits of a process as Linux has them")
@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_input_is_answered_in_bounds(name, tmp_path):
    args, text, status, words = HOSTILE[name]
    (tmp_path / "j.toml").write_text(text)
    (tmp_path / "a.dxf").write_text(circles(12_000) if "a.dxf" in args else "")
    head = "number,what,target mm,measured\n"
    (tmp_path / "long.csv").write_text(head + "9" * 200_000 + ",a,1,1\n")
    (tmp_path / "t.dxf").write_text(lines(100_000) if name == "trace" else "")
    (tmp_path / "zero.toml").symlink_to("/dev/zero")
    done = subprocess.run(
        [sys.executable, "-m", "partgen", *args],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT), "OPENBLAS_NUM_THREADS": "1"},
        preexec_fn=bounded,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == status, done.stderr[-500:]
    assert "Traceback" not in done.stderr
    if status == 2:
        assert words in done.stderr
        assert done.stderr.strip()
