"""What the stream makes of scanners and people. Paces are those of common wedge scanners (no source)."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.scanning.stream import Scan, Stream, Stroke, WedgeTiming

from .typist import (
    DOWN,
    ENTER,
    ESCAPE,
    GROUP_SEPARATOR,
    KEYPAD_ENTER,
    LINE_FEED,
    SPACE,
    TAB,
    keys,
    notices,
    press,
    replayed,
    run,
    scans,
    settle,
    swallowed,
    timed,
)

CODE = "V1C7K2M90ZXQ4T8B"
PRINTABLE = st.text(st.characters(min_codepoint=33, max_codepoint=126), min_size=6, max_size=40)
ENDS = st.sampled_from([[], [ENTER], [KEYPAD_ENTER], [TAB], [ENTER, LINE_FEED], [ENTER, ENTER]])
FIELD = pytest.mark.parametrize("field", [False, True], ids=["elsewhere", "in a field"])


# A scan is heard, whole and once.


@given(PRINTABLE, ENDS, st.booleans(), st.data())
def test_any_text_at_a_scanners_pace_is_one_scan_and_nothing_else(
    text: str, end: list[Stroke], field: bool, data: st.DataObject
) -> None:
    strokes = [*keys(text), *end]
    quick, slower = (
        st.integers(0, 35),
        st.integers(0, 120),
    )  # a hiccup is forgiven once the run is known for a scan
    pauses = data.draw(st.tuples(*[quick if index < 5 else slower for index in range(len(strokes))]))
    outputs = run(timed(strokes, pauses, field=field))
    assert scans(outputs) == [text]
    assert not notices(outputs)
    assert not replayed(outputs)


@given(PRINTABLE, st.booleans())
def test_both_readings_agree_on_a_us_layout(text: str, field: bool) -> None:
    [scan] = [out for out in run(timed([*keys(text), ENTER], field=field)) if isinstance(out, Scan)]
    assert scan.heard.by_place == scan.heard.text == text


@FIELD
def test_a_scan_without_an_end_key_is_heard_after_silence(field: bool) -> None:
    stream = Stream(WedgeTiming())
    for stroke in timed(keys(CODE), field=field):
        assert stream.feed(stroke) == ()
    assert stream.waiting_ms == 500
    assert scans(stream.silence()) == [CODE]
    assert stream.waiting_ms is None


def test_the_end_key_makes_it_heard_at_once() -> None:
    stream = Stream(WedgeTiming(end_key_needed=True))
    *most, end = timed([*keys(CODE), ENTER])
    assert not [output for stroke in most for output in stream.feed(stroke)]
    assert scans(stream.feed(end)) == [CODE]


def test_silence_does_not_end_a_scan_where_the_scanner_always_sends_an_end_key() -> None:
    outputs = run(timed(keys(CODE)), WedgeTiming(end_key_needed=True))
    assert (scans(outputs), notices(outputs)) == ([], [CODE])


def test_time_stamps_may_wrap_in_mid_scan() -> None:
    strokes = [
        replace(stroke, at_ms=(2**32 - 10 + 2 * index) % 2**32) for index, stroke in enumerate([*keys(CODE), ENTER])
    ]
    assert scans(run(strokes)) == [CODE]


def test_a_backward_stamp_does_not_break_a_scan() -> None:
    strokes = timed([*keys(CODE), ENTER])
    strokes[8] = replace(strokes[8], at_ms=990)
    assert scans(run(strokes)) == [CODE]


def test_the_pace_counts_not_the_arrival_br_04() -> None:
    """BR-04: 60 keys, 1 ms apart, all delivered late in one go after the program was busy."""
    text = (CODE * 4)[:60]
    assert scans(run(timed([*keys(text), ENTER], 1))) == [text]


def test_typing_in_a_field_while_the_program_is_busy_stays_typing() -> None:
    """The keys arrive together, but their stamps are 90 ms apart."""
    outputs = run(timed(keys("TOP SHELF 2"), 90, field=True))
    assert "".join(stroke.text for stroke in replayed(outputs)) == "TOP SHELF 2"


def test_spaces_inside_a_scan_belong_to_it_br_07() -> None:
    outputs = run(timed([*keys("GRACE O MALLEY"), ENTER]))
    assert (scans(outputs), replayed(outputs)) == (["GRACE O MALLEY"], [])


def test_two_scans_one_after_the_other_are_two() -> None:
    strokes = [*timed([*keys(CODE), ENTER]), *timed([*keys("EMPTY-CARD"), ENTER], start_ms=1060)]
    assert scans(run(strokes)) == [CODE, "EMPTY-CARD"]


# Damage of the field, kind by kind.


def test_caps_lock_leaves_the_reading_by_place_whole_br_02() -> None:
    strokes = [replace(stroke, text=stroke.text.swapcase()) for stroke in keys(CODE)]
    [scan] = [out for out in run(timed([*strokes, ENTER])) if isinstance(out, Scan)]
    assert scan.heard.text == CODE.lower()
    assert scan.heard.by_place == CODE


def test_lost_shift_is_not_made_up_for_in_either_reading_br_03() -> None:
    strokes = [press(character) for character in "c7:k2_m9".replace(":", ";").replace("_", "-")]
    [scan] = [out for out in run(timed([*strokes, ENTER])) if isinstance(out, Scan)]
    assert scan.heard.text == scan.heard.by_place == "c7;k2-m9"


@FIELD
@pytest.mark.parametrize("split", [6, 7, 10, 15])
def test_a_scan_broken_by_a_pause_is_one_notice_and_no_scan_br_05(split: int, field: bool) -> None:
    pauses = [300 if index == split - 1 else 2 for index in range(len(CODE) + 1)]
    outputs = run(timed([*keys(CODE), ENTER], pauses, field=field))
    assert (scans(outputs), notices(outputs), replayed(outputs)) == ([], [CODE], [])


@pytest.mark.parametrize("split", [1, 2, 5])
def test_a_scan_broken_after_its_first_keys_does_not_act_br_05(split: int) -> None:
    pauses = [300 if index == split - 1 else 2 for index in range(len(CODE) + 1)]
    outputs = run(timed([*keys(CODE), ENTER], pauses))
    assert (scans(outputs), notices(outputs), replayed(outputs)) == ([], [CODE], [])


@pytest.mark.parametrize("split", [2, 5])
def test_in_a_field_the_first_keys_of_a_broken_scan_land_but_nothing_acts_br_05(split: int) -> None:
    pauses = [300 if index == split - 1 else 2 for index in range(len(CODE) + 1)]
    outputs = run(timed([*keys(CODE), ENTER], pauses, field=True))
    assert (scans(outputs), notices(outputs)) == ([], [CODE])
    assert "".join(stroke.text for stroke in replayed(outputs)) == CODE[:split]


def test_a_first_part_that_is_a_valid_code_by_itself_does_not_act_br_05() -> None:
    pauses = [300 if index == 6 else 2 for index in range(len("C1AAAAA-REST") + 1)]
    outputs = run(timed([*keys("C1AAAAA-REST"), ENTER], pauses))
    assert (scans(outputs), notices(outputs)) == ([], ["C1AAAAA-REST"])


def test_a_broken_scan_without_an_end_key_is_one_notice_br_05() -> None:
    pauses = [300 if index == 7 else 2 for index in range(len(CODE))]
    outputs = run(timed(keys(CODE), pauses))
    assert (scans(outputs), notices(outputs)) == ([], [CODE])


def test_an_end_key_that_comes_late_still_ends_a_whole_scan() -> None:
    outputs = run(timed([*keys(CODE), ENTER], [2] * (len(CODE) - 1) + [300, 0]))
    assert (scans(outputs), notices(outputs), replayed(outputs)) == ([CODE], [], [])


def test_a_pause_longer_than_any_setting_ends_the_scan_before_the_next_key() -> None:
    """The program may be too busy to notice the silence itself."""
    stream = Stream(WedgeTiming())
    for stroke in timed(keys(CODE)):
        stream.feed(stroke)
    assert scans(stream.feed(replace(press("X"), at_ms=9000))) == [CODE]


def test_stray_keys_long_ago_do_not_break_a_scan() -> None:
    """The program may be too busy to notice the silence between them itself."""
    strays = timed(keys("V1"))
    assert scans(run([*strays, *timed([*keys(CODE), ENTER], start_ms=3000)])) == [CODE]


def test_a_commit_without_a_stamp_does_not_bridge_a_long_pause() -> None:
    """Quick keys with commits among them, and one key seconds later: a person in a field."""
    typed = [
        *timed(keys("ref"), field=True),
        Stroke(text="é", in_field=True),
        Stroke(text="e", in_field=True),
        *timed(keys("x"), start_ms=9000, field=True),
    ]
    outputs = run(typed)
    assert replayed(outputs) == typed
    assert not scans(outputs)


def test_letters_committed_by_an_input_method_are_one_scan_br_06() -> None:
    """BR-06: letters arrive as commits without place or stamp, digits and Enter as keys."""
    strokes = timed([*keys("T1-4F7KQ"), ENTER], field=True)
    mixed = [Stroke(text=stroke.text, in_field=True) if stroke.text.isalpha() else stroke for stroke in strokes]
    [scan] = [out for out in run(mixed) if isinstance(out, Scan)]
    assert scan.heard.text == "T1-4F7KQ"
    assert scan.heard.by_place is None
    assert not replayed(run(mixed))


def test_digits_left_over_by_an_input_method_stay_what_they_are_br_06() -> None:
    """Nothing is filled in: whoever reads `1-47` refuses it."""
    outputs = run(timed([*keys("1-47"), ENTER]))
    assert (scans(outputs), notices(outputs)) == ([], ["1-47"])


def test_a_sentence_committed_at_once_reaches_the_field() -> None:
    commit = Stroke(text="焊膏已经回温", in_field=True)
    assert replayed(run([commit])) == [commit]


@pytest.mark.parametrize("end", [[ENTER, LINE_FEED], [ENTER, ENTER], [ENTER, ENTER, ENTER], [TAB, ENTER]])
@FIELD
def test_doubled_line_ends_count_once_br_11(end: list[Stroke], field: bool) -> None:
    outputs = run(timed([*keys(CODE), *end], field=field))
    assert (scans(outputs), replayed(outputs)) == ([CODE], [])


def test_line_ends_in_slow_succession_press_nothing_br_11() -> None:
    strokes = timed([*keys(CODE), ENTER, LINE_FEED, ENTER], [2] * len(CODE) + [100, 100, 0])
    outputs = run(strokes)
    assert (scans(outputs), replayed(outputs)) == ([CODE], [])


def test_a_second_pass_150_ms_later_is_a_second_scan_for_the_caller_to_tell_br_11() -> None:
    """BR-11: whether it was "already scanned just now" is the caller's to say; it must see both."""
    first = timed([*keys(CODE), ENTER])
    assert first[-1].at_ms is not None
    second = timed([*keys(CODE), ENTER], start_ms=first[-1].at_ms + 150)
    assert scans(run([*first, *second])) == [CODE, CODE]


