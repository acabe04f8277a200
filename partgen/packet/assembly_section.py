"""What goes together on the page: every mount, every plate with ears on it, every bent plate."""

from __future__ import annotations

from partgen.job.assembly import assemblies
from partgen.job.build import Build
from partgen.packet.assembly_picture import assembly_picture, caption
from partgen.packet.html import Html, inside, picture, section


def assembly_section(build: Build) -> Html:
    """Return a picture of every assembly; nothing where there is none."""
    figures = [
        picture(
            assembly_picture(a).decode("utf-8"),
            caption(a).replace(", isometric", "."),
            kind="fine",
        )
        for a in assemblies(build)
    ]
    return section("Put together", "assembly", *figures) if figures else inside()
