"""Every mount on the page as it goes together, and pulled apart."""

from __future__ import annotations

from partgen.job.assembly import assemblies
from partgen.job.build import Build
from partgen.packet.assembly_picture import assembly_picture
from partgen.packet.html import Html, inside, picture, section


def assembly_section(build: Build) -> Html:
    """Return a picture of every mount; nothing where none has pieces that have a place."""
    figures = [
        picture(
            assembly_picture(a).decode("utf-8"),
            f"{a.name}, {a.hand} side: together and pulled apart.",
            fine=True,
        )
        for a in assemblies(build)
    ]
    return section("Put together", "assembly", *figures) if figures else inside()