@pytest.mark.parametrize("blank", [[ENTER, LINE_FEED], [*keys("       "), ENTER], [GROUP_SEPARATOR] * 7])
def test_empty_scans_are_ignored_br_11(blank: list[Stroke]) -> None:
    outputs = run(timed(blank))
    assert (scans(outputs), notices(outputs), replayed(outputs)) == ([], [], [])


def test_keypad_keys_are_the_same_as_the_main_ones_br_12() -> None:
    """BR-12. With NumLock off they write nothing and would move a cursor. Places: input-event-codes.h."""
    places = {"7": 71, "8": 72, "9": 73, "-": 74, "4": 75, "5": 76, "6": 77, "1": 79, "2": 80, "3": 81, "0": 82}
    places["."] = 83
    text = "0123456789-."
    for written in (text, [""] * len(text)):
        strokes = [
            Stroke(text=got, place=places[want], is_act=not got) for got, want in zip(written, text, strict=True)
        ]
        outputs = run(timed([*strokes, KEYPAD_ENTER]))
        assert [out.heard.by_place for out in outputs if isinstance(out, Scan)] == [text]
        assert not replayed(outputs)


@pytest.mark.parametrize("written", ["\x1d", "+", "$", ""], ids=["us", "de", "fr", "nothing"])
def test_the_separator_is_heard_by_its_place_br_13(written: str) -> None:
    separator = replace(GROUP_SEPARATOR, text=written)
    [scan] = [
        out for out in run(timed([*keys("0104012345"), separator, *keys("10AB"), ENTER])) if isinstance(out, Scan)
    ]
    assert scan.heard.text == scan.heard.by_place == "0104012345\x1d10AB"


