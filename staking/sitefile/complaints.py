"""What does a failed validation mean, in plain words: where, what, and what to write instead?"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date, time
from types import MappingProxyType
from typing import Any

from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from staking.errors import suggestion
from staking.findings import Finding, Place
from staking.kinds.fields import Record
from staking.sitefile.bounds import BOUNDS, numbers, within
from staking.sitefile.by_kind import TAG
from staking.sitefile.examples import example
from staking.sitefile.places import Places, mistake, plain
from staking.sitefile.slips import ENTRIES
from staking.sitefile.tables import RECORDS, keys_of
from staking.sitefile.toml_lines import Path

_SHORT_POINT: Mapping[str | int, int] = MappingProxyType({"north": 0, "east": 1, "elevation": 2})


def plain_findings(errors: Iterable[ErrorDetails], data: Mapping[str, Any], places: Places) -> Iterator[Finding]:
    """A finding for every mistake; of several about one value only the first."""
    seen = set()
    located = [(error, data_path(error["loc"], data, missing=error["type"] == "missing")) for error in errors]
    without_kind = {path[:-1] for error, path in located if error["type"] == "missing" and path[-1:] == ("kind",)}
    for error, path in located:
        if error["type"] in ("missing", "extra_forbidden") and path[-1] != "kind" and path[:-1] in without_kind:
            continue  # its keys were held against a kind that nobody asked for
        if path not in seen:
            finding = _Complaint(error, path, data, places).finding()
            seen.add(path)
            if finding:
                yield finding


def data_path(loc: tuple[int | str, ...], data: Any, *, missing: bool = False) -> Path:
    """The path in the file for a location in the records: without the names of kinds and of alternatives.

    missing: the last part is a key that is not there.
    """
    path: list[str | int] = []
    if missing and isinstance(loc[-1], int):
        return data_path(loc[:-1], data)  # a list that is too short is wrong itself
    for part in loc[:-1] if missing else loc:
        step: str | int = _SHORT_POINT.get(part, part) if isinstance(data, list) else part
        if isinstance(data, Mapping) and step in data:
            data = data[str(step)]
        elif isinstance(data, list) and isinstance(step, int) and step < len(data):
            data = data[step]
        else:
            continue
        path.append(step)
    return (*path, loc[-1]) if missing else tuple(path)


def table_words(path: Path) -> str:
    """A table as the file writes it: [slab], [[stakes]]; a point by its name."""
    names = ".".join(str(part) for part in path if isinstance(part, str))
    if names in ENTRIES:
        return f"[[{names}]]"
    return f'point "{plain(path[1])}"' if path[:1] == ("points",) and len(path) > 1 else f"[{names}]"


class _Complaint:
    """One failed validation with what is needed to put it in words."""

    def __init__(self, error: ErrorDetails, path: Path, data: Any, places: Places) -> None:
        self.kind_of_error = error["type"]
        self.ctx: Mapping[str, Any] = error.get("ctx", {})
        self.loc = error["loc"]
        self.path = path
        self.places = places
        site = data.get("site") if isinstance(data, dict) else None
        self.metric = isinstance(site, dict) and site.get("unit") == "m"
        self.parent: Any = data
        for part in path[:-1]:
            self.parent = self.parent[part]
        absent = self.kind_of_error == "missing" and not isinstance(self.loc[-1], int)
        self.value: Any = None if absent else self._own(data)

    def _own(self, data: Any) -> Any:
        return self.parent[self.path[-1]] if self.path else data

    def finding(self) -> Finding | None:
        if self.kind_of_error == "missing" and isinstance(self.loc[-1], int):
            return self._said("bad-value", f"{_entries(len(self.value))}; two are meant", self._list_remedy())
        say: Callable[[], Finding | None] = {
            "text": self._text,
            "missing": self._missing,
            "extra_forbidden": self._unknown_key,
            "union_tag_invalid": self._unknown_kind,
            "literal_error": self._not_allowed,
            "too_short": self._too_short,
            "too_long": self._too_long,
        }.get(self.kind_of_error, self._of_wrong_type)
        return say()

    def _said(self, code: str, message: str, remedy: str = "", place: Place | None = None) -> Finding:
        return mistake(code, plain(message, 300), place or self.places.value(self.path), remedy)

    def _text(self) -> Finding:
        message, key = str(self.ctx["message"]), str(self.path[-1])
        # there a key is a name of the writer's; here a side is a length
        shown = "" if self.path[0] in ("setbacks", "as_built") else self._example(key)
        remedy = str(self.ctx["remedy"]) or within(message, self._named(key), key, shown)
        code = next((code for words, code in _CODES.items() if words in message), "bad-value")
        return self._said(code, message, remedy)

    def _missing(self) -> Finding:
        table, key = self.path[:-1], str(self.path[-1])
        if self.path in (("site",), ("site", "unit")):
            return self._no_unit()
        if not table:
            remedy = f"write [{key}] and its keys; `staking new` makes a file to start from"
            return self._said("missing-key", f"the table [{key}] is missing", remedy, self.places.whole())
        note = self._description(key)
        remedy = f"write   {key} = {self._example(key) or '...'}{f'  ({note})' if note else ''}"
        if key == "kind":
            remedy = f"write kind = one of {_listed(self._kinds())}"
        return self._said("missing-key", f'the key "{key}" is missing', remedy, self.places.key(table))

    def _no_unit(self) -> Finding:
        place = replace(self.places.key(("site",)), key="site.unit")
        head = "the table [site] is missing, so nothing says" if self.path == ("site",) else "the file does not say"
        where = "begin the file with [site], a name, and" if self.path == ("site",) else "below [site] write"
        remedy = f"{where} one of\n{UNIT_LINES}"
        return self._said("missing-key", f"{head} which unit its numbers are in", remedy, place)

    @property
    def _table(self) -> str:
        table = [part for part in self.path[:-1] if isinstance(part, str)]
        inner = ".".join(table[:2])
        return inner if "." in inner and inner in RECORDS else (table or [""])[0]

    def _siblings(self) -> Mapping[str, type[Record]]:
        """The records that may stand in this table, by their kinds."""
        return RECORDS.get(self._table, {})

    def _record(self) -> type[Record] | None:
        """The record that the error is in."""
        kinds = [part for part in self.loc if isinstance(part, str) and part.startswith(TAG)]
        kind = kinds[-1].removeprefix(TAG) if kinds and "." not in self._table else ""
        return self._siblings().get(kind)

    def _example(self, key: str) -> str:
        return example(self._table, key, metric=self.metric)

    def _description(self, key: str) -> str:
        named = self._named(key)
        return (named and named.description) or ""

    def _named(self, key: str) -> FieldInfo | None:
        """The field of the record that a file writes as this key."""
        record = self._record()
        fields = record.model_fields if record else {}
        return next((each for each in fields.values() if each.alias == key), fields.get(key))

    def _kinds(self) -> Iterable[str]:
        return RECORDS.get(str(self.path[0]), {}).keys()

    def _unknown_key(self) -> Finding:
        key = str(self.path[-1])
        record = self._record()
        known = keys_of(record) if record else []
        remedy = suggestion(key[:100], known)
        kinds = [kind for kind, other in self._siblings().items() if kind and key in keys_of(other)]
        homes = [home for home in _homes(key) if home != table_words(self.path[:-1])]
        if key in RECORDS and self.path[:-1]:
            remedy = f"write {table_words((key,))} as a table of its own"
        elif kinds:
            remedy = f"only kind = {' or '.join(_listed([kind]) for kind in kinds)} has it"
        elif homes:
            belongs = f"it belongs in {' or '.join(homes[:3])}"
            remedy = f"{remedy}\n{belongs}" if remedy.startswith("did you mean") else belongs
        elif self.path[0] == "points" and isinstance(self.value, (list, dict)):
            remedy = 'put quotes around a point name that holds a dot: "1.5" = [north, east]'
        table = not self.path[:-1] and isinstance(self.value, (dict, list))
        message = f'unknown {"table" if table else "key"} "{plain(key)}"{foreign_letter(key)}'
        return self._said("unknown-key", message, remedy, self.places.key(self.path))

    def _unknown_kind(self) -> Finding:
        kind = self.value["kind"]
        remedy = suggestion(kind[:100] if isinstance(kind, str) else "", self._kinds())
        message = f"unknown kind {_shown(kind)}" if isinstance(kind, str) else f"a kind is a word, not {_found(kind)}"
        return self._said("unknown-kind", message, remedy, self.places.value((*self.path, "kind")))

    def _not_allowed(self) -> Finding:
        allowed = [word.strip("'") for word in self.ctx["expected"].replace(" or ", ", ").split(", ")]
        if self.path == ("site", "unit"):
            return self._said("bad-value", f"{_shown(self.value)} is no unit for a site", f"write one of\n{UNIT_LINES}")
        if isinstance(self.value, str) and not allowed[0].isdigit():
            like = suggestion(self.value[:100], allowed)
            return self._said("bad-value", f"{_shown(self.value)} is not among the words known here", like)
        listed = ", ".join(allowed) if allowed[0].isdigit() else _listed(allowed)
        return self._said("bad-value", f"must be one of {listed}, not {_found(self.value)}", "")

    def _too_short(self) -> Finding | None:
        least = self.ctx["min_length"]
        if len(self.value) >= least:
            return None  # the entries that are wrong have findings of their own
        return self._said("bad-value", f"{_entries(len(self.value))}; at least {least} are needed", self._list_remedy())

    def _too_long(self) -> Finding:
        message = f"{_entries(len(self.value))}; {self.ctx['max_length']} are meant"
        return self._said("bad-value", message, self._list_remedy())

    def _of_wrong_type(self) -> Finding:
        for bound, words in BOUNDS.items():
            if bound in self.ctx:
                remedy = numbers(self._named(str(self.path[-1])))
                return self._said("bad-value", f"must be {words} {self.ctx[bound]}", remedy)
        if self.kind_of_error == "string_too_short":
            return self._said("bad-value", "must not be empty", "write a word or two")
        what, remedy = self._wanted()
        message = f"must be {what}, not {_found(self.value)}" if what else "cannot be used here"
        return self._said("bad-value", message, remedy)

    def _wanted(self) -> tuple[str, str]:
        kind = self.kind_of_error.split("_")[0]
        if self.loc[-1] == "int":  # first of the alternatives for a corner
            return "the name or number of a corner or side", 'write "front-left" or 1'
        if kind == "tuple":
            return "a list", self._list_remedy()
        if kind in ("model", "dict"):
            return "a table", self._table_remedy()
        if kind == "string":
            scalar = isinstance(self.value, (int, float, date, time))
            return "a text", f'put it in quotes: "{plain(_toml(self.value))}"' if scalar else 'write "..."'
        if kind == "date":
            return "a date", "write it without quotes: 2026-04-18"
        return _WANTED.get(kind, ("", ""))

    def _list_remedy(self) -> str:
        name = ".".join(str(part) for part in self.path)
        if name in ENTRIES:
            return f"write [[{name}]] with two brackets, once for each entry"
        return f"write {self._example(str(self.path[-1])) or '[..., ...]'}"

    def _table_remedy(self) -> str:
        name = table_words(self.path)
        if isinstance(self.value, list) and len(self.path) == 1:
            return f"write {name} with single brackets, once"
        if self.path[0] == "points" and len(self.path) == 2:
            return "write { north = ..., east = ... } or [north, east]"
        return f"write {name} on a line of its own, and its keys below"


_CODES: Mapping[str, str] = MappingProxyType(
    {
        "as a length": "bad-length",
        "a length is": "bad-length",
        "not a length": "bad-length",
        "too far away": "bad-length",
        "as a direction": "bad-bearing",
        "a bearing is": "bad-bearing",
        "not a direction": "bad-bearing",
    }
)
_WANTED: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "int": ("a whole number", "write it without quotes and without a point"),
        "float": ("a number", "write it without quotes, as 0.99993"),
        "bool": ("true or false", "write true or false, without quotes"),
    }
)
UNIT_LINES = (
    'unit = "ft"    for international feet (0.3048 m)\n'
    'unit = "ftUS"  for US survey feet (1200/3937 m), as many state grids have it\n'
    'unit = "m"     for metres'
)


def foreign_letter(text: str) -> str:
    """The first letter from outside ASCII by its code point, as an end of a sentence; empty where there is none."""
    odd = next((sign for sign in text if not sign.isascii()), None)
    return f": it holds {plain(odd)}, U+{ord(odd):04X} {unicodedata.name(odd, 'without a name')}" if odd else ""


def _homes(key: str) -> list[str]:
    """The tables that have such a key."""
    found = [name for name, kinds in RECORDS.items() if any(key in keys_of(record) for record in kinds.values())]
    return [table_words((name,)) for name in found if name not in ("", "points")]


def _listed(words: Iterable[str]) -> str:
    return ", ".join(f'"{word}"' for word in words)


def _entries(count: int) -> str:
    return f"{count} {'entry' if count == 1 else 'entries'}"


def _shown(value: Any) -> str:
    return f'"{plain(value)}"' if isinstance(value, str) else _found(value)


def _found(value: Any) -> str:
    """What stands there, by its sort and, where it is short, itself."""
    if isinstance(value, bool):
        return _toml(value)
    if isinstance(value, (dict, list)):
        return "a list" if isinstance(value, list) else "a table"
    if isinstance(value, str):
        return f'the text "{plain(value)}"'
    return f"the number {plain(_toml(value))}" if isinstance(value, (int, float)) else f"the date or time {value}"


def _toml(value: Any) -> str:
    """A value as a file would write it; whole numbers of thousands of digits are not spelled out."""
    if isinstance(value, bool):
        return str(value).lower()
    return str(value) if not isinstance(value, int) or abs(value) < 10**60 else "..."
