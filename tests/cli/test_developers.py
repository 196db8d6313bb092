"""DEVELOPERS.md names what is there: functions, modules and files, so that nobody looks for what was renamed."""

import importlib
import re

import pytest

from tests.cli.answers import ROOT

TEXT = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
PACKAGES = "care|labels|services|settings|journal|readings|scanning|printing|rehearsal|ui|cli|bootstrap"
FLAT = TEXT.replace("\n", " ").replace(". ", ".")
NAMES = sorted(
    set(re.findall(rf"`((?:{PACKAGES})(?:\.\w+)+)(?:\(.*?\))?`", TEXT.replace("\n", " ").replace(". ", ".")))
)
FILES = sorted(set(re.findall(rf"`((?:station/)?(?:{PACKAGES}|tests|demo_config)/[\w/.-]*)`", TEXT)))
NEEDS_QT = ("ui", "scanning.wedge", "scanning.serial_port", "printing.queue_target")


@pytest.mark.parametrize("name", [name for name in NAMES if not name.endswith(".py")])
def test_a_name_in_the_text_is_there(name: str) -> None:
    if name.startswith(NEEDS_QT):
        pytest.importorskip("PySide6")
    parts = ["station", *name.split(".")]
    for length in range(len(parts), 0, -1):
        try:
            found: object = importlib.import_module(".".join(parts[:length]))
        except ModuleNotFoundError:
            continue
        for part in parts[length:]:
            assert hasattr(found, part), f"{name}: there is no {part} in {found}"
            found = getattr(found, part)
        return


@pytest.mark.parametrize("file", FILES)
def test_a_file_in_the_text_is_there(file: str) -> None:
    inside = file if file.startswith(("station/", "tests", "demo_config")) else f"station/{file}"
    assert (ROOT / inside).exists()


def test_the_text_names_enough_to_be_worth_checking() -> None:
    assert len(NAMES) > 25
    assert len(FILES) > 15


def test_six_recipes_each_end_in_their_proof() -> None:
    recipes = TEXT.split("\n## Recipes\n")[1].split("\n## ")[0].split("\n### ")[1:]
    assert len(recipes) == 6
    last_steps = [re.split(r"\n\d\. ", recipe)[-1] for recipe in recipes]
    assert all(step.startswith("**Proof**") for step in last_steps)


def test_every_decision_says_context_decision_rejected_consequences() -> None:
    decisions = TEXT.split("\n## Decisions\n")[1].split("\n### ")[1:]
    assert [int(decision.split(".")[0]) for decision in decisions] == list(range(1, len(decisions) + 1))
    for decision in decisions:
        flat = decision.replace("\n", " ")
        for part in ("*Context.*", "*Decision.*", "*Rejected.*", "*Consequences.*"):
            assert part in flat, (decision.splitlines()[0], part)
