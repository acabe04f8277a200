"""Command line: one file for each command; no geometry and no sums in here.

Only the standard library and click are imported at the top: ``partgen --help`` must always work.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from errno import EIO, ENOSPC, EPIPE
from io import BufferedWriter, FileIO, TextIOWrapper
from typing import Any

import click

from partgen import __version__
from partgen.cautions import SHORT
from partgen.cli.adjust import adjust
from partgen.cli.check import check
from partgen.cli.compare import compare
from partgen.cli.cope import cope
from partgen.cli.coupon import coupon
from partgen.cli.demo import demo
from partgen.cli.families import families
from partgen.cli.fit import fit
from partgen.cli.library import library
from partgen.cli.linkage import linkage
from partgen.cli.make import make
from partgen.cli.measure import measure
from partgen.cli.nest import nest
from partgen.cli.picture import picture
from partgen.cli.schema import schema
from partgen.cli.template import template
from partgen.errors import PartgenError

COMMANDS = (
    adjust, check, compare, cope, coupon, demo, families, fit, library, linkage, make, measure,
    nest, picture, schema, template,
)  # fmt: skip


UNSAID = (EPIPE, ENOSPC, EIO)  # of a stream that takes no more


class Commands(click.Group):
    """Shows what is wrong with an input as plain lines, exit status 2; real bugs crash loudly."""

    def make_context(self, *args: Any, **options: Any) -> click.Context:
        """Read what was typed; help and version are said here."""
        _open_what_is_closed()
        with _cut_short():
            return super().make_context(*args, **options)

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command; what it says may be cut short by its reader, or find no room."""
        _show_what_can_be_shown()
        with _cut_short():
            return self._answer(ctx)

    def _answer(self, ctx: click.Context) -> Any:
        try:
            _refuse_lost_folder()
            return super().invoke(ctx)
        except PartgenError as error:
            from partgen.printing.problems import problems

            problems(error.problems, as_json=ctx.meta.get("as_json", False))
            ctx.exit(2)
        finally:
            sys.stdout.flush()


@contextmanager
def _cut_short() -> Iterator[None]:
    """End with exit status 2 where a stream takes no more of what is said."""
    try:
        yield
    except OSError as error:
        if error.errno not in UNSAID:
            raise
        _say_no_more(error)
        raise click.exceptions.Exit(2) from None


def _open_what_is_closed() -> None:
    """Open a standard stream that was closed, to nowhere: else a file written takes its number."""
    for name in ("stdin", "stdout", "stderr"):
        if getattr(sys, name) is None:
            nowhere = BufferedWriter(FileIO(os.devnull, "w"))
            setattr(sys, name, TextIOWrapper(nowhere, encoding="utf-8"))


def _say_no_more(error: OSError) -> None:
    """Say why what was said could not be written, but for a reader that has gone."""
    with suppress(OSError):
        if error.errno != EPIPE:
            print(f"what is printed cannot be written: {error.strerror}", file=sys.stderr)
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except OSError:
            with FileIO(os.devnull, "w") as nowhere:  # where the rest goes
                os.dup2(nowhere.fileno(), stream.fileno())


def _refuse_lost_folder() -> None:
    try:
        os.getcwd()
    except OSError as error:
        raise PartgenError(
            f"the folder you are in cannot be read: {error.strerror or error}; go to another one"
        ) from None


def _show_what_can_be_shown() -> None:
    """Let a console that lacks a letter of a name show another one in its place."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")


@click.group(cls=Commands, epilog=SHORT)
@click.version_option(__version__, prog_name="partgen")
def main() -> None:
    """Make brackets and plates for CNC cutting: built, checked, cut-ready, nested.

    \b
    Exit status:
      0  all well
      1  a rule fails and is not accepted in the job
      2  the input is wrong, or what is printed cannot be written
    """


for command in COMMANDS:
    command.epilog = SHORT
    main.add_command(command)
