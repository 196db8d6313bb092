"""Sounds as numbers: nothing is lost on the way to whatever form an output wants."""

import array
import wave
from itertools import pairwise
from pathlib import Path

import pytest

from station.ui import pcm
from station.ui.pcm import Mono
from station.ui.sound_files import NAMES, sound_file

SOUNDS = Path(__file__).parents[2] / "resources" / "sounds"
TICKS = Mono(8, (0, 32767, -32768, 256))


@pytest.mark.parametrize("name", NAMES)
def test_the_shipped_sounds_are_read_whole(name: str) -> None:
    file = sound_file(SOUNDS, name)
    sound = pcm.load(file)
    with wave.open(str(file)) as source:
        assert sound.seconds == source.getnframes() / source.getframerate()
    assert max(map(abs, sound.samples)) > 10_000


def test_two_channels_are_refused(tmp_path: Path) -> None:
    with wave.open(str(tmp_path / "two.wav"), "wb") as file:
        file.setnchannels(2)
        file.setsampwidth(2)
        file.setframerate(8000)
        file.writeframes(b"\0" * 8)
    with pytest.raises(ValueError, match=r"two\.wav is not one channel"):
        pcm.load(tmp_path / "two.wav")


def test_each_form_holds_the_same_sound() -> None:
    assert array.array("h", pcm.packed(TICKS, "int16", 1)).tolist() == [0, 32767, -32768, 256]
    assert array.array("i", pcm.packed(TICKS, "int32", 1)).tolist() == [0, 32767 << 16, -32768 << 16, 256 << 16]
    assert list(pcm.packed(TICKS, "uint8", 1)) == [128, 255, 0, 129]
    floats = array.array("f", pcm.packed(TICKS, "float", 1)).tolist()
    assert floats == pytest.approx([0, 32767 / 32768, -1, 1 / 128])


def test_every_channel_gets_the_sound() -> None:
    wide = array.array("h", pcm.packed(TICKS, "int16", 3)).tolist()
    assert wide[0::3] == wide[1::3] == wide[2::3] == [0, 32767, -32768, 256]


@pytest.mark.parametrize("rate", [22_050, 44_100, 48_000, 96_000])
def test_at_another_rate_it_lasts_as_long_and_keeps_its_pitch(rate: int) -> None:
    """The pitch from how often the sound crosses zero: a pure tone of 1000 Hz does so 2000 times a second."""
    table = (0, 23170, 32767, 23170, 0, -23170, -32767, -23170)
    tone = Mono(8000, tuple(table[number % 8] for number in range(8000)))
    moved = pcm.at_rate(tone, rate)
    assert moved.seconds == pytest.approx(tone.seconds, abs=2 / rate)
    signs = [value >= 0 for value in moved.samples]
    crossings = sum(one != other for one, other in pairwise(signs))
    assert crossings == pytest.approx(2000, abs=4)


def test_the_same_rate_changes_nothing_and_silence_stays_silence() -> None:
    assert pcm.at_rate(TICKS, 8) == TICKS
    assert pcm.at_rate(Mono(8, ()), 16) == Mono(16, ())
