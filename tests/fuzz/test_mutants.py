"""A few hundred mutants in the test run; the script beside this makes as many as wanted."""

import importlib.util
from pathlib import Path

_spec = importlib.util.spec_from_file_location("mutants", Path(__file__).with_name("mutants.py"))
mutants = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(mutants)


def test_no_mutant_of_a_demo_falls_over(tmp_path):
    seen, faults, _ = mutants.run(300, 1_000_000, tmp_path)
    assert faults == []
    assert seen["refused"] > 100
    assert seen["made"] + seen["stopped"] > 20
