"""Data as YAML: what any reader of YAML reads back, without what is empty."""

from __future__ import annotations

from plain_yaml import from_yaml

from generator.files.spelling import yaml_text


def test_data_comes_back_in_its_order_without_what_is_empty() -> None:
    found = {"b: c": "yes: [no", "none": None, "empty": [], "many": [{"d": 1, "e": ""}, "two\nlines"], "f": False}
    read = from_yaml(yaml_text(found))
    assert read == {"b: c": "yes: [no", "many": [{"d": "1"}, "two\nlines"], "f": "false"}
    assert list(read) == ["b: c", "many", "f"]
