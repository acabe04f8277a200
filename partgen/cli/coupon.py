"""``partgen coupon``."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from partgen.cli.options import AS_JSON, PATH, VERSION
from partgen.errors import PartgenError


@click.command(short_help="A test piece that makes your cutting profile.")
@click.option("--plate", help="Plate to cut it from: '6 mm S355', '1/4 in A36'.")
@click.option("--measured", "form", type=PATH, help="A filled-in form: makes a cutting profile.")
@click.option("--cutting", "profile", default="plasma-65a", show_default=True,
              help="Cutting profile it is cut with, or a file of your own.")  # fmt: skip
@click.option("--unit", type=click.Choice(["mm", "in"]), default="mm", show_default=True,
              help="Unit of DXF and form.")  # fmt: skip
@click.option("--out", type=PATH, help="Folder of the coupon; file of the new profile.")
@VERSION
@AS_JSON
@click.pass_context
def coupon(
    ctx: click.Context,
    /,
    plate: str | None,
    form: Path | None,
    profile: str,
    unit: Any,
    out: Path | None,
    version: Any,
    as_json: bool,
) -> None:
    """Make a test piece for kerf, hole error and slot fit, or read its form back.

    First with --plate, then with --measured and the form filled in.
    """
    ctx.meta["as_json"] = as_json
    if (plate is None) == (form is None):
        raise PartgenError("give either --plate, for the test piece, or --measured and its form")
    from partgen.printing import coupon as show
    from partgen.tasks import couponing

    if form is not None:
        found = couponing.measured(form)
        path = out or Path("my-cutting.toml")
        couponing.write_profile(found, path)
        show.measured(found, path, as_json=as_json)
        return
    made = couponing.coupon(plate or "", profile, unit, version)
    folder = out or Path("coupon")
    couponing.write(made, folder)
    show.made(made, folder, as_json=as_json)
