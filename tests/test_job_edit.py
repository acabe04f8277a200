"""Editing a job file: only the value changes."""

import os
import stat
import tomllib

import pytest

from partgen.errors import PartgenError
from partgen.output.own_file import write_over
from partgen.tasks.job_edit import edited

TEXT = """# head\r
[job]   # the job
units = "mm"

[measures]
joint_width   = 57            # sleeve,  measured
  rail_width = "50 mm" # calliper
half = "= rail_width / 2"

# tail
[[part]]
name='x'
"""


@pytest.mark.parametrize(
    ("typed", "written"),
    [("63", "63"), ("63.50", "63.5"), ("2-5/8 in", '"2-5/8 in"'), ("-3", "-3"), (".5", '".5"'),
     ("= half * 2", '"= half * 2"'), ("1e3", '"1e3"')],
)  # fmt: skip
def test_only_the_value_changes(typed, written):
    after = edited(TEXT, {"joint_width": typed}, "job.toml")
    assert after == TEXT.replace("= 57 ", f"= {written} ")
    tomllib.loads(after)


def test_several_at_once():
    after = edited(TEXT, {"joint_width": "60", "rail_width": "52 mm"}, "job.toml")
    assert after == TEXT.replace("= 57 ", "= 60 ").replace("50 mm", "52 mm")


def test_dotted_and_inline_tables():
    assert edited("measures.a = 1 # x\n", {"a": "2"}, "j") == "measures.a = 2 # x\n"
    assert (
        edited("measures = { a = 1, b = 2 }\n", {"a": "3"}, "j") == "measures = { a = 3, b = 2 }\n"
    )


def test_a_measure_that_is_not_there_is_named():
    with pytest.raises(
        PartgenError, match=r"joint_widht: no such measure in job\.toml; did you mean"
    ):
        edited(TEXT, {"joint_widht": "3"}, "job.toml")


def test_written_in_one_step_with_its_mode(tmp_path):
    path = tmp_path / "job.toml"
    path.write_bytes(b"old")
    path.chmod(0o640)
    write_over(path, b"old", b"new")
    assert path.read_bytes() == b"new"
    assert stat.S_IMODE(os.stat(path).st_mode) == 0o640
    assert list(tmp_path.iterdir()) == [path]


def test_a_file_changed_meanwhile_is_left_alone(tmp_path):
    path = tmp_path / "job.toml"
    path.write_bytes(b"theirs")
    with pytest.raises(PartgenError, match="changed meanwhile"):
        write_over(path, b"old", b"new")
    assert path.read_bytes() == b"theirs"
    assert list(tmp_path.iterdir()) == [path]


def test_a_link_stays_a_link(tmp_path):
    path, link = tmp_path / "job.toml", tmp_path / "link.toml"
    path.write_bytes(b"old")
    link.symlink_to(path)
    write_over(link, b"old", b"new")
    assert link.is_symlink()
    assert path.read_bytes() == b"new"
