"""Every verdict code that stands in the source of the rules, found by reading it."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

CARE = Path(__file__).parents[2] / "station" / "care"
CODE = re.compile(r"[a-z]+(?:-[a-z]+)*")
# where the code stands in a call, by the name of what is called
CODE_AT = {"plain": 1, "about": 3, "Reason": 0, "filled": 1, "_stop": 0}
TABLES = ("LIMIT_CODE",)


def codes_in_source() -> dict[str, str]:
    """Each code with the module it was found in."""
    return {
        code: path.name
        for path in sorted(CARE.rglob("*.py"))
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        for code in _codes(node)
        if CODE.fullmatch(code)
    }


def _codes(node: ast.AST) -> Iterator[str]:
    if isinstance(node, ast.Call):
        yield from _of_call(node)
    elif isinstance(node, ast.Tuple) and len(node.elts) > 2 and _is_headline(node.elts[1]):
        yield from _texts(node.elts[0])  # code, headline, why: said further on
    elif isinstance(node, ast.Assign) and isinstance(node.value, ast.Dict):
        names = [target.id for target in node.targets if isinstance(target, ast.Name)]
        yield from (text for value in node.value.values if names[0] in TABLES for text in _texts(value))


def _of_call(call: ast.Call) -> Iterator[str]:
    name = call.func.id if isinstance(call.func, ast.Name) else ""
    if name in CODE_AT and len(call.args) > CODE_AT[name]:
        yield from _texts(call.args[CODE_AT[name]])
    for keyword in call.keywords:
        if keyword.arg == "code":
            yield from _texts(keyword.value)


def _texts(node: ast.expr) -> Iterator[str]:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.IfExp):
        yield from (*_texts(node.body), *_texts(node.orelse))


def _is_headline(node: ast.expr) -> bool:
    """Headlines are the only texts in capitals."""
    parts = node.values if isinstance(node, ast.JoinedStr) else [node]
    return any(isinstance(part, ast.Constant) and str(part.value).isupper() for part in parts)
