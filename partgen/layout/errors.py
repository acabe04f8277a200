"""What goes wrong when plates are laid out."""

from __future__ import annotations

from partgen.errors import PartgenError


class LayoutError(PartgenError):
    """The plates cannot be laid out on these sheets with these distances."""
