"""Does the JSON Schema say what may stand in a site file?"""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from staking.sitefile.schema import DRAFT, site_schema
from staking.sitefile.starter import starter_site

SAMPLES = sorted((Path(__file__).parents[2] / "sample_sites").glob("*/site.toml"))


def as_json(text: str) -> Any:
    """The data of a TOML text with its dates as text, as editors hand it to a schema."""
    return json.loads(json.dumps(tomllib.loads(text), default=str))


def test_the_schema_is_one() -> None:
    """It is valid against the meta-schema of its draft."""
    assert site_schema()["$schema"] == DRAFT
    Draft202012Validator.check_schema(site_schema())


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.parent.name)
def test_samples_are_valid(path: Path) -> None:
    """Every sample site is valid against the schema."""
    assert Draft202012Validator(site_schema()).is_valid(as_json(path.read_text(encoding="utf-8")))


def test_the_starter_is_valid() -> None:
    """So is the file to start from, with points in both forms."""
    data = as_json(starter_site().replace("[points]", "[points]\nQ1 = [1, 2, 3]"))
    assert Draft202012Validator(site_schema()).is_valid(data)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('unit = "ft"', 'unit = "feet"'),
        ('width = "24\'"', 'widht = "24\'"'),
        ("[points]", "[points]\nQ1 = [1]"),
        ('kind = "rectangle"', 'kind = "round"'),
        ('kind = "from_lines"', ""),
        ('from = "lot right"', 'from_ = "lot right"'),
    ],
)
def test_mistakes_are_not_valid(old: str, new: str) -> None:
    """An editor marks unknown keys, kinds and words."""
    assert old in starter_site()
    assert not Draft202012Validator(site_schema()).is_valid(as_json(starter_site().replace(old, new)))


def test_every_key_has_its_own_words_only() -> None:
    """No title made up from a field's name is left in the schema."""
    assert json.dumps(site_schema()).count('"title"') == 1
