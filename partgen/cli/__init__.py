"""Command line: one file for each command; no geometry and no sums in here.

Only the standard library and click are imported at the top: ``partgen --help`` must always work.
"""

from __future__ import annotations

import sys
from io import TextIOWrapper
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


class Commands(click.Group):
    """Shows what is wrong with an input as plain lines, exit status 2; real bugs crash loudly."""

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command."""
        _show_what_can_be_shown()
        try:
            return super().invoke(ctx)
        except PartgenError as error:
            from partgen.printing.problems import problems

            problems(error.problems, as_json=ctx.meta.get("as_json", False))
            ctx.exit(2)


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
      2  the input is wrong
    """


for command in COMMANDS:
    command.epilog = SHORT
    main.add_command(command)