def test_a_leading_separator_and_other_controls_are_kept_br_13_br_14() -> None:
    record = replace(press("^"), text="\x1e", control=True)
    transmission = Stroke(text="\x04", place=32, control=True)
    [scan] = [
        out
        for out in run(timed([GROUP_SEPARATOR, *keys("[)>"), record, *keys("06P1"), transmission, ENTER]))
        if isinstance(out, Scan)
    ]
    assert scan.heard.text == scan.heard.by_place == "\x1d[)>\x1e06P1\x04"


def test_dead_keys_write_nothing_and_are_read_by_place_br_93() -> None:
    strokes = keys("A=B[C`D")
    dead = [replace(stroke, text="" if stroke.text in "=[`" else stroke.text) for stroke in strokes]
    [scan] = [out for out in run(timed([*dead, ENTER])) if isinstance(out, Scan)]
    assert scan.heard.text == "ABCD"
    assert scan.heard.by_place == "A=B[C`D"


def test_merged_dead_keys_have_no_reading_by_place_br_93() -> None:
    """BR-93: in a text field the pair arrives as one commit, `É`. Nothing is undone by guess."""
    merged = [Stroke(text=letter, in_field=True) for letter in "ÉÑÄÔ"]
    [scan] = [out for out in run([*merged, *timed([*keys("T1A7"), ENTER], field=True)]) if isinstance(out, Scan)]
    assert (scan.heard.text, scan.heard.by_place) == ("ÉÑÄÔT1A7", None)


