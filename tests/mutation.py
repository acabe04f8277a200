"""Break the sums on purpose, one at a time, and see whether a test fails.

    python tests/mutation.py                                    # every file of TARGETS
    python tests/mutation.py partgen/rules/web.py [more files]
    python tests/mutation.py --reasons [files]                  # those that have a reason too

The tests run once as they are, each noting which functions of the targets it calls. A mutant
(``mutation_changes.py``) then replaces the code of its function in a fork of that process, where only
the tests that call it run, the likeliest first. What is no function's code, such as a constant, and
every survivor is tried once more from nothing, in a copy of the project. A mutant that no test
notices is a survivor; those that cannot matter stand in ``mutation_reasons.py`` with why and are passed
over. Exit status 1 if any survivor has no reason, or a reason no mutant. Needs a system with fork.
"""

import ast
import functools
import gc
import os
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from functools import partial
from inspect import CO_OPTIMIZED
from pathlib import Path
from types import CodeType, FunctionType, ModuleType
from typing import Any

import pytest
from mutation_changes import mutants
from mutation_reasons import REASONS

ROOT = Path(__file__).parents[1]
WORKERS = os.cpu_count() or 1
HANGS = 1200  # s of the processor for all tests of one mutant from nothing
TARGETS = sorted(
    str(path.relative_to(ROOT))
    for pattern in (
        "rules/*.py", "fit/*.py", "strength/*.py", "geometry/outline.py", "geometry/belt.py",
        "geometry/nearness.py", "reference/rule_set.py",
    )
    for path in (ROOT / "partgen").glob(pattern)
)  # fmt: skip
TESTS = (
    "tests/rules", "tests/strength", "tests/test_fit.py", "tests/test_bolting.py",
    "tests/test_sleeve.py", "tests/test_outline.py", "tests/test_kernel_edges.py",
    "tests/test_belt.py", "tests/test_nearness.py", "tests/test_assembly.py",
)  # fmt: skip
Key = tuple[str, str, int]  # file, qualified name and first line of a function


@dataclass(frozen=True)
class Mutant:
    """One mistake: where, what, the function's new code (none: not in a function), the source."""

    name: str
    line: int
    text: str
    codes: dict[Key, CodeType]
    source: str

    def __str__(self) -> str:
        return f"{self.name}:{self.line}: {self.text}"

    @property
    def key(self) -> str:
        """Return what names it in the list of reasons."""
        return "".join(f"{function}: " for _, function, _ in self.codes) + self.text

    @property
    def reason(self) -> str | None:
        """Return why no test can notice it."""
        return REASONS.get(self.name, {}).get(self.key)


def functions(code: CodeType, top: Key | None = None) -> Iterator[tuple[CodeType, Key]]:
    """Yield every function's code in a module's, and the key of the outermost it lies in."""
    for part in code.co_consts:
        if isinstance(part, CodeType):
            key = top or (part.co_filename, part.co_qualname, part.co_firstlineno)
            inside = bool(part.co_flags & CO_OPTIMIZED)  # else it is the body of a class
            if inside:
                yield part, key
            yield from functions(part, key if inside else top)


def outermost(tree: ast.Module, path: str) -> dict[Key, CodeType]:
    """Return the functions that lie in no other."""
    found: dict[Key, CodeType] = {}
    for code, key in functions(compile(tree, path, "exec")):
        found.setdefault(key, code)
    return found


def mutants_of(folder: Path, name: str) -> Iterator[Mutant]:
    """Yield the mutants of one file."""
    path = str(folder / name)
    tree = ast.parse((folder / name).read_text(encoding="utf-8"))
    before = outermost(tree, path)
    for line, text in mutants(tree):
        after = outermost(tree, path)
        codes = {k: c for k, c in after.items() if k in before and before[k] != c}
        yield Mutant(name, line, text, codes, ast.unparse(tree))


def copied(folder: Path, source: Path = ROOT) -> Path:
    """Copy the project as it is, or as it was copied before."""
    for part in ("partgen", "profiles", "tests", "demo_parts"):
        ignore = shutil.ignore_patterns("__pycache__")
        shutil.copytree(source / part, folder / part, ignore=ignore)
    shutil.copy(source / "pyproject.toml", folder)
    return folder


