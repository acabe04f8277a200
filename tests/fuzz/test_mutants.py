"""Some mutants in the test run; the script beside this makes as many as wanted."""

import importlib.util
import random
import tomllib
from pathlib import Path

from partgen.job.build import build
from partgen.job.job import JobFile, load_job
from partgen.rules import check

_spec = importlib.util.spec_from_file_location("mutants", Path(__file__).with_name("mutants.py"))
mutants = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(mutants)

IN_PARTS = ("welded", "stands", "fixed", "features", "space", "windows", "ears")


def test_no_mutant_of_a_demo_falls_over(tmp_path):
    seen, faults, _ = mutants.run(80, 1_000_000, tmp_path)
    assert faults == []
    assert seen["refused"] > 30
    assert seen["made"] + seen["stopped"] > 3
    assert len(seen) > 4  # tasks that came to an end, besides


def test_one_seed_has_every_table_and_passes():
    data = tomllib.loads(mutants.EVERY_TABLE.read_text(encoding="utf-8"))
    assert set(data) == set(JobFile.model_fields)
    assert set(IN_PARTS) <= {key for part in data["part"] for key in part}
    assert "keep_out" in data["sheet"][0]
    found = check(build(load_job(mutants.EVERY_TABLE)))
    assert not any(f.stops for f in found)


def test_hostile_values_reach_every_table():
    """Among a thousand, each table of the job is hit below its own name."""
    data = tomllib.loads(mutants.EVERY_TABLE.read_text(encoding="utf-8"))
    hit = set()
    for seed in range(1000):
        changed = mutants.replace_values(data, random.Random(seed))
        hit |= {key for key in data if changed.get(key) != data[key]}
        for before, after in zip(data["part"], _list(changed.get("part")), strict=False):
            same = isinstance(after, dict)
            hit |= {key for key in before if same and after.get(key) != before[key]}
        for sheet in _list(changed.get("sheet"))[:1]:
            if isinstance(sheet, dict) and sheet.get("keep_out") != data["sheet"][0]["keep_out"]:
                hit.add("keep_out")
    assert {*data, *IN_PARTS, "keep_out"} <= hit


def _list(value):
    return value if isinstance(value, list) else []
