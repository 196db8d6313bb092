"""The wedge's promise on a real X display, with keys typed by their place.

The offscreen platform proves nothing here: it has no layouts, no time stamps and other focus rules.
"""

import pytest

from .display.server import (
    DOWN,
    ENTER,
    ESCAPE,
    GROUP_SEPARATOR,
    KEYPAD,
    KEYPAD_ENTER,
    LINE_FEED,
    TAB,
    Display,
    Line,
    Probe,
    key_names,
)

pytestmark = pytest.mark.display

CODE = "V1D7K2M90ZXQ4T8B"
AWKWARD = "V1-D7/K2:YZ AQWM.90_7"
WIDGETS = ["button", "line", "spin", "combo", "table", "check", "text"]
WINDOWS = ["drop", "ask", "menu", "form"]
SPACE = key_names(" ")
CAPS_LOCK, NUM_LOCK, SCROLL_LOCK, BACKSPACE = "66", "77", "78", "22"
UNTOUCHED = {"line": "", "spin": 0, "combo": "Keep", "text": "", "check": False, "row": 0, "editing": False}


def go_to(probe: Probe, target: str) -> None:
    """Put the keyboard on a widget, or open a window and put it there."""
    if target in WINDOWS:
        probe.open(target)
    else:
        assert probe.ask(f"focus {target}")["focus"]


def scan(text: str, by_place: str | None = None) -> Line:
    """The line the probe writes for a scan."""
    return {"kind": "scan", "text": text, "by_place": text if by_place is None else by_place}


def incomplete(text: str) -> Line:
    return {"kind": "incomplete", "text": text}


def effect(of: str, value: object = None) -> Line:
    return {"kind": "effect", "of": of} | ({} if value is None else {"value": value})


def assert_only(probe: Probe, *expected: Line, opened: bool = False) -> None:
    """Exactly these lines came, no widget was touched, and no window closed."""
    events, report = probe.outcome()
    assert events == list(expected)
    assert {name: report[name] for name in UNTOUCHED} == UNTOUCHED
    assert report["open"] is opened


# A scan is heard once and touches nothing.


@pytest.mark.parametrize("end", [[ENTER], [TAB], []], ids=["Enter", "Tab", "no end"])
@pytest.mark.parametrize("target", [*WIDGETS, *WINDOWS])
def test_a_scan_is_heard_once_and_touches_nothing_br_07_br_08_br_10(
    probe: Probe, display: Display, target: str, end: list[str]
) -> None:
    go_to(probe, target)
    display.press([*key_names(CODE), *end])
    assert_only(probe, scan(CODE), opened=target in WINDOWS)


@pytest.mark.parametrize("layout", ["us", "de", "fr"])
@pytest.mark.parametrize("target", [*WIDGETS, *WINDOWS])
def test_every_layout_gives_the_same_reading_by_place(probe: Probe, display: Display, target: str, layout: str) -> None:
    display.layout(layout)
    go_to(probe, target)
    display.press([*key_names(AWKWARD), ENTER])
    typed = {
        "us": AWKWARD,
        "de": "V1ßD7-K2ÖZY AQWM.90?7",
        "fr": "V&)Dè!KéMYW QAZ?:çà°è",
    }
    assert_only(probe, scan(typed[layout], AWKWARD), opened=target in WINDOWS)


@pytest.mark.parametrize(
    ("target", "harm"),
    [
        ("button", effect("shortcut", "7")),
        ("line", effect("line entered")),
        ("spin", effect("spin", 1720)),
        ("combo", effect("combo", "V1 shelf")),
        ("menu", effect("menu", "&V1")),
    ],
)
def test_without_the_wedge_the_same_scan_does_harm(
    bare_probe: Probe, display: Display, target: str, harm: Line
) -> None:
    """Guards the tests above: what they find absent would be there."""
    go_to(bare_probe, target)
    display.press([*key_names("V1K72"), ENTER] if target == "line" else [*key_names("V1K72 0"), ENTER])
    events = bare_probe.closing() if target == "menu" else bare_probe.outcome()[0]
    assert harm in events
    assert not [event for event in events if event["kind"] == "scan"]


