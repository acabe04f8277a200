"""A piece of work in a fork of the test run, where it is killed or meets a fault of the disk.

Exit status: 0 if it came to its end, 9 if killed, 2 if it refused in lines, 1 for all else.
"""

import contextlib
import os
import resource
import signal
import warnings
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from partgen.errors import PartgenError

DONE, FAULT, REFUSED, KILLED = 0, 1, 2, 9
CHANGES = ("replace", "fsync", "mkdir", "unlink", "rmdir", "link", "rename", "chmod")
NOBODY = 65534
needs_fork = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")


def _run(prepare: Callable[[], None], work: Callable[[], Any]) -> int:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # threads of libraries, idle here
        child = os.fork()
    if child:
        return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    status = FAULT
    with contextlib.suppress(BaseException):
        try:
            prepare()
            work()
            status = DONE
        except PartgenError as error:
            one_line_each = error.problems and not any("\n" in p for p in error.problems)
            status = REFUSED if one_line_each else FAULT
    os._exit(status)


def killed_before(nth: int, work: Callable[[], Any]) -> int:
    """Kill the work before its nth change of the file system."""
    left = [nth]

    def dying(real: Callable[..., Any]) -> Callable[..., Any]:
        def call(*args: Any, **more: Any) -> Any:
            left[0] -= 1
            if left[0] < 0:
                os._exit(KILLED)
            return real(*args, **more)

        return call

    def prepare() -> None:
        for name in CHANGES:
            setattr(os, name, dying(getattr(os, name)))

    return _run(prepare, work)


def no_room_after(size: int, work: Callable[[], Any], *, kill: bool = False) -> int:
    """Let no file grow beyond a size: the write fails there, or kills the run in its midst."""

    def prepare() -> None:
        signal.signal(signal.SIGXFSZ, signal.SIG_DFL if kill else signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (size, resource.RLIM_INFINITY))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))

    return _run(prepare, work)


def as_nobody(work: Callable[[], Any]) -> int:
    """Do the work as a user without rights, where that can be had."""

    def prepare() -> None:
        if os.geteuid() == 0:
            os.setgroups([])
            os.setgid(NOBODY)
            os.setuid(NOBODY)

    return _run(prepare, work)


def _is_open(folder: Path) -> bool:
    """Tell whether anybody may go into a folder, all above it included."""
    return all(place.stat().st_mode & 0o001 for place in (folder, *folder.parents))


needs_open_tree = pytest.mark.skipif(
    os.name == "posix" and os.geteuid() == 0 and not _is_open(Path(__file__).resolve().parent),
    reason="a user without rights cannot read partgen where it lies: chmod o+x the folders above it",
)


def at_once(works: list[Callable[[], Any]]) -> list[int]:
    """Do several works at the same time, each in a process of its own."""
    children = []
    for work in works:
        child = os.fork()
        if not child:
            os._exit(_run(lambda: None, work))
        children.append(child)
    return [os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) for child in children]


def outcome_of(work: Callable[[], Any]) -> int:
    """Do the work in a process of its own and tell how it ended."""
    return _run(lambda: None, work)