@FIELD
def test_equal_neighbours_flagged_as_held_down_are_still_a_scan(field: bool) -> None:
    """X11 can not tell release and press in one millisecond from a key held down."""
    strokes = keys("00770011")
    flagged = [strokes[0]] + [replace(b, is_repeat=a == b) for a, b in pairwise(strokes)]
    assert scans(run(timed([*flagged, ENTER], 0, field=field))) == ["00770011"]


# People keep what is theirs.


@given(
    st.lists(st.sampled_from([*keys("abc XYZ 129.,-"), ENTER, TAB, ESCAPE, DOWN]), min_size=1, max_size=40),
    st.data(),
)
def test_typing_at_a_persons_pace_is_never_lost_in_a_field(strokes: list[Stroke], data: st.DataObject) -> None:
    pauses = data.draw(st.tuples(*[st.integers(36, 900)] * len(strokes)))
    typed = timed(strokes, pauses, field=True)
    outputs = run(typed)
    assert replayed(outputs) == typed
    assert not scans(outputs)
    assert not notices(outputs)


@pytest.mark.parametrize("pace_ms", [45, 90, 120])
def test_each_key_shows_before_the_next_is_typed(pace_ms: int) -> None:
    stream = Stream(WedgeTiming())
    for stroke in timed(keys("reason: lid was loose"), pace_ms, field=True):
        assert stream.feed(stroke) == ()
        assert stream.waiting_ms == 35
        assert replayed(stream.silence()) == [stroke]


def test_five_keys_rolled_by_a_quick_person_reach_the_field_six_are_taken_for_a_scan() -> None:
    assert replayed(run(timed(keys("tions"), 30, field=True))) == timed(keys("tions"), 30, field=True)
    assert scans(run(timed(keys("ations"), 30, field=True))) == ["ations"]


def test_five_rolled_keys_and_enter_reach_the_field() -> None:
    typed = timed([*keys("tions"), ENTER], 30, field=True)
    assert replayed(run(typed)) == typed


@pytest.mark.parametrize("act", [SPACE, ENTER, KEYPAD_ENTER, TAB, ESCAPE, DOWN])
def test_a_key_pressed_alone_works_outside_fields(act: Stroke) -> None:
    alone = timed([act])
    assert replayed(run(alone)) == alone


def test_arrows_one_after_the_other_move_a_list() -> None:
    pressed = timed([DOWN] * 4, 80)
    assert replayed(run(pressed)) == pressed


@pytest.mark.parametrize("act", [SPACE, ENTER, TAB])
@pytest.mark.parametrize("pause_ms", [10, 34, 60, 300])
def test_an_end_key_after_a_stray_letter_presses_nothing(act: Stroke, pause_ms: int) -> None:
    """The letter may be the tail of a scan; a person presses the button once more."""
    outputs = run(timed([press("7"), act], pause_ms))
    assert not replayed(outputs)
    assert not scans(outputs)


@given(st.lists(st.sampled_from(keys("abcXYZ129")), min_size=1, max_size=30), st.integers(0, 800))
def test_letters_never_reach_anything_outside_fields(strokes: list[Stroke], pace_ms: int) -> None:
    assert not replayed(run(timed(strokes, pace_ms)))


