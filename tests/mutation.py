"""Break the sums on purpose, one at a time, and see whether a test fails.

    python tests/mutation.py partgen/rules/web.py tests/rules/test_web.py [more tests ...]
    python tests/mutation.py                       # every pair of PAIRS

Each mutant changes one comparison, one sign, one number, one min/max or one condition in a copy of
the project and runs the named tests. What differs only within a tolerance (SLACK, SAME, TOUCH, ...)
is not tried: no test on real plates can or should tell it. A mutant that no test notices is a
survivor; those that cannot matter are listed in REASONS with why. Exit status 1 if any survivor has
no reason.
"""

import ast
import copy
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

ROOT = Path(__file__).parents[1]
TIME_OUT = 120  # seconds for one mutant's tests; a mutant that hangs is noticed
PAIRS: dict[str, tuple[str, ...]] = {
    "partgen/rules/edge_distance.py": ("tests/rules",),
    "partgen/rules/web.py": ("tests/rules",),
    "partgen/rules/neck.py": ("tests/rules",),
    "partgen/rules/hole_clearance.py": ("tests/rules",),
    "partgen/rules/joint_fit.py": ("tests/rules",),
    "partgen/rules/bolt_thread.py": ("tests/rules",),
    "partgen/rules/joint_room.py": ("tests/rules",),
    "partgen/rules/finding.py": ("tests/rules",),
    **{
        f"partgen/rules/{name}.py": ("tests/rules",)
        for name in (
            "hole_spacing", "greatest_distance", "inside_corner", "hole_size", "small_feature",
            "mark_room", "bend_radius", "bend_room", "gusset_end", "weld_shelf", "plate_end", "drain",
            "bolt_room", "through_bolt", "strength", "screening", "screen_metal", "screen_weld", "ear", "on_rail",
        )
    },
    **{
        f"partgen/strength/{name}.py": ("tests/strength", "tests/rules/test_strength.py")
        for name in (
            "bearing", "bolt_grade", "bolt_shear", "bth_pin", "column", "ear_bending", "en_pin",
            "fillet_weld", "net_section", "pin_connection", "reach", "section", "tear_out",
            "weld_line",
        )
    },
    "partgen/geometry/nearness.py": ("tests/test_nearness.py",),
    "partgen/fit/fit.py": ("tests/test_fit.py", "tests/rules"),
    "partgen/fit/bolting.py": ("tests/test_bolting.py", "tests/rules"),
    "partgen/reference/rule_set.py": ("tests/rules",),
    "partgen/geometry/outline.py": ("tests/test_outline.py", "tests/test_kernel_edges.py"),
    "partgen/geometry/belt.py": ("tests/test_belt.py", "tests/test_kernel_edges.py"),
}  # fmt: skip
# file: {the mutant's text: why no test can notice it}
REASONS: dict[str, dict[str, str]] = {
    "partgen/fit/fit.py": {
        "2 -> 3": "most_plates: more than one is more than one",
        "20 -> 21": "lengths of lists, chosen freely",
        "False -> True": "the same for all that fall short",
        "0 -> 1": "the same for all that fall short",
        "6 -> 7": "digits a sum is rounded to before it is ranked",
    },
    "partgen/geometry/belt.py": {
        "not pin.blend or abs(turn) <= FLAT -> False": "a blend of nothing gives the corner itself",
        "not pin.blend or abs(turn) <= FLAT -> not pin.blend and abs(turn) <= FLAT": "likewise",
        "wrap.bulge -> True": "doubled points are dropped by Outline.of",
        "0.0 -> 1.0": "the bulge of a point without length is dropped by Outline.of",
        "0 -> 1": "a turn between 0 and 1 with a radius of that sign is met by no straight edge",
        "turn > 0 -> turn >= 0": "turns within FLAT are passed over before",
        "pin.radius > 0 -> pin.radius >= 0": "a radius of 0 is passed over before",
        "abs(turn) > 1.6 * pi -> abs(turn) >= 1.6 * pi": "the limit itself is arbitrary",
        "room < -1e-09 -> room <= -1e-09": "a tolerance",
        "1e-09 -> 0.001": "a tolerance",
        "away <= abs(a.radius - b.radius) -> away < abs(a.radius - b.radius)": "both are refused: "
        "a tangent of no length crosses itself",
    },
    "partgen/geometry/outline.py": {
        "s.bulge -> True": "a line has radius 0, and its middle lies on itself",
        "s.bulge > 0 -> s.bulge >= 0": "lines are passed over before",
        "0 -> 1": "either half of a circle has the same centre",
        "outline.area < 0 -> outline.area <= 0": "no area is refused next",
        "2 -> 3": "a finer view of an arc is as good",
        "abs(a.bulge - b.bulge) <= tolerance -> abs(a.bulge - b.bulge) < tolerance": "a tolerance",
        "hypot(a.x - b.x, a.y - b.y) <= tolerance -> hypot(a.x - b.x, a.y - b.y) < tolerance": "a tolerance",
    },
}