@dataclass
class Breaking:
    """A pytest plugin: runs the tests whole once, then each mutant's in forks."""

    folder: Path
    targets: Sequence[str]
    reasoned: bool = False  # try those with a reason too
    callers: dict[Key, list[Any]] = field(default_factory=dict)
    seconds: dict[Any, float] = field(default_factory=dict)
    tried: dict[str, int] = field(default_factory=dict)
    excused: dict[str, set[str]] = field(default_factory=dict)  # the reasons met, by file
    survivors: list[Mutant] = field(default_factory=list)

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Take the place of pytest's own loop."""
        self._watch(session.items)
        told(f"{len(session.items)} tests watched")
        live = [o for o in gc.get_objects() if isinstance(o, FunctionType)]
        self.live = {
            (f.__code__.co_filename, f.__code__.co_qualname, f.__code__.co_firstlineno): f
            for f in live
        }
        self.caches = caches()
        gc.freeze()
        running: dict[int, Mutant] = {}
        for name in self.targets:
            for mutant in mutants_of(self.folder, name):
                self.tried[name] = self.tried.get(name, 0) + 1
                if mutant.reason is not None:
                    self.excused.setdefault(name, set()).add(mutant.key)
                    if not self.reasoned:
                        continue
                items = self._calling(mutant.codes, Path(name).stem)
                if not items:
                    told(f"in no function that is called: {mutant}")
                    self.survivors.append(mutant)
                    continue
                if len(running) >= WORKERS:
                    self._reap(running)
                running[self._fork(mutant.codes, items)] = mutant
            told(f"{name}: {self.tried.get(name, 0)} mutants planted")
        while running:
            self._reap(running)
        return True

    def _watch(self, items: Sequence[Any]) -> None:
        """Run the tests as they are and note what each calls."""
        tops = {
            (code.co_filename, code.co_qualname, code.co_firstlineno): key
            for name in self.targets
            for path in [self.folder / name]
            for code, key in functions(compile(path.read_text("utf-8"), str(path), "exec"))
        }
        known = caches()
        for item in items:
            called: set[Key] = set()

            def note(frame: Any, event: str, arg: Any, called: set[Key] = called) -> None:
                code = frame.f_code
                key = (code.co_filename, code.co_qualname, code.co_firstlineno)
                if key in tops:
                    called.add(tops[key])

            for cache in known:
                cache.cache_clear()
            begin = time.process_time()
            sys.settrace(note)
            try:
                passed = passes(item)
            finally:
                sys.settrace(None)
            if not passed:
                raise SystemExit(f"{item.nodeid} fails before anything is broken")
            self.seconds[item] = time.process_time() - begin
            for key in called:
                self.callers.setdefault(key, []).append(item)

    def tests_of(self, name: str) -> list[str]:
        """Return the names of the tests that call anything in a file, the likeliest first."""
        keys = [key for key in self.callers if key[0] == str(self.folder / name)]
        return [item.nodeid for item in self._calling(keys, Path(name).stem)]

    def _calling(self, keys: Iterable[Key], stem: str) -> list[Any]:
        found = {item for key in keys for item in self.callers.get(key, ())}
        return sorted(found, key=lambda i: (stem not in i.path.stem, self.seconds[i], i.nodeid))

    def _fork(self, codes: dict[Key, CodeType], items: Sequence[Any]) -> int:
        """Run the tests on other code in a fork; its exit status is 0 if all pass."""
        if child := os.fork():
            return child
        status = 1
        try:
            quiet = os.open(os.devnull, os.O_WRONLY)
            os.dup2(quiet, 1)
            os.dup2(quiet, 2)
            limit = 20 + int(5 * sum(self.seconds[i] for i in items))  # a mutant that hangs
            resource.setrlimit(resource.RLIMIT_CPU, (limit, limit))
            resource.setrlimit(resource.RLIMIT_AS, (8 << 30, 8 << 30))
            for key, code in codes.items():
                self.live[key].__code__ = code
            for cache in self.caches:
                cache.cache_clear()
            status = int(not all(passes(item) for item in items))
        finally:
            os._exit(status)

    def _reap(self, running: dict[int, Mutant]) -> None:
        child, status = os.wait()
        mutant = running.pop(child)
        if status == 0:
            told(f"not noticed in a fork: {mutant}{' (has a reason)' if mutant.reason else ''}")
            self.survivors.append(mutant)


