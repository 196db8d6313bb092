"""The sounds themselves, measured: heard through noise and ear muffs, and none taken for another or for evacuation."""

import wave
from dataclasses import dataclass
from itertools import combinations, pairwise
from pathlib import Path

import numpy
import pytest
from numpy.typing import NDArray

from station.ui.sound_files import ALARM_SOUNDS, NAMES, VERDICT_SOUNDS, sound_file
from tests.tools import make_sounds

SOUNDS = Path(__file__).parents[2] / "resources" / "sounds"
Samples = NDArray[numpy.float64]


@dataclass(frozen=True)
class Tone:
    """One pulse as it is heard: when it starts and ends in seconds, its strongest pitch in Hz, its peak from 0 to 1."""

    start: float
    end: float
    pitch: float
    peak: float

    @property
    def length(self) -> float:
        return self.end - self.start


def loaded(name: str) -> tuple[Samples, int]:
    with wave.open(str(sound_file(SOUNDS, name)), "rb") as file:
        assert (file.getnchannels(), file.getsampwidth()) == (1, 2)
        data = numpy.frombuffer(file.readframes(file.getnframes()), dtype="<i2")
        return data.astype(numpy.float64) / 32768, file.getframerate()


def spectrum(samples: Samples, rate: int) -> tuple[Samples, Samples]:
    """Frequencies in Hz and energy at each."""
    window = samples * numpy.hanning(len(samples))
    return numpy.fft.rfftfreq(len(samples), 1 / rate).astype(numpy.float64), (
        numpy.abs(numpy.fft.rfft(window)) ** 2
    ).astype(numpy.float64)


def tones(name: str) -> list[Tone]:
    """The pulses of a sound, found from its loudness in steps of 5 ms."""
    samples, rate = loaded(name)
    step = rate // 200
    loud = numpy.array([numpy.abs(samples[at : at + step]).max() for at in range(0, len(samples), step)]) > 0.02
    edges = numpy.flatnonzero(numpy.diff(numpy.concatenate(([False], loud, [False])).astype(int)))
    found = []
    for start, end in zip(edges[::2], edges[1::2], strict=True):
        part = samples[start * step : end * step]
        frequencies, energy = spectrum(part, rate)
        found.append(Tone(start / 200, end / 200, float(frequencies[energy.argmax()]), float(numpy.abs(part).max())))
    return found


@pytest.mark.parametrize("name", NAMES)
def test_the_files_are_what_the_script_makes(name: str, tmp_path: Path) -> None:
    make_sounds.write(tmp_path)
    made, kept = (sound_file(folder, name).read_bytes() for folder in (tmp_path, SOUNDS))
    assert len(made) == len(kept)
    apart = numpy.frombuffer(made[44:], "<i2").astype(int) - numpy.frombuffer(kept[44:], "<i2").astype(int)
    assert made[:44] == kept[:44]
    assert numpy.abs(apart).max() <= 1  # another mathematics library may round the last bit another way


@pytest.mark.parametrize("name", NAMES)
def test_the_energy_lies_where_it_is_heard(name: str) -> None:
    """500 to 2500 Hz, most of it below 1500 Hz for those who hear badly or wear ear muffs (ISO 7731, from memory)."""
    frequencies, energy = spectrum(*loaded(name))
    whole = energy.sum()
    assert energy[(frequencies >= 500) & (frequencies <= 2500)].sum() > 0.97 * whole
    assert energy[frequencies < 1500].sum() > 0.6 * whole


@pytest.mark.parametrize("name", NAMES)
def test_loud_but_never_cut_off_at_the_top(name: str) -> None:
    samples, _ = loaded(name)
    assert 0.4 < numpy.abs(samples).max() < 0.95


@pytest.mark.parametrize("name", NAMES)
def test_flanks_are_rounded_so_nothing_clicks(name: str) -> None:
    samples, _ = loaded(name)
    assert max(abs(samples[0]), abs(samples[-1])) < 0.01


@pytest.mark.parametrize("name", VERDICT_SOUNDS)
def test_a_verdict_is_short(name: str) -> None:
    samples, rate = loaded(name)
    assert len(samples) / rate < 0.6


@pytest.mark.parametrize("name", tuple(ALARM_SOUNDS.values()))
def test_an_alarm_pulses_half_to_four_times_a_second(name: str) -> None:
    """ISO 7731, from memory."""
    pulses = tones(name)
    periods = [after.start - before.start for before, after in pairwise(pulses)]
    assert len(pulses) >= 2
    assert all(0.25 <= period <= 2.0 for period in periods)


@pytest.mark.parametrize("name", tuple(ALARM_SOUNDS.values()))
def test_no_alarm_is_taken_for_evacuation(name: str) -> None:
    """Evacuation is continuous, or three pulses of half a second half a second apart and a pause (ISO 8201)."""
    pulses = tones(name)
    assert max(pulse.length for pulse in pulses) < 0.45
    assert len(pulses) != 3
    gaps = [after.start - before.end for before, after in pairwise(pulses)]
    assert all(not 0.45 <= gap <= 0.55 for gap in gaps)


def test_the_more_urgent_the_faster_and_the_higher() -> None:
    high, medium, low = (tones(name) for name in tuple(ALARM_SOUNDS.values()))
    assert high[0].pitch > medium[0].pitch > low[0].pitch
    per_second = [len(pulses) / (pulses[-1].end - pulses[0].start) for pulses in (high, medium, low)]
    assert per_second == sorted(per_second, reverse=True)


def test_only_the_most_urgent_alarm_changes_its_pitch() -> None:
    def pitches(name: str) -> set[int]:  # in semitones
        return {round(12 * numpy.log2(tone.pitch / 440)) for tone in tones(name)}

    assert [len(pitches(name)) for name in ALARM_SOUNDS.values()] == [2, 1, 1]


def test_the_most_urgent_alarm_grows_and_startles_nobody() -> None:
    """A jump of more than 30 dB within half a second is to be avoided (ISO 7731, from memory)."""
    first, second, third, fourth, *_ = tones("alarm-high")
    assert first.peak < 0.3 * fourth.peak
    assert first.peak < second.peak < third.peak < fourth.peak


def test_use_rises_and_stop_falls() -> None:
    use, stop = tones("use"), tones("stop")
    assert [tone.pitch for tone in use] == sorted(tone.pitch for tone in use)
    assert [tone.pitch for tone in stop] == sorted((tone.pitch for tone in stop), reverse=True)


@pytest.mark.parametrize(("one", "other"), tuple(combinations(NAMES, 2)))
def test_no_two_sounds_are_alike_in_rhythm_and_pitch(one: str, other: str) -> None:
    first, second = tones(one), tones(other)
    same_rhythm = len(first) == len(second) and all(
        abs(a.length - b.length) < 0.05 and abs(a.start - b.start) < 0.1 for a, b in zip(first, second, strict=True)
    )
    semitones = abs(12 * numpy.log2(first[0].pitch / second[0].pitch))
    assert not same_rhythm
    assert len(first) != len(second) or semitones > 0.9