COMPARE = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq, ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In,
}  # fmt: skip
TURN = {ast.Lt: ast.Gt, ast.LtE: ast.GtE, ast.Gt: ast.Lt, ast.GtE: ast.LtE}
ARITHMETIC = {ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult}
NAMES = {"min": "max", "max": "min", "any": "all", "all": "any", "sin": "cos", "cos": "sin"}


TOLERANCES = {"SLACK", "SAME", "TOUCH", "FLAT", "CREEP", "CHORD_ERROR", "STRAIGHT"}


def changes(node: ast.AST) -> Iterator[ast.AST]:
    """Yield the node in other words, one change each."""
    match node:
        case ast.Compare(ops=[op]):
            strict = () if _tolerant(node) else (COMPARE,)
            tables = [table for table in (*strict, TURN) if type(op) in table]
            yield from (_with(node, ops=[table[type(op)]()]) for table in tables)
        case ast.BinOp(op=op) if type(op) in ARITHMETIC and not _is_tolerance(node.right):
            yield _with(node, op=ARITHMETIC[type(op)]())
        case ast.UnaryOp(op=ast.USub() | ast.Not(), operand=operand) if not _is_tolerance(operand):
            yield operand
        case ast.BoolOp(op=op):
            yield _with(node, op=ast.And() if isinstance(op, ast.Or) else ast.Or())
        case ast.Constant():
            yield from _constants(node.value)
        case ast.Name(id=name, ctx=ast.Load()) if name in NAMES:
            yield ast.Name(NAMES[name], ast.Load())
        case ast.If(test=test):
            constants = (ast.copy_location(ast.Constant(v), test) for v in (True, False))
            yield from (_with(node, test=constant) for constant in constants)


def _is_tolerance(node: ast.AST) -> bool:
    return isinstance(node, ast.Name) and node.id in TOLERANCES


def _tolerant(node: ast.AST) -> bool:
    return any(_is_tolerance(n) for n in ast.walk(node))


def _with(node: ast.AST, **fields: object) -> ast.AST:
    other = copy.deepcopy(node)
    for name, value in fields.items():
        setattr(other, name, value)
    return other


def _constants(value: object) -> Iterator[ast.AST]:
    if isinstance(value, bool):
        yield ast.Constant(not value)
    elif isinstance(value, int | float):
        yield ast.Constant(value + 1)
        if isinstance(value, float) and 0 < abs(value) < 1e-3:
            yield ast.Constant(value * 1e6)


