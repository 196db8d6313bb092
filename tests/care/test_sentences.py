"""Every sentence of every verdict, as an operator reads it: short, one thing to do, and properly said."""

import re
from functools import cache
from pathlib import Path

import pytest

from station.bootstrap import build_player
from station.rehearsal.script import read_script
from tests.rehearsal.plants import site_of

DAYS = sorted((Path(__file__).parents[1] / "rehearsal" / "days").glob("*.jsonl"))
PARTS = ("headline", "why", "todo", "note", "refused")
JARGON = re.compile(r"\b(?:None|null|fact|fold|ledger|enum|TakenOut|boot|segment|True|False)\b|[{}_]|K7-")
# spoken: `an SN-4`, `a PB-1`, `an Sn-Pb`
WRONG_ARTICLE = re.compile(r"\b[Aa] (?:SN-|Sn-|[AEIOUaeio])|\b[Aa]n (?:PB-|LE)|\bAN PB-")


@cache
def reports() -> tuple[dict[str, object], ...]:
    """What was said in all the days."""
    found: list[dict[str, object]] = []
    for day in DAYS:
        site = site_of(day)
        steps = read_script(day, site.zone)
        found += [played.report for played in build_player(site, steps[0].at).play(steps)]
    return tuple(found)


def said() -> tuple[tuple[str, str], ...]:
    """Each different thing said, with the part of the verdict it stood in."""
    found = {(part, str(report[part])) for report in reports() for part in PARTS}
    return tuple(sorted(entry for entry in found if entry[1]))


def test_enough_is_said_to_be_worth_reading() -> None:
    assert len(said()) > 150
    assert len({report["code"] for report in reports()}) > 45


@pytest.mark.parametrize("pattern", [r"  ", r"\s[.,;:]", r"\.\.", r"^\s|\s$", r"\(\)", r" ,"])
def test_nothing_is_spaced_or_stopped_twice(pattern: str) -> None:
    assert [text for _, text in said() if re.search(pattern, text)] == []


def test_sentences_begin_large_and_end() -> None:
    sentences = [text for part, text in said() if part != "headline"]
    assert [text for text in sentences if not text[0].isupper() and not text[0].isdigit()] == []
    assert [text for text in sentences if text[-1] not in ".?!"] == []


def test_each_sentence_within_a_text_begins_large_too() -> None:
    starts = re.compile(r"(?<=[.?!] )[a-z]")
    assert [text for part, text in said() if part != "headline" and starts.search(text)] == []


def test_articles_go_by_the_sound() -> None:
    assert [text for _, text in said() if WRONG_ARTICLE.search(text)] == []


def test_no_words_of_the_workshop_of_programs() -> None:
    assert [text for _, text in said() if JARGON.search(text)] == []


def test_why_and_what_to_do_are_short() -> None:
    assert [text for part, text in said() if part in ("why", "todo") and len(text) > 175] == []
    assert [text for part, text in said() if part == "headline" and len(text) > 34] == []


def test_a_position_is_called_a_line_never_a_bare_number() -> None:
    bare = re.compile(r"\b(?:on|at|of|from|still on) (?:1|2|2A|2B)\b(?! (?:h|min|d|Nov|of))")
    assert [text for _, text in said() if bare.search(text)] == []


def test_every_stop_and_wait_says_what_to_do() -> None:
    refusals = [report for report in reports() if report["verdict"] in ("STOP", "WAIT")]
    assert [report for report in refusals if not report["todo"] or not report["why"]] == []


def test_the_clash_of_metals_stands_in_the_headline() -> None:
    clashes = {report["headline"] for report in reports() if report["code"] == "wrong-alloy"}
    assert clashes == {"Sn-Ag-Cu ON AN Sn-Pb JOB"}