@pytest.mark.parametrize("pause_ms", [0, 10, 20, 30])
def test_slower_and_faster_scanners_are_heard(probe: Probe, display: Display, pause_ms: int) -> None:
    go_to(probe, "line")
    display.press([*key_names(CODE), ENTER], pause_ms)
    assert_only(probe, scan(CODE))


def test_a_code_with_spaces_presses_no_button_br_07(probe: Probe, display: Display) -> None:
    go_to(probe, "button")
    display.press([*key_names("7 D 7 D 7 "), ENTER])
    assert_only(probe, scan("7 D 7 D 7 "))


@pytest.mark.parametrize("target", ["button", "line", "ask"])
def test_equal_neighbours_are_not_taken_for_a_key_held_down(probe: Probe, display: Display, target: str) -> None:
    go_to(probe, target)
    display.press([*key_names("0000007777"), ENTER], 0)
    assert_only(probe, scan("0000007777"), opened=target == "ask")


def test_scanning_goes_on_after_every_window_was_open_br_09(probe: Probe, display: Display) -> None:
    for window in WINDOWS:
        probe.open(window)
        display.press([*key_names(CODE), ENTER])
        assert_only(probe, scan(CODE), opened=True)
        probe.start_over()
        display.press([*key_names(CODE), ENTER])
        assert_only(probe, scan(CODE))


def test_scanning_goes_on_after_the_window_was_hidden_br_09(probe: Probe, display: Display) -> None:
    probe.ask("hide_and_show")
    probe.take_keyboard()
    display.press([*key_names(CODE), ENTER])
    assert_only(probe, scan(CODE))


# Damage of the field.


def test_caps_lock_leaves_the_reading_by_place_whole_br_02(probe: Probe, display: Display) -> None:
    go_to(probe, "line")
    display.toggle(CAPS_LOCK)
    try:
        display.press([*key_names(CODE), ENTER])
        assert_only(probe, scan(CODE.lower(), CODE))
    finally:
        display.toggle(CAPS_LOCK)


@pytest.mark.parametrize("target", ["button", "line", "ask"])
def test_a_scan_into_a_busy_program_is_heard_whole_br_04(probe: Probe, display: Display, target: str) -> None:
    text = (CODE * 4)[:60]
    go_to(probe, target)
    probe.ask("busy")
    display.press([*key_names(text), ENTER], 1)
    probe.free()
    assert_only(probe, scan(text), opened=target == "ask")


def test_a_program_busy_in_the_middle_of_a_scan_hears_it_whole_br_04(probe: Probe, display: Display) -> None:
    """The end key waits in the queue while the wedge's own timer runs out; the timer must not be believed."""
    go_to(probe, "button")
    display.press(key_names(CODE))
    probe.ask("busy")
    display.press_in_parts([[ENTER], [SCROLL_LOCK]], between_ms=700)
    probe.free()
    assert_only(probe, scan(CODE))


@pytest.mark.parametrize("split", [7, 2])
@pytest.mark.parametrize("target", ["button", "table", "ask", "menu"])
def test_a_scan_broken_by_a_pause_does_nothing_but_say_so_br_05(
    probe: Probe, display: Display, target: str, split: int
) -> None:
    go_to(probe, target)
    display.press_in_parts([key_names(CODE[:split]), [*key_names(CODE[split:]), ENTER]], between_ms=300)
    assert_only(probe, incomplete(CODE), opened=target in WINDOWS)


def test_a_scan_broken_in_a_field_does_not_fill_it_br_05(probe: Probe, display: Display) -> None:
    go_to(probe, "line")
    display.press_in_parts([key_names(CODE[:7]), [*key_names(CODE[7:]), ENTER]], between_ms=300)
    assert_only(probe, incomplete(CODE))


def test_letters_from_an_input_method_are_part_of_the_scan_br_06(probe: Probe, display: Display) -> None:
    """BR-06: letters arrive as commits, digits and Enter as keys."""
    go_to(probe, "line")
    for letter in "VDKMZXQ":
        probe.ask(f"commit {letter}")
    display.press([*key_names("12345"), ENTER])
    events, report = probe.outcome()
    assert [event["text"] for event in events if event["kind"] == "scan"] == ["VDKMZXQ12345"]
    assert (len(events), report["line"]) == (1, "")


