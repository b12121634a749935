"""Writing a document's values as TOML, the way a person would."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any


def toml_text(values: Mapping[str, Any]) -> str:
    """Write a table of plain values and tables as TOML; keys whose value is None are left out.

    >>> print(toml_text({"name": "a", "wires": {"positions_m": (52.0, 64.25)}}), end="")
    name = "a"
    <BLANKLINE>
    [wires]
    positions_m = [52.0, 64.25]
    """
    return "\n".join(_table(values, "")).strip("\n") + "\n"


def _table(values: Mapping[str, Any], path: str) -> list[str]:
    lines = [
        f"{key} = {_value(item)}" for key, item in values.items() if item is not None and not _nested(item)
    ]
    for key, item in values.items():
        if isinstance(item, Mapping):
            inner = f"{path}.{key}" if path else key
            lines += ["", f"[{inner}]", *_table(item, inner)]
        elif _nested(item):
            for one in item:
                inner = f"{path}.{key}" if path else key
                lines += ["", f"[[{inner}]]", *_table(one, inner)]
    return lines


def _nested(item: Any) -> bool:
    return isinstance(item, Mapping) or (
        isinstance(item, (list, tuple)) and bool(item) and isinstance(item[0], Mapping)
    )


def _value(item: Any) -> str:
    if isinstance(item, bool):
        return "true" if item else "false"
    if isinstance(item, str):
        return json.dumps(item, ensure_ascii=False)
    if isinstance(item, (list, tuple)):
        return "[" + ", ".join(_value(one) for one in item) + "]"
    if isinstance(item, float):
        # adding 0.0 turns -0.0 into 0.0
        return repr(round(item, 9) + 0.0)
    return str(item)
