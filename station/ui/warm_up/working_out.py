"""From files to figures: read, ask or refuse, fit each run and pool them. No widgets, so that a thread may do it."""

import hashlib
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from station.readings.layout import LayoutRefused
from station.readings.questions import LayoutUnclear
from station.readings.runs_in_files import Around, Candidate, File, candidates, file_of
from station.readings.series import ReadingsRefused, bounded
from station.services.outcome import Refusal, refuse_no_room
from station.ui.warm_up.asked import ROOM, Answer, Asks, Faults, Found, RunFound, RunsAsked
from station.ui.warm_up.questions import asking, declared, hopeless, which_room

MOST_TOLD = 5
DIGEST_LENGTH = 16
NO_ROOM = "No sensor is in all of these files, so none can have measured the room in each. Type the room's temperature."


def work_out(asked: RunsAsked, zone: str) -> Answer:
    """What comes of the files as they were told; `zone` is the plant's, offered where one is asked for."""
    contents: list[tuple[str, bytes]] = []
    try:
        contents += [(name, path.read_bytes()) for name, path in _named(asked.files)]
    except OSError as trouble:
        return Faults((f"{trouble.filename}: it can't be read ({trouble.strerror}).",))
    files, unclear, faults = _read(contents, asked)
    if faults:
        return Faults(bounded(faults, MOST_TOLD))
    if unclear:
        return Asks(asking(unclear, zone))
    if asked.room_c is None and not asked.answers.get(ROOM):
        question = which_room(files)
        return Asks((question,)) if question is not None else Faults((NO_ROOM,))
    try:
        refuse_no_room(asked.room_c, None)
        told = candidates(files, _around(asked))
    except Refusal as refusal:
        return Faults((refusal.sentence,))
    return _found(told, files, contents)


def _named(files: Sequence[Path]) -> list[tuple[str, Path]]:
    """Each file by its name, or by its whole path where two have the same."""
    names = [path.name for path in files]
    return [(path.name if names.count(path.name) == 1 else str(path), path) for path in files]


def _read(contents: Sequence[tuple[str, bytes]], asked: RunsAsked) -> tuple[list[File], list[LayoutUnclear], list[str]]:
    files: list[File] = []
    unclear: list[LayoutUnclear] = []
    faults: list[str] = []
    for name, content in contents:
        try:
            files.append(file_of(name, content, declared(asked)))
        except LayoutUnclear as open_question:
            unclear.append(open_question)
            faults += hopeless(open_question)
        except ReadingsRefused as refused:
            faults += refused.sentences(MOST_TOLD)
        except LayoutRefused as refused:
            faults.append(f"{name}: {refused}")
    return files, unclear, faults


def _around(asked: RunsAsked) -> Around:
    sensor = asked.answers.get(ROOM, ("",))[0] if asked.room_c is None else None
    return Around(asked.room_c, sensor, asked.outs, asked.from_start)


def _found(told: Sequence[Candidate], files: Sequence[File], contents: Sequence[tuple[str, bytes]]) -> Found:
    from station.care.warmup.fit import pool  # noqa: PLC0415  a second of loading, beside the window

    runs = tuple(_run(candidate) for candidate in told)
    counting = {run.file for run in runs if run.used}
    return Found(
        runs=runs,
        pooled=pool([run.fitted for run in runs if run.used and run.fitted is not None]),
        digests=tuple(digest(name, content) for name, content in contents if name in counting),
        notes=bounded([note for file in files for note in file.notes], MOST_TOLD),
    )


def digest(name: str, content: bytes) -> str:
    """How the record names a file: the beginning of its SHA-256, and its name without its folder."""
    return f"{hashlib.sha256(content).hexdigest()[:DIGEST_LENGTH]} {Path(name).name}"


def _run(candidate: Candidate) -> RunFound:
    from station.care.warmup.fit import evaluate  # noqa: PLC0415  a second of loading, beside the window

    found = RunFound(candidate.file, candidate.name, _raw(candidate), None, None, (), None)
    if candidate.run is None:
        return replace(found, reasons=tuple(sentence for _, sentence in candidate.reasons))
    judged = evaluate(candidate.run)
    part = judged.part
    seconds = (second - part.zero_s for second in candidate.run.seconds)
    return replace(
        found,
        points=tuple(zip(seconds, candidate.run.temperatures_c, strict=True)),
        room_c=part.room_c if part.seconds else None,
        cold_c=part.cold_c if part.seconds else None,
        reasons=tuple(reason.sentence for reason in judged.reasons),
        fitted=judged.fitted,
    )


def _raw(candidate: Candidate) -> tuple[tuple[float, float], ...]:
    """The readings as they stand in the file, from its first row on."""
    readings = [(row.at, row.temperatures.get(candidate.sensor)) for row in candidate.rows]
    points = [(at, value) for at, value in readings if isinstance(value, float)]
    return tuple(((at - points[0][0]).total_seconds(), value) for at, value in points)
