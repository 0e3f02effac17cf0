"""What may stand in a site file, as editors want to know it: a JSON Schema, draft 2020-12."""

from __future__ import annotations

from typing import Any

from staking.sitefile.declared import Declared

DRAFT = "https://json-schema.org/draft/2020-12/schema"


def site_schema() -> dict[str, Any]:
    """The schema of a site file; keys as files write them, descriptions from the fields themselves.

    A schema cannot know that names fit together or that a text is a length: `read_site` says the last word.

    >>> site_schema()["title"]
    'A site file of staking'
    """
    schema = _tidy(Declared.model_json_schema(by_alias=True))
    schema["properties"]["points"]["additionalProperties"] = _point(schema)
    figure = schema["$defs"]["Setback"]["properties"]["ordinance"]["anyOf"][:2]
    schema["properties"]["setbacks"]["additionalProperties"] = {"anyOf": [*figure, {"$ref": "#/$defs/Setback"}]}
    head = {"$schema": DRAFT, "title": "A site file of staking"}
    return {**head, "description": "What is where on a lot, and where the slab goes. One file a job.", **schema}


def _point(schema: dict[str, Any]) -> dict[str, Any]:
    """A point in its long form, a table, or in its short form, a list."""
    length = schema["$defs"]["GivenPoint"]["properties"]["north"]
    number = {"anyOf": length["anyOf"], "description": length.get("description", "")}
    short = {"type": "array", "items": number, "minItems": 2, "maxItems": 3, "description": "north, east, elevation"}
    return {"anyOf": [{"$ref": "#/$defs/GivenPoint"}, short]}


def _tidy(schema: dict[str, Any]) -> dict[str, Any]:
    """Without the titles made up from field names, and with descriptions on one line."""
    tidy: dict[str, Any] = {}
    for key, value in schema.items():
        if key in ("title", "description") and isinstance(value, str):
            if key == "description":
                tidy[key] = " ".join(value.split())
        else:
            tidy[key] = _tidied(value)
    return tidy


def _tidied(value: Any) -> Any:
    if isinstance(value, dict):
        return _tidy(value)
    return [_tidied(each) for each in value] if isinstance(value, list) else value
