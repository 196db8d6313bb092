"""The published table is whole: every state, place, scan and code of the rules stands in it, as they say it."""

from collections.abc import Iterable
from pathlib import Path
from typing import get_args

import pytest

from station.care.reasons import SEVERITY
from station.care.scans import Scan
from station.care.words import Card, HoldReason, Limit, Place, Stage, Word
from station.rehearsal.answers import scans
from station.rehearsal.answers.containers import STATES
from station.rehearsal.answers.hands import NOW, Hands, ScriptBroken
from station.rehearsal.answers.page import page
from station.rehearsal.answers.plant import PLACES
from station.rehearsal.answers.sentences import glossary, kind_of, parts_of, sentences_of
from station.rehearsal.answers.table import ASKED, Answer, all_answers
from tests.rehearsal.verdict_codes import codes_in_source

# whichever test comes first builds the whole table, for all of the group: a minute, and more on a busy machine
pytestmark = [pytest.mark.timeout(400), pytest.mark.xdist_group("answers")]

PUBLISHED = Path(__file__).parents[2] / "resources" / "help" / "answers.md"
NO_SCAN = "a shift lead says it at the desk, by badge and PIN; no scan leads to it"
NOT_IN_THE_TABLE = {
    "extended": NO_SCAN,
    "gains-nothing": NO_SCAN,
    "taken-out-late": NO_SCAN,
    "all-moved": NO_SCAN,
    "all-out": NO_SCAN,
    "version-chosen": NO_SCAN,
    "alarm-shelved": NO_SCAN,
    "alarm-unshelved": NO_SCAN,
    "room-outside": "said by the form of the room air; no scan leads to it",
    "room-read": "said by the form of the room air; no scan leads to it",
    "readings-back": NO_SCAN,
    "minutes-back": NO_SCAN,
    "excursions-seen": NO_SCAN,
    "count-settled": "said by the form of a count's differences; no scan leads to it",
    "received": "said by the form of a delivery; no scan leads to it",
    "restored-released": "said by the form of the day list after a restore; no scan leads to it",
    "thawed-long": "a thaw that ends puts its container on hold in the same moment, and held is said first",
}
NEVER_RUNS = {
    Limit.PAUSE: "a pause has no limit of its own running: what it comes to is said on resume",
    Limit.OFF_LIST: "no list changes in the states that are asked; tests/care/test_off_its_list.py changes them",
}


# what was seen of a box holds like every other reason, and tests/care/test_delivery.py says each;
# a hold since a restore is said by its note, see tests/care/test_after_restore.py
SAID_ELSEWHERE = {
    HoldReason.BOX_DAMAGED,
    HoldReason.BOX_WET,
    HoldReason.PACKS_MELTED,
    HoldReason.PACKS_MISSING,
    HoldReason.INCOMING_TEST,
    HoldReason.RESTORED,
}


def whole(wanted: Iterable[object], found: Iterable[object], excused: Iterable[object] = ()) -> None:
    """Nothing wanted is missing but what is excused, and nothing is excused that is there."""
    there = set(found)
    assert [one for one in wanted if one not in there and one not in set(excused)] == []
    assert [one for one in excused if one in there] == []


def told() -> set[str]:
    return {answer.decision.verdict.code for answer in all_answers()}


# ------------------------------------------------------------------ the page


def test_the_published_page_is_what_the_program_says() -> None:
    text = PUBLISHED.read_text(encoding="utf-8")
    assert text == page(), "The rules answer otherwise now: run `python -m station answers resources/help/answers.md`."


def test_the_page_can_be_read_and_tells_nothing_of_the_machine_it_was_made_on() -> None:
    size = len(page().encode())
    assert 60_000 < size < 180_000
    machine = (str(Path(__file__).parents[2]), f"{Path.home()}/", "site-packages", "None", "object at")
    assert [word for word in machine if word in page()] == []


def test_every_code_has_its_entry_and_every_entry_an_example_with_both_sentences() -> None:
    entries, _ = glossary(all_answers())
    assert [entry.code for entry in entries] == sorted(told())
    assert [entry.code for entry in entries if not (entry.said.headline and entry.said.why and entry.said.todo)] == []


def test_every_sentence_ever_said_stands_on_the_page() -> None:
    """In the same words, though with other numbers, names and times."""
    lines = (line.removeprefix("- ") for line in page().splitlines())
    there = {kind_of(sentence) for line in lines for sentence in parts_of(line)}
    said = {kind_of(text) for answer in all_answers() for text in sentences_of(answer.decision.verdict)}
    assert len(said) > 200
    whole(said, there)


def test_what_changes_from_day_to_day_makes_no_other_sentence() -> None:
    one = "K1 002 has been open since Tue 9 Mar 22:00, 3 h 10 left in it (open life)."
    other = "K7 311 has been open since 08:15, 43 min left in it (room life)."
    assert kind_of(one) == kind_of(other)
    assert kind_of("Line 2A is not paused.") == kind_of("H1 is not paused.")
    assert kind_of("Leave it in.") != kind_of("Leave it out.")


# ------------------------------------------------------------------ nothing is left out


def test_every_place_is_asked() -> None:
    whole(Place, (place.kind for place in ASKED))


def test_every_stage_of_a_container_is_asked() -> None:
    stages = set()
    for answer in all_answers():
        hands = answer.case.hands
        found = hands.station.ledger.containers.get(hands.name("it"))
        if found is not None:
            stages.add(hands.floor_at(NOW).stage(found))
    whole(Stage, stages)


