"""Writes the documents as JSON text that stays the same from run to run and reads well in a diff."""

import json
import os
from typing import Any


def _number(value: float) -> str:
    text = f"{value:.10f}".rstrip("0").rstrip(".") if abs(value) >= 1e-4 or value == 0 else repr(value)
    return "0" if text in ("-0", "") else text


def _text(value: Any, indent: str) -> str:
    if isinstance(value, bool) or value is None or isinstance(value, str):
        return json.dumps(value, ensure_ascii=False)
    if isinstance(value, (int, float)):
        return _number(float(value))
    inner = indent + "  "
    if isinstance(value, dict):
        rows = [f"{inner}{json.dumps(k)}: {_text(v, inner)}" for k, v in value.items()]
        return "{\n" + ",\n".join(rows) + f"\n{indent}}}"
    if all(isinstance(v, (int, float)) for v in value):
        return "[" + ",".join(_number(float(v)) for v in value) + "]"
    rows = [f"{inner}{_text(v, inner)}" for v in value]
    return "[\n" + ",\n".join(rows) + f"\n{indent}]"


def write_document(path: str, document: Any) -> None:
    """Writes one document; numbers keep at most ten decimals, or their exact form when tiny."""
    os.makedirs(os.path.dirname(path), exist_ok=True)
    with open(path, "w", encoding="utf-8", newline="\n") as out:
        out.write(_text(document, "") + "\n")
