"""What the fields of a person's files mean, as content/fields.yaml says it to the guide and to editors."""

from collections.abc import Mapping
from functools import cache

import yaml

from reportgen.records.base import Record
from reportgen.sheets.shipped import shipped

OF_ALL = "_"
"""The key of what a record as a whole is."""


@cache
def field_texts() -> Mapping[str, Mapping[str, str]]:
    """By the name of each record what it is (`OF_ALL`), and what each of its fields means, by the key that a person
    writes."""
    written = (shipped("content") / "fields.yaml").read_text(encoding="utf-8")
    found: Mapping[str, Mapping[str, str]] = yaml.safe_load(written)
    return found


def texts_of_record(kind: type[Record]) -> Mapping[str, str]:
    """What a record and its fields mean; nothing for one that is no part of a person's file."""
    return field_texts().get(kind.__name__, {})
