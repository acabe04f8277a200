"""The printed schema against the standard's own meta-schema, and every demo against the schema.

Validator: jsonschema, a general JSON Schema validator (draft 2020-12).
"""

import json
import tomllib
from copy import deepcopy
from pathlib import Path

import pytest
from click.testing import CliRunner
from jsonschema import Draft202012Validator

from partgen.cli import main
from partgen.families import FAMILIES
from partgen.families.sample import NO_PLATE, SAMPLES
from partgen.job.job import JobFile
from partgen.job.schema import _models, job_schema

DEMOS = sorted((Path(__file__).parents[1] / "demo_parts").glob("*.toml"))
SCHEMA = job_schema()
VALIDATOR = Draft202012Validator(SCHEMA)


def demo(path=DEMOS[0]):
    return tomllib.loads(path.read_text(encoding="utf-8"))


def test_it_is_a_schema():
    Draft202012Validator.check_schema(SCHEMA)


def test_the_command_prints_it():
    assert json.loads(CliRunner().invoke(main, ["schema"]).output) == json.loads(json.dumps(SCHEMA))


@pytest.mark.parametrize("path", DEMOS, ids=lambda p: p.stem)
def test_every_demo_is_valid(path):
    assert [e.message for e in VALIDATOR.iter_errors(demo(path))] == []


@pytest.mark.parametrize("family", SAMPLES)
def test_every_sample_is_valid(family):
    job = demo()
    plate = {} if family in NO_PLATE else {"plate": "6 mm S355"}
    job["part"] = [{"name": "p", "family": family} | plate | SAMPLES[family]]
    assert [e.message for e in VALIDATOR.iter_errors(job)] == []


def broken(job, how):
    job = deepcopy(job)
    how(job)
    return job


@pytest.mark.parametrize(
    "how",
    [
        lambda j: j["part"][0].update(widht=3),
        lambda j: j["part"][0].update(family="bracket"),
        lambda j: j["part"][0].pop("family"),
        lambda j: j["part"][0].pop("name"),
        lambda j: j["part"].clear(),
        lambda j: j["job"].update(units="feet"),
        lambda j: j["part"][0].update(count=0),
        lambda j: j["part"][0].update(hands="all"),
        lambda j: j["part"][0].update(name="Upper Case"),
        lambda j: j["sheet"][0].update(size=[1, 2, 3]),
        lambda j: j.update(parts=[]),
    ],
)
def test_mistakes_are_found(how):
    assert not VALIDATOR.is_valid(broken(demo(), how))


def test_every_family_is_in_it_and_only_as_itself():
    """The families' own Literal keys keep the alternatives apart: exactly one matches."""
    for name, family in FAMILIES.items():
        here = SCHEMA["$defs"][family.__name__]["properties"]["family"]
        assert here.get("const", here.get("enum")) == name


def test_no_two_tables_share_a_name():
    models = _models(JobFile, *FAMILIES.values())
    assert len({m.__name__ for m in models}) == len(models)


def test_units_and_limits_are_said():
    tube = SCHEMA["$defs"]["AxleSaddle"]["properties"]
    assert tube["tube"]["description"].startswith("outside diameter of the axle tube; over 0 mm;")
    assert "from 20 to 180 degrees" in tube["wrap"]["description"]