def test_a_word_committed_by_an_input_method_reaches_the_field_br_06(probe: Probe) -> None:
    go_to(probe, "line")
    probe.ask("commit 焊膏")
    _, report = probe.outcome()
    assert report["line"] == "焊膏"


@pytest.mark.parametrize("end", [[ENTER, LINE_FEED], [ENTER, ENTER], [KEYPAD_ENTER, ENTER]])
@pytest.mark.parametrize("target", ["button", "text", "ask"])
def test_doubled_line_ends_count_once_and_press_nothing_br_11(
    probe: Probe, display: Display, target: str, end: list[str]
) -> None:
    go_to(probe, target)
    display.press([*key_names(CODE), *end])
    assert_only(probe, scan(CODE), opened=target == "ask")


def test_a_nervous_trigger_is_two_scans_for_the_station_to_tell_apart_br_11(probe: Probe, display: Display) -> None:
    once = [*key_names(CODE), ENTER]
    display.press_in_parts([once, once], between_ms=150)
    assert_only(probe, scan(CODE), scan(CODE))


@pytest.mark.parametrize("locked", [True, False], ids=["NumLock", "no NumLock"])
@pytest.mark.parametrize("target", ["button", "spin", "table", "drop"])
def test_the_keypad_is_read_like_the_main_keys_br_12(probe: Probe, display: Display, target: str, locked: bool) -> None:
    """BR-12. Without NumLock the keys are arrows and would move the list."""
    go_to(probe, target)
    display.toggle(NUM_LOCK if locked else None)
    try:
        display.press([*(KEYPAD[character] for character in "0123456789-."), KEYPAD_ENTER])
        events, report = probe.outcome()
    finally:
        display.toggle(NUM_LOCK if locked else None)
    assert [event.get("by_place") for event in events] == ["0123456789-."]
    assert {name: report[name] for name in UNTOUCHED} == UNTOUCHED


@pytest.mark.parametrize("layout", ["us", "de", "fr"])
@pytest.mark.parametrize("target", ["button", "line", "spin", "ask"])
def test_the_separator_is_heard_and_fires_no_shortcut_br_13(
    probe: Probe, display: Display, target: str, layout: str
) -> None:
    display.layout(layout)
    go_to(probe, target)
    display.press([GROUP_SEPARATOR, *key_names("01DK7"), GROUP_SEPARATOR, "ctrl+shift+15", "ctrl+40", ENTER])
    events, report = probe.outcome()
    assert [event.get("by_place") for event in events] == ["\x1d01DK7\x1d\x1e\x04"]
    assert report["line"] == ""


@pytest.mark.parametrize("layout", ["de", "fr"])
def test_dead_keys_are_read_by_place_outside_fields_br_93(probe: Probe, display: Display, layout: str) -> None:
    display.layout(layout)
    go_to(probe, "button")
    display.press([*key_names("V1=[`+D7"), ENTER])
    events, _ = probe.outcome()
    assert [event.get("by_place") for event in events] == ["V1=[`+D7"]


def test_a_dead_key_in_a_field_leaves_no_reading_that_could_be_guessed_br_93(probe: Probe, display: Display) -> None:
    """The window system merges dead acute and E before any program sees a key."""
    display.layout("de")
    go_to(probe, "line")
    display.press([*key_names("D7K2=EM90Z"), ENTER])
    events, report = probe.outcome()
    assert events == [{"kind": "scan", "text": "D7K2ÉM90Y", "by_place": None}]
    assert report["line"] == ""


# People keep what is theirs.


@pytest.mark.parametrize("pause_ms", [45, 90])
@pytest.mark.parametrize("target", ["line", "text"])
def test_typing_at_a_persons_pace_arrives_whole(probe: Probe, display: Display, target: str, pause_ms: int) -> None:
    go_to(probe, target)
    display.press(key_names("Lid was loose: 2 of 3, no. 7 D"), pause_ms)
    events, report = probe.outcome()
    assert report[target] == "Lid was loose: 2 of 3, no. 7 D"
    assert {event["of"] for event in events} == {target}


