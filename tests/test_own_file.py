"""Single files of ours: whole, and nobody else's touched."""

import pytest

from partgen.errors import PartgenError
from partgen.output.own_file import write_own

OURS = b"made by partgen"


def test_writes_and_replaces_ours(tmp_path):
    path = tmp_path / "new" / "a.pdf"
    write_own(path.parent, {path.name: OURS})
    write_own(path.parent, {path.name: OURS + b" again"})
    assert path.read_bytes() == OURS + b" again"
    assert [p.name for p in path.parent.iterdir()] == ["a.pdf"]
    assert path.stat().st_mode & 0o044 == 0o044


def test_one_foreign_file_stops_all_and_is_named(tmp_path):
    (tmp_path / "b").write_bytes(b"a letter")
    (tmp_path / "c").mkdir()
    (tmp_path / "target").write_bytes(OURS)
    (tmp_path / "d").symlink_to(tmp_path / "target")
    with pytest.raises(PartgenError) as error:
        write_own(tmp_path, dict.fromkeys("abcd", OURS))
    assert len(error.value.problems) == 3
    assert all("choose another --out" in line for line in error.value.problems)
    assert not (tmp_path / "a").exists()
    assert (tmp_path / "b").read_bytes() == b"a letter"


def test_a_place_that_cannot_be_is_an_error_not_a_crash(tmp_path):
    (tmp_path / "file").write_bytes(b"")
    with pytest.raises(PartgenError, match="is a file, no folder; choose another place"):
        write_own(tmp_path / "file", {"a.pdf": OURS})
