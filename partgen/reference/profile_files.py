"""The data files under ``profiles/``: where they are and what is in them.

The folder lies beside the modules in a wheel (``partgen/profiles``) and beside the
package in a checkout or an editable install (``profiles``).
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

from partgen.errors import ProfileError, nearest

KINDS = ("tables", "materials", "cutting", "rules", "post", "joints", "sections")


def profiles_dir() -> Path:
    """Return the folder that holds the profiles.

    Raises:
        ProfileError: the folder is in neither place.
    """
    package = Path(__file__).resolve().parents[1]
    places = (package / "profiles", package.parent / "profiles")
    for place in places:
        if (place / "tables").is_dir():
            return place
    raise ProfileError(
        f"profiles: no folder with tables in {places[0]} or {places[1]}; reinstall partgen"
    )


def names(kind: str) -> list[str]:
    """Return the names of one kind of profile, sorted.

    Args:
        kind: one of ``KINDS``.

    Raises:
        ProfileError: the kind is unknown.

    Examples:
        >>> "s355" in names("materials")
        True
    """
    if kind not in KINDS:
        raise ProfileError(f"profiles: kind '{kind}' is unknown; {nearest(kind, KINDS)}")
    return sorted(file.stem for file in (profiles_dir() / kind).glob("*.toml"))


def path(kind: str, name: str) -> Path:
    """Return the file of a profile.

    Raises:
        ProfileError: the kind or the name is unknown.

    Examples:
        >>> path("tables", "iso_273").name
        'iso_273.toml'
    """
    known = names(kind)
    if name not in known:
        raise ProfileError(f"profiles/{kind}: '{name}' is unknown; {nearest(name, known)}")
    return profiles_dir() / kind / f"{name}.toml"


def read(kind: str, name: str) -> dict[str, Any]:
    """Return the contents of a profile as plain data.

    Raises:
        ProfileError: the profile is unknown, or its file is not valid TOML.
    """
    file = path(kind, name)
    try:
        return tomllib.loads(file.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise ProfileError(f"profiles/{kind}/{name}.toml: cannot be read: {error}") from error