def test_numbers_can_be_typed_into_a_number_field(probe: Probe, display: Display) -> None:
    go_to(probe, "spin")
    display.press(key_names("1870"), 60)
    assert probe.outcome()[1]["spin"] == 1870


def test_accents_are_still_composed_in_a_field(probe: Probe, display: Display) -> None:
    """On a German layout the key right of `ß` is the dead acute."""
    display.layout("de")
    go_to(probe, "line")
    display.press(key_names("caf=e ;l"), 60)
    assert probe.outcome()[1]["line"] == "café öl"


def test_typing_while_the_program_is_busy_is_not_taken_for_a_scan(probe: Probe, display: Display) -> None:
    go_to(probe, "line")
    probe.ask("busy")
    display.press(key_names("too warm"), 60)
    probe.free()
    _, report = probe.outcome()
    assert report["line"] == "too warm"


def test_editing_keys_work_in_a_field(probe: Probe, display: Display) -> None:
    go_to(probe, "line")
    display.press([*key_names("abc"), BACKSPACE], 60)
    assert probe.outcome()[1]["line"] == "ab"
    display.press_in_parts([["ctrl+38"], [BACKSPACE]], between_ms=200)
    assert probe.outcome()[1]["line"] == ""


def test_a_key_held_down_repeats_in_a_field(probe: Probe, display: Display) -> None:
    go_to(probe, "line")
    display.hold(key_names("0")[0], for_ms=1200)
    line = probe.outcome()[1]["line"]
    assert len(line) > 3
    assert set(line) == {"0"}


def test_space_alone_presses_the_button(probe: Probe, display: Display) -> None:
    go_to(probe, "button")
    display.press(SPACE)
    assert probe.outcome()[0] == [effect("button")]


def test_enter_alone_answers_a_question_and_escape_leaves_a_form(probe: Probe, display: Display) -> None:
    go_to(probe, "ask")
    display.press([ENTER])
    assert [event["of"] for event in probe.closing()] == ["question"]
    probe.start_over()
    go_to(probe, "form")
    display.press([ESCAPE])
    assert probe.closing() == [effect("form", 0)]


def test_arrows_move_a_list_and_tab_the_focus(probe: Probe, display: Display) -> None:
    go_to(probe, "table")
    display.press([DOWN, DOWN], 60)
    assert probe.outcome()[1]["row"] == 2
    go_to(probe, "button")
    display.press_in_parts([[TAB], key_names("ok")], between_ms=100, pause_ms=60)
    assert probe.outcome()[1]["line"] == "ok"


@pytest.mark.parametrize("target", ["button", "combo", "table", "ask", "menu", "drop"])
def test_letters_do_nothing_outside_fields(probe: Probe, display: Display, target: str) -> None:
    go_to(probe, target)
    display.press(key_names("vsy7d"), 60)
    assert_only(probe, opened=target in WINDOWS)


@pytest.mark.parametrize(
    ("key", "fired"),
    [
        ("ctrl+45", effect("shortcut", "Ctrl+K")),
        ("71", effect("shortcut", "F5")),
        ("alt+25", effect("shortcut", "Alt+W")),
    ],
    ids=["Ctrl+K", "F5", "Alt+W"],
)
@pytest.mark.parametrize("target", ["button", "line"])
def test_shortcuts_fire_when_nothing_is_being_scanned(
    probe: Probe, display: Display, target: str, key: str, fired: Line
) -> None:
    go_to(probe, target)
    display.press([key])
    assert probe.outcome()[0] == [fired]


@pytest.mark.parametrize("key", ["ctrl+45", "ctrl+40", "71", "alt+25"], ids=["Ctrl+K", "Ctrl+D", "F5", "Alt+W"])
@pytest.mark.parametrize("target", ["button", "line", "table", "ask"])
def test_no_shortcut_fires_inside_a_scan_br_13(probe: Probe, display: Display, target: str, key: str) -> None:
    go_to(probe, target)
    display.press([*key_names(CODE[:3]), key, *key_names(CODE[3:]), ENTER])
    events, report = probe.outcome()
    assert [event["kind"] for event in events] == ["scan"]
    assert {name: report[name] for name in UNTOUCHED} == UNTOUCHED