def told(line: str) -> None:
    """Say how far it is."""
    print(time.strftime("%H:%M:%S"), line, file=sys.__stderr__, flush=True)


def caches() -> list[Any]:
    """Return every cache of a function's results that there is."""
    return [o for o in gc.get_objects() if isinstance(o, functools._lru_cache_wrapper)]


def passes(item: Any) -> bool:
    """Run one test with fixtures of its own."""
    reports = pytest_runner().runtestprotocol(item, log=False, nextitem=None)
    return not any(report.failed for report in reports)


def pytest_runner() -> ModuleType:
    """Return pytest's running of one test."""
    from _pytest import runner

    return runner


def from_nothing(project: Path, mutants: Sequence[tuple[Mutant, Sequence[str]]]) -> list[Mutant]:
    """Return the mutants that their tests do not notice, each in a copy and a process of its own."""
    whole = list(dict.fromkeys(test for _, tests in mutants for test in tests))
    if whole and not _passes_on(project, whole):
        raise SystemExit("the tests fail from nothing before anything is broken")
    with ThreadPoolExecutor(WORKERS) as pool:
        left = pool.map(lambda pair: _passes_on(project, pair[1], pair[0]), mutants)
        return [mutant for (mutant, _), ok in zip(mutants, left, strict=True) if ok]


def _passes_on(project: Path, tests: Sequence[str], mutant: Mutant | None = None) -> bool:
    with tempfile.TemporaryDirectory() as top:
        folder = copied(Path(top) / "project", project)
        if mutant:
            (folder / mutant.name).write_text(mutant.source, encoding="utf-8")
        return _passes_from_nothing(folder, tests)


def _passes_from_nothing(folder: Path, tests: Sequence[str]) -> bool:
    command = [sys.executable, "-B", "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider"]
    limit = partial(resource.setrlimit, resource.RLIMIT_CPU, (HANGS, HANGS))
    done = subprocess.run([*command, *tests], cwd=folder, capture_output=True, preexec_fn=limit)
    return done.returncode == 0


def main() -> int:
    """Run the files named, or all."""
    reasoned = "--reasons" in sys.argv[1:]
    targets = [name for name in sys.argv[1:] if name != "--reasons"] or TARGETS
    with tempfile.TemporaryDirectory() as top:
        folder = copied(Path(top).resolve() / "project")
        os.chdir(folder)
        sys.path[:0] = [str(folder)]
        breaking = Breaking(folder, targets, reasoned)
        options = ["-p", "no:cacheprovider", f"--basetemp={top}/t"]
        if pytest.main([*options, *TESTS], plugins=[breaking]) not in (0, 5):
            return 1
        assert sys.modules["partgen"].__file__ == str(folder / "partgen" / "__init__.py")
        os.chdir(ROOT)
        return report(breaking)


def report(breaking: Breaking) -> int:
    """Print what is left of each file; return the exit status."""
    unknown = [m for m in breaking.survivors if m.reason is None]
    tests = {name: breaking.tests_of(name) or TESTS for name in breaking.targets}
    left = from_nothing(breaking.folder, [(m, tests[m.name]) for m in unknown])
    idle = 0
    for name in breaking.targets:
        mine = [m for m in left if m.name == name]
        excused = breaking.excused.get(name, set())
        unmet = [f"no such mutant: {key}" for key in REASONS.get(name, {}) if key not in excused]
        idle += len(unmet)
        print(
            f"{name}: {breaking.tried.get(name, 0)} mutants, "
            f"{len(excused)} with a reason, {len(mine)} survive",
            *mine, *unmet, sep="\n    ", flush=True,
        )  # fmt: skip
    return int(bool(left or idle))


if __name__ == "__main__":
    sys.exit(main())
