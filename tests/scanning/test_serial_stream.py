"""What the serial stream makes of bytes, however the port hands them over."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.scanning.heard import candidates
from station.scanning.serial_stream import ENDS, Framing, SerialOutputs, SerialStream, framing_for
from station.scanning.stream import Incomplete, Scan
from station.services.scanner import Terminator

CODE, OTHER = b"V1C7K2M90ZXQ4T8B", b"C1*K7-311*9Q"
ANY, NONE = Terminator.ANY, Terminator.NONE
PAYLOAD = st.binary(min_size=1, max_size=40).map(lambda raw: bytes(33 + value % 94 for value in raw))


def texts(outputs: SerialOutputs) -> list[str]:
    return [output.heard.text for output in outputs if isinstance(output, Scan)]


def notices(outputs: SerialOutputs) -> list[str]:
    return [output.text for output in outputs if isinstance(output, Incomplete)]


def quiet(stream: SerialStream) -> SerialOutputs:
    """Silence until nothing is open any more."""
    outputs: SerialOutputs = ()
    for _ in range(4):
        if stream.waiting_ms is None:
            return outputs
        outputs += stream.silence()
    raise AssertionError("silence settles nothing")


@pytest.mark.parametrize(
    ("terminator", "end"),
    [
        (ANY, b"\r"),
        (ANY, b"\n"),
        (ANY, b"\r\n"),
        (ANY, b"\t"),
        (Terminator.CR, b"\r"),
        (Terminator.LF, b"\n"),
        (Terminator.CR_LF, b"\r\n"),
        (Terminator.TAB, b"\t"),
    ],
)
def test_br_15_codes_are_cut_at_the_end_the_scanner_sends(terminator: Terminator, end: bytes) -> None:
    whole = CODE + end + OTHER + end
    for split in range(len(whole) + 1):
        stream = SerialStream(framing_for(terminator))
        outputs = stream.feed(whole[:split]) + stream.feed(whole[split:]) + quiet(stream)
        assert texts(outputs) == [CODE.decode(), OTHER.decode()]
        assert notices(outputs) == []


@given(st.lists(PAYLOAD, min_size=1, max_size=6), st.lists(st.integers(0, 250), max_size=12))
def test_br_15_no_way_of_cutting_the_reads_changes_what_is_heard(codes: list[bytes], cuts: list[int]) -> None:
    whole = b"".join(code + b"\r\n" for code in codes)
    edges = sorted({0, len(whole), *(cut for cut in cuts if cut < len(whole))})
    stream = SerialStream(framing_for(ANY))
    outputs: SerialOutputs = ()
    for start, end in pairwise(edges):
        outputs += stream.feed(whole[start:end])
    assert texts(outputs) == [code.decode() for code in codes]
    assert notices(outputs + quiet(stream)) == []


def test_br_11_doubled_line_ends_and_a_late_line_feed_are_no_empty_scans() -> None:
    for end in (b"\r\n", b"\r\r", b"\r\n\r\n"):
        stream = SerialStream(framing_for(ANY))
        assert texts(stream.feed(CODE + end) + quiet(stream)) == [CODE.decode()]
    strict = SerialStream(framing_for(Terminator.CR))
    outputs = strict.feed(CODE + b"\r\n") + quiet(strict) + strict.feed(OTHER + b"\r\n") + quiet(strict)
    assert texts(outputs) == [CODE.decode(), OTHER.decode()]
    assert notices(outputs) == []


@pytest.mark.parametrize("cut", [1, 2, 7, 15])
def test_br_05_br_15_neither_half_of_a_cut_code_acts_and_both_are_told(cut: int) -> None:
    """Even where a half is an older code by itself."""
    stream = SerialStream(framing_for(ANY))
    assert stream.feed(CODE[:cut]) == ()
    assert notices(stream.silence()) == [CODE[:cut].decode()]
    tail = stream.feed(CODE[cut:] + b"\r")
    assert (texts(tail), notices(tail)) == ([], [CODE.decode()])
    assert texts(stream.feed(OTHER + b"\r")) == [OTHER.decode()]


def test_br_15_a_code_that_breaks_twice_is_still_one_broken_code() -> None:
    stream = SerialStream(framing_for(ANY))
    first = stream.feed(CODE[:4]) + stream.silence()
    second = stream.feed(CODE[4:9]) + stream.silence()
    third = stream.feed(CODE[9:] + b"\r")
    assert texts(first + second + third) == []
    assert notices(first + second + third)[-1] == CODE.decode()


def test_br_15_the_same_code_scanned_again_at_once_is_taken() -> None:
    stream = SerialStream(framing_for(ANY))
    stream.feed(CODE[:8])
    stream.silence()
    assert texts(stream.feed(CODE + b"\r")) == [CODE.decode()]


def test_br_15_long_after_a_stale_half_another_code_is_a_code() -> None:
    stream = SerialStream(framing_for(ANY))
    stream.feed(CODE[:8])
    assert notices(quiet(stream)) == [CODE[:8].decode()]
    assert texts(stream.feed(OTHER + b"\r")) == [OTHER.decode()]


def test_br_16_what_the_line_took_with_it_is_told_and_its_rest_is_no_code() -> None:
    stream = SerialStream(framing_for(ANY))
    stream.feed(CODE[:8])
    assert notices(stream.cut_off()) == [CODE[:8].decode()]
    assert texts(stream.feed(CODE[8:] + b"\r")) == []
    assert stream.cut_off() == ()


def test_without_a_terminator_silence_ends_a_code() -> None:
    stream = SerialStream(framing_for(NONE))
    assert stream.feed(CODE[:5]) + stream.feed(CODE[5:]) == ()
    assert texts(stream.silence()) == [CODE.decode()]
    assert stream.waiting_ms is None
    assert texts(stream.feed(OTHER + b"\r\n") + quiet(stream)) == [OTHER.decode()]
    stream.feed(CODE[:5])
    assert notices(stream.cut_off()) == [CODE[:5].decode()]
    assert quiet(stream) == ()


def test_br_13_separators_inside_a_code_stay() -> None:
    """ISO/IEC 15434 puts GS, RS and EOT inside its messages."""
    message = b"[)>\x1e06\x1d1PHW-104-500\x1d1TL12345\x1e\x04"
    assert texts(SerialStream(framing_for(ANY)).feed(message + b"\r\n")) == [message.decode()]


@pytest.mark.parametrize("before", [b"]Q1", b"]C1", b"]d2", b"]Q3", b"\x1d", b"\x1d]Q1"])
def test_br_14_a_symbology_prefix_is_known_and_taken_off_before_the_look_up(before: bytes) -> None:
    (scan,) = SerialStream(framing_for(ANY)).feed(before + CODE + b"\r")
    assert isinstance(scan, Scan)
    assert candidates(scan.heard)[0] == CODE.decode()
    expected = before.lstrip(b"\x1d").decode() or None
    assert scan.heard.symbology == expected


def test_what_frames_a_code_on_the_line_is_no_part_of_it() -> None:
    assert texts(SerialStream(framing_for(ANY)).feed(b"\0\x02" + CODE + b"\x03\r")) == [CODE.decode()]


def test_bytes_that_are_no_utf_8_are_still_shown() -> None:
    assert texts(SerialStream(framing_for(ANY)).feed("Lötpaste\r".encode())) == ["Lötpaste"]
    assert texts(SerialStream(framing_for(ANY)).feed("Lötpaste\r".encode("latin-1"))) == ["Lötpaste"]


def test_a_flood_without_an_end_is_told_once_and_kept_in_bounds() -> None:
    stream = SerialStream(Framing(longest=100))
    outputs: SerialOutputs = ()
    for _ in range(50):
        outputs += stream.feed(b"Z" * 97)
    assert (texts(outputs), notices(outputs)) == ([], ["Z" * 60])
    assert len(stream._buffer) <= 100
    assert stream.feed(b"\r") == ()
    assert texts(stream.feed(CODE + b"\r")) == [CODE.decode()]
    stream.feed(b"Z" * 150)
    quiet(stream)
    assert texts(stream.feed(CODE + b"\r")) == [CODE.decode()]


@given(st.lists(st.one_of(st.binary(max_size=300), st.none()), max_size=20), st.sampled_from(Terminator))
def test_whatever_comes_nothing_breaks_and_silence_settles_it(
    reads: list[bytes | None], terminator: Terminator
) -> None:
    stream = SerialStream(Framing(terminator, longest=200))
    for read in reads:
        outputs = stream.silence() if read is None else stream.feed(read)
        assert all(text.strip() for text in texts(outputs))
    quiet(stream)
    end = ENDS[terminator][0] if ENDS[terminator] else b""
    assert texts(stream.feed(CODE + end) + quiet(stream)) == [CODE.decode()]


@pytest.mark.parametrize(("settle_ms", "longest"), [(0, 100), (3000, 100), (500, 0)])
def test_figures_that_contradict_each_other_are_refused(settle_ms: int, longest: int) -> None:
    with pytest.raises(ValueError, match="serial scanner"):
        Framing(settle_ms=settle_ms, longest=longest)