def mutants(source: str) -> Iterator[tuple[int, str, str]]:
    """Yield line, what was changed, and the whole changed source."""
    tree = ast.parse(source)
    skip = {id(n) for n in _never(tree)}
    for parent in ast.walk(tree):
        for field, value in ast.iter_fields(parent):
            nodes = value if isinstance(value, list) else [value]
            for k, node in enumerate(nodes):
                if not isinstance(node, ast.AST) or id(node) in skip:
                    continue
                for other in changes(node):
                    ast.copy_location(other, node)
                    ast.fix_missing_locations(other)
                    _put(parent, field, value, k, other)
                    text = f"{ast.unparse(_head(node))} -> {ast.unparse(_head(other))}"
                    yield getattr(node, "lineno", 0), text, ast.unparse(tree)
                    _put(parent, field, value, k, node)


def _never(tree: ast.AST) -> Iterator[ast.AST]:
    """Yield what is no sum: annotations, decorators, texts, tolerances' own values."""
    for node in ast.walk(tree):
        if isinstance(node, ast.ClassDef | ast.FunctionDef):
            for decorator in node.decorator_list:
                yield from ast.walk(decorator)
        if isinstance(node, ast.Assign) and any(_is_tolerance(t) for t in node.targets):
            yield from ast.walk(node)
        if isinstance(node, ast.FunctionDef):
            for part in [node.returns, *(a.annotation for a in node.args.args)]:
                yield from ast.walk(part) if part else ()
        if isinstance(node, ast.AnnAssign):
            yield from ast.walk(node.annotation)
        if isinstance(node, ast.keyword) and node.arg == "strict":
            yield node.value
        if isinstance(node, ast.JoinedStr):
            yield from ast.walk(node)


def _put(parent: ast.AST, field: str, value: object, k: int, node: ast.AST) -> None:
    if isinstance(value, list):
        value[k] = node
    else:
        setattr(parent, field, node)


def _head(node: ast.AST) -> ast.AST:
    return node.test if isinstance(node, ast.If) else node


def survives(folder: Path, name: str, source: str, tests: tuple[str, ...]) -> bool:
    """Tell whether the tests pass on the mutant."""
    (folder / name).write_text(source, encoding="utf-8")
    command = [sys.executable, "-B", "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", *tests]
    env = {**os.environ, "PYTHONDONTWRITEBYTECODE": "1"}
    try:
        done = subprocess.run(command, cwd=folder, env=env, capture_output=True, timeout=TIME_OUT)
    except subprocess.TimeoutExpired:
        return False
    return done.returncode == 0


def check(name: str, tests: tuple[str, ...], workers: int) -> list[str]:
    """Return the survivors of one file that have no reason."""
    source = (ROOT / name).read_text(encoding="utf-8")
    jobs = list(mutants(source))
    with tempfile.TemporaryDirectory() as top:
        folders = [Path(top) / str(k) for k in range(workers)]
        for folder in folders:
            for part in ("partgen", "profiles", "tests", "demo_parts"):
                shutil.copytree(
                    ROOT / part, folder / part, ignore=shutil.ignore_patterns("__pycache__")
                )
            shutil.copy(ROOT / "pyproject.toml", folder)
            if not survives(folder, name, source, tests):
                raise SystemExit(f"{name}: its tests fail before anything is broken")

        def share(k: int) -> list[str]:
            return [
                f"{name}:{line}: {text}"
                for line, text, changed in jobs[k::workers]
                if survives(folders[k], name, changed, tests)
            ]

        with ThreadPoolExecutor(workers) as pool:
            left = [line for lines in pool.map(share, range(workers)) for line in lines]
    known = REASONS.get(name, {})
    unknown = [line for line in left if line.split(": ", 1)[1] not in known]
    print(f"{name}: {len(jobs)} mutants, {len(left)} survive, {len(unknown)} without a reason")
    return sorted(unknown)


def main() -> int:
    """Run the files named, or all."""
    pairs = {sys.argv[1]: tuple(sys.argv[2:])} if len(sys.argv) > 2 else PAIRS
    left = [
        line for name, tests in pairs.items() for line in check(name, tests, os.cpu_count() or 1)
    ]
    print(*left, sep="\n")
    return int(bool(left))


if __name__ == "__main__":
    sys.exit(main())