def test_a_scanner_slower_than_its_settings_is_reported_not_ignored() -> None:
    outputs = run(timed([*keys(CODE), ENTER], 60))
    assert (scans(outputs), notices(outputs), replayed(outputs)) == ([], [CODE], [])
    assert scans(run(timed([*keys(CODE), ENTER], 60), WedgeTiming(gap_ms=70))) == [CODE]


def test_a_code_too_short_to_be_a_scan_is_reported_and_its_line_ends_press_nothing() -> None:
    outputs = run(timed([*keys("A1B2"), ENTER, LINE_FEED]))
    assert (notices(outputs), replayed(outputs)) == (["A1B2"], [])


def test_one_stray_letter_is_not_worth_a_notice() -> None:
    outputs = run(timed([press("k"), ENTER], 10))
    assert not notices(outputs)
    assert len(swallowed(outputs)) == 2


def test_enter_before_a_scan_belongs_to_it() -> None:
    """Some scanners send a line end first; it must not press the button under the focus."""
    outputs = run(timed([ENTER, *keys(CODE), ENTER]))
    assert (scans(outputs), replayed(outputs)) == ([CODE], [])


def held(stroke: Stroke, *, field: bool) -> list[Stroke]:
    """Pressed, and after 660 ms repeated every 30 ms (the defaults of an X server, rounded)."""
    repeats = timed([replace(stroke, is_repeat=True)] * 10, 30, start_ms=1660, field=field)
    return [*timed([stroke], field=field), *repeats]


def test_a_key_held_down_repeats_in_a_field() -> None:
    strokes = held(press("0"), field=True)
    assert replayed(run(strokes)) == strokes


def test_an_arrow_held_down_repeats_in_a_list_and_a_letter_does_not() -> None:
    down = held(DOWN, field=False)
    assert replayed(run(down)) == down
    letter = run(held(press("0"), field=False))
    assert not replayed(letter)
    assert not scans(letter)


# Nothing is lost or doubled in between.


@given(st.lists(st.tuples(st.sampled_from([*keys("aB1 "), ENTER, TAB, DOWN]), st.integers(0, 700)), max_size=30))
def test_outside_a_scan_every_key_has_exactly_one_fate(pairs: list[tuple[Stroke, int]]) -> None:
    strokes = timed([stroke for stroke, _ in pairs], [pause for _, pause in pairs])
    outputs = run(strokes)
    fates = [*replayed(outputs), *swallowed(outputs)]
    assert len(set(map(id, fates))) == len(fates)
    assert set(map(id, fates)) <= set(map(id, strokes))
    if not scans(outputs) and not notices(outputs):
        assert len(fates) == len(strokes)


# Shortcuts.


def test_shortcuts_wait_until_no_scan_can_be_under_way() -> None:
    stream = Stream(WedgeTiming())
    assert stream.is_quiet(1000)
    assert stream.is_quiet(None)
    strokes = timed([*keys(CODE), ENTER])
    for stroke in strokes:
        stream.feed(stroke)
        assert not stream.is_quiet(stroke.at_ms)
    last_ms = strokes[-1].at_ms
    assert last_ms is not None
    assert not stream.is_quiet(last_ms + 120)
    assert stream.is_quiet(last_ms + 121)


def test_after_typing_in_a_field_a_shortcut_is_free_again() -> None:
    stream = Stream(WedgeTiming())
    stream.feed(replace(press("a"), at_ms=1000, in_field=True))
    assert not stream.is_quiet(1200)  # still held back
    settle(stream)
    assert not stream.is_quiet(1100)
    assert stream.is_quiet(1200)


# Settings.


@pytest.mark.parametrize(
    ("gap_ms", "inside_ms", "settle_ms"), [(0, 120, 500), (130, 120, 500), (35, 600, 500), (-1, 5, 9)]
)
def test_contradicting_figures_are_refused_with_the_figures(gap_ms: int, inside_ms: int, settle_ms: int) -> None:
    with pytest.raises(ValueError, match=rf"gap {gap_ms} ms, inside {inside_ms} ms and settle {settle_ms} ms"):
        WedgeTiming(gap_ms=gap_ms, inside_ms=inside_ms, settle_ms=settle_ms)


def test_a_run_of_one_key_is_refused_since_every_key_would_be_a_scan() -> None:
    with pytest.raises(ValueError, match="shortest run is 1"):
        WedgeTiming(shortest_run=1)
