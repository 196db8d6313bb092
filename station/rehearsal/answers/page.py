"""The table as a page of Markdown, for whoever leads a line: what every scan is answered, and what each answer says."""

from collections.abc import Iterator, Sequence
from functools import cache

from station.rehearsal.answers.markdown import table
from station.rehearsal.answers.page_containers import By, cards, containers, folded, states
from station.rehearsal.answers.page_positions import positions
from station.rehearsal.answers.page_sentences import said
from station.rehearsal.answers.table import Answer, all_answers

HEAD = """# What every scan is answered

This page is made from the program by `station answers`; nothing in it is written by hand. Every state was brought about
by real scans in an imagined plant, and then the station itself was asked.

Read the safety data sheet; data sheet, process engineer and local law decide. The station only keeps time and record.

**USE**: it may be used. **WAIT**: not yet. **STOP**: not to be used, or not like this. **DONE**: recorded, or shown.
Beside the word stands a `code`; [the last part](#what-the-answers-say) tells what the screen says with it. Containers,
pastes, times and figures are examples; your own limits stand in the specifications of your pastes.

- A card comes after what it is for: first the container or the tag of a position, then within 10 s the card.
  LOOK comes before it; MOVE may, for one container or for several.
- A container is a jar here, at the dispenser a cartridge. "Another paste" is of the same alloy family.
- "Site allows it" and the like: a choice of `site.toml`."""


@cache
def page() -> str:
    """The whole page."""
    answers = all_answers()
    fixed = _fixed(answers)
    parts = [HEAD, *states(), *containers(answers), *cards(answers), *_alone(answers, fixed)]
    parts += [*positions(answers, fixed), *said(answers)]
    return "\n\n".join(part for part in parts if part) + "\n"


def _fixed(answers: Sequence[Answer]) -> dict[str, str]:
    """Scans that are answered the same in every state and at every place."""
    found: dict[str, set[str]] = {}
    for answer in answers:
        found.setdefault(answer.ask.name, set()).add(answer.short)
    return {name: min(shorts) for name, shorts in found.items() if len(shorts) == 1}


def _alone(answers: Sequence[Answer], fixed: dict[str, str]) -> Iterator[str]:
    yield "## The same in every state and at every place"
    yield table(("scan", "answer"), fixed.items())
    yield "## With nothing scanned before it"
    found: By = {}
    for answer in answers:
        if not answer.lies and not answer.container and answer.ask.name not in fixed:
            found.setdefault(answer.place, {})[answer.ask.name] = answer.short
    yield table(("at", "answer", "scan"), folded(found, "any other card"))