@pytest.mark.parametrize("first", ["nothing", "container", "tag"])
def test_every_card_is_asked_at_every_place(first: str) -> None:
    asks = {"nothing": scans.PLAIN, "container": scans.AFTER_CONTAINER, "tag": scans.AFTER_TAG}[first]
    for place in ASKED:
        if place.positions or first != "tag":
            asked = (answer.ask for answer in all_answers() if answer.place == place.id)
            whole(Card, (ask.card for ask in asked if ask in asks))


def test_every_kind_of_scan_is_asked() -> None:
    whole(get_args(Scan), {type(answer.case.scan(answer.ask.codes[-1])) for answer in all_answers()})


def test_every_state_is_asked_with_every_scan_at_every_place() -> None:
    """But a time label where none was printed, a newer one of what has no record, and another jar where none is."""
    beside = (scans.PAIRED, scans.OTHERS_FIRST, scans.OTHERS_LAST)
    depends = (scans.TIME_LABEL, scans.OLD_LABEL, scans.NEWER_LABEL, *beside)
    asks = [ask for ask in scans.OF_CONTAINER if ask not in depends]
    asked = {(answer.place, answer.container, answer.ask) for answer in all_answers() if not answer.lies}
    wanted = [(place.id, state.name, ask) for place in ASKED for state in STATES for ask in asks]
    assert len(wanted) > 20_000
    whole(wanted, asked)
    whole(depends, (ask for _, _, ask in asked))


def test_every_reason_for_a_hold_is_said() -> None:
    said = " ".join({answer.decision.verdict.why for answer in all_answers()})
    whole(HoldReason, (reason for reason in HoldReason if reason.value in said), SAID_ELSEWHERE)


def test_every_limit_runs_or_rings_in_some_state() -> None:
    raised = {body.limit for answer in all_answers() for body in answer.decision.bodies if body.NAME == "alarm-raised"}  # type: ignore[union-attr]  # the name says which fact it is
    whole(Limit, raised.union(*(answer.limits for answer in all_answers())), NEVER_RUNS)


def test_every_word_is_said() -> None:
    whole(Word, (answer.decision.verdict.word for answer in all_answers()))


def test_every_reason_against_use_is_said() -> None:
    excused = [code for code in SEVERITY if code in NOT_IN_THE_TABLE]
    whole(SEVERITY, told(), excused)


def test_every_code_in_the_source_of_the_rules_is_said() -> None:
    whole(codes_in_source(), told(), NOT_IN_THE_TABLE)


def test_no_code_is_said_that_reading_the_source_does_not_find() -> None:
    """Else the test above would be blind to others of its kind."""
    whole(told(), codes_in_source())


# ------------------------------------------------------------------ what it says is so


def test_an_answer_asked_for_is_the_one_that_is_given() -> None:
    """One of each code at each place, done for real: the same word, and these facts written first."""
    first: dict[tuple[str, str], Answer] = {}
    for answer in all_answers():
        first.setdefault((answer.place, answer.decision.verdict.code), answer)
    assert len(first) > 300
    for answer in first.values():
        outcome = answer.case.act(answer.ask.codes)
        assert outcome.verdict is not None
        assert (outcome.verdict.word, outcome.verdict.code) == (
            answer.decision.verdict.word,
            answer.decision.verdict.code,
        )
        names = [body.NAME for body in answer.decision.bodies]
        assert [fact.body.NAME for fact in outcome.facts][: len(names)] == names


def test_asking_changes_nothing() -> None:
    answer = next(found for found in all_answers() if found.decision.bodies)
    before = list(answer.case.hands.journal.facts())
    answer.case.act(answer.ask.codes)
    assert list(answer.case.hands.journal.facts()) == before


NOT_FOR_USE = ("received", "in the cold", "frozen paste on its way", "out, not ready", "ended")


def test_use_is_said_of_nothing_that_is_not_ready_over_held_or_ended() -> None:
    words = ("over", "held", "bad", "often", "not known", "swapped")
    bad = {state.name for state in STATES if state.of in NOT_FOR_USE or any(word in state.name for word in words)}
    assert len(bad) > 45
    use = {answer.container for answer in all_answers() if answer.decision.verdict.word is Word.USE}
    assert len(use) > 10
    assert use & bad == set()


def test_a_look_writes_nothing_and_never_says_use() -> None:
    looks = [answer for answer in all_answers() if answer.ask is scans.LOOKED_AT]
    assert len(looks) == len(ASKED) * len(STATES)
    assert {answer.decision.verdict.word for answer in looks} == {Word.DONE, Word.STOP, Word.WAIT}
    counted = [answer for answer in looks if "counted" in {body.NAME for body in answer.decision.bodies}]
    assert {answer.place for answer in counted} == {"FRIDGE"}  # while it is counted no card does anything
    assert all("being counted" in answer.container for answer in counted)
    written = {body.NAME for answer in looks if answer not in counted for body in answer.decision.bodies}
    assert written == {"scan-refused"}  # of what is not known here at all


def test_only_printers_and_dispensers_say_use() -> None:
    kinds = {place.id: place.kind for place in PLACES}
    use = {kinds[answer.place] for answer in all_answers() if answer.decision.verdict.word is Word.USE}
    assert use == {Place.PRINTER, Place.DISPENSER}


def test_every_stop_and_wait_says_why_and_what_to_do() -> None:
    refusals = [found.decision.verdict for found in all_answers() if found.decision.verdict.word in ("STOP", "WAIT")]
    assert len(refusals) > 10_000
    assert [verdict for verdict in refusals if not verdict.why or not verdict.todo] == []


@pytest.mark.parametrize("line", ["1h FRIDGE it?", "1h LINE1 it"])
def test_a_state_that_is_not_what_it_is_called_is_noticed(line: str) -> None:
    """The first is put away although a refusal was awaited, the second refused although none was."""
    with pytest.raises(ScriptBroken, match="the state is not what it is called"):
        Hands().play(("2h !receive it", line))
