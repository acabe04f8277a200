"""A file named in a job lies in the job's folder or below it: every field that names one."""

import os
import tomllib
from pathlib import Path

import pytest

from partgen.errors import PartgenError
from partgen.job.job import read_job

ROOT = Path(__file__).parents[2]
JOB = ROOT / "tests" / "fuzz" / "every-table.toml"
DRAWING = ROOT / "demo_parts" / "lamp-bracket.dxf"
EDGE = "0, 0\n260, 0\n420, -28\n900, -60\n"
SHEETS = '[[sheet]]\nplate = "5 mm S355"\nsize = [900, 900]\n'
KNOWN = [[[0, 0], [0, 0]], [[10, 0], [900, 0]]]


def set_edge(name, **more):
    def change(data):
        data["rail"]["left"]["lower_edge"] = {name: None, **more}
        return data["rail"]["left"]["lower_edge"], name

    return change


def traced(data):
    data["rail"]["left"]["lower_edge"] = {"dxf": None, "known": KNOWN}
    return data["rail"]["left"]["lower_edge"], "dxf"


def outline(data):
    data["sheet"].append({"plate": "5 mm S355", "outline": None})
    return data["sheet"][-1], "outline"


def drawn(data):
    data["part"].append({"name": "lamp", "family": "from-dxf", "plate": "3 mm S355", "file": None})
    return data["part"][-1], "file"


FIELDS = {
    "cutting": (lambda data: (data["job"], "cutting"), "name.toml"),
    "rules": (lambda data: (data["job"], "rules"), "name.toml"),
    "library": (lambda data: (data["job"], "library"), "name.toml"),
    "edge": (set_edge("file"), "name.csv"),
    "trace": (traced, "name.dxf"),
    "outline": (outline, "name.dxf"),
    "from-dxf": (drawn, "name.dxf"),
}
SOUND = {
    "cutting": (ROOT / "profiles" / "cutting" / "plasma-65a.toml").read_text(encoding="utf-8"),
    "rules": 'title = "ours"\nbase = "aisc-360-16"\n',
    "library": f'title = "ours"\nsource = "measured"\nunits = "mm"\n{SHEETS}',
    "edge": EDGE,
    "from-dxf": DRAWING.read_text(encoding="utf-8"),
}


@pytest.fixture
def places(tmp_path, monkeypatch):
    """A job's folder with one below it, a folder beside it, and no user folder."""
    monkeypatch.setattr("partgen.entries.library.user_folder", lambda: tmp_path / "user")
    for name in ("job/below", "other", "user"):
        (tmp_path / name).mkdir(parents=True)
    return tmp_path


def read(folder, field, name):
    data = tomllib.loads(JOB.read_text(encoding="utf-8"))
    table, key = FIELDS[field][0](data)
    table[key] = name
    del data["rail"]["right"]  # the same edge again
    return read_job(data, folder / "job.toml", {})


@pytest.mark.parametrize("way", ["../other/{}", "{there}/other/{}", "below/../../other/{}",
                                 "..\\other\\{}", "C:\\{}", "link/{}", "to-{}"])  # fmt: skip
@pytest.mark.parametrize("field", FIELDS)
def test_a_file_elsewhere_is_refused_in_one_line_that_says_where_to_put_it(places, field, way):
    name = FIELDS[field][1]
    (places / "other" / name).write_text(SOUND.get(field, ""), encoding="utf-8")
    try:
        (places / "job" / "link").symlink_to(places / "other", target_is_directory=True)
        (places / "job" / f"to-{name}").symlink_to(places / "other" / name)
    except OSError:  # Windows, without the right to make links
        if "link" in way or "to-" in way:
            pytest.skip("no links here")
    typed = way.format(name, there=places)
    with pytest.raises(PartgenError) as error:
        read(places / "job", field, typed)
    (line,) = error.value.problems
    assert any(word in line for word in ("folder", "beside the job", os.fspath(places)))


@pytest.mark.parametrize("field", SOUND)
@pytest.mark.parametrize("below", ["", "below/"])
def test_a_file_beside_the_job_or_below_it_is_read(places, field, below):
    name = below + FIELDS[field][1]
    (places / "job" / name).write_text(SOUND[field], encoding="utf-8")
    assert read(places / "job", field, name).parts
