"""The last part of the page: every code with what the screen says and what is recorded."""

from collections.abc import Iterator

from station.rehearsal.answers.folding import ands
from station.rehearsal.answers.sentences import Entry, glossary
from station.rehearsal.answers.table import Answer


def said(answers: tuple[Answer, ...]) -> Iterator[str]:
    """One entry for each code, with one example, and every other sentence it is said with."""
    entries, shared = glossary(answers)
    yield "## What the answers say"
    yield "Each code with one example as the screen says it, then what else it may say."
    yield "Several answers may add one of these:"
    yield _quoted(shared)
    for entry in entries:
        yield f"### `{entry.code}`"
        yield _example(entry)


def _example(entry: Entry) -> str:
    verdict = entry.said
    lines = [f"**{verdict.word.value}: {verdict.headline}**. {verdict.why} {verdict.todo} {verdict.note}".strip()]
    if entry.headlines:
        lines += ["", f"Also: {ands(entry.headlines)}"]
    if entry.sentences:
        lines += ["", _quoted(entry.sentences)]
    return "\n".join([*lines, "", f"Recorded: {_recorded(entry)}."])


def _quoted(sentences: tuple[str, ...]) -> str:
    return "\n".join(f"- {sentence}" for sentence in sentences)


def _recorded(entry: Entry) -> str:
    always = ", ".join(entry.always)
    sometimes = f"sometimes {', '.join(entry.sometimes)}" if entry.sometimes else ""
    return ", ".join(part for part in (always, sometimes) if part) or "nothing"
