"""`station warmup fit FILES`: a container kind's warm-up figures from thermocouple runs; accepts nothing by itself."""

from argparse import Namespace
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta

from station.care.conditioning import CLOSE_TO_ROOM_K, time_to_reach
from station.care.saying import span_up
from station.care.specification import Kind
from station.care.warmup.fit import Fitted, Interval, Judged, Pooled, evaluate, pool
from station.cli.runs_in_files import candidates, read_files, refuse_bad_room
from station.cli.saying import NO, YES, complain, say, say_json, table
from station.readings.runs_in_files import Candidate
from station.readings.series import bounded
from station.services.outcome import Refusal
from station.settings.load import load
from station.settings.quantities import written

FROM_C, ROOM_C = 5.0, 23.0
"""The way that old and new figures are compared over: a refrigerator and a room as most are."""
ACCEPTING = (
    "Nothing was changed: a process engineer accepts the safe figures at the station, with a note. The supplier's "
    "minimum conditioning time stays the least."
)
TOO_FEW = "One run does not show how much containers differ; at least two that count are needed for figures to accept."


@dataclass(frozen=True, slots=True)
class Result:
    """One run: where it came from, and why it does not count or how it was fitted."""

    candidate: Candidate
    reasons: tuple[tuple[str, str], ...]
    fitted: Fitted | None


def run(told: Namespace) -> int:
    """Fit every run that counts and pool them; a run that does not is the answer "no"."""
    site = load(told.config)
    kind = site.plant.kinds.get(told.kind)
    if kind is None:
        known = ", ".join(site.plant.kinds)
        raise Refusal("kind-unknown", f"There is no kind {told.kind!r} here. Use one of: {known}.")
    refuse_bad_room(told)
    files = read_files(told)
    found = candidates(files, told, site.zone)
    notes = [note for file in files for note in file.notes]
    results = [_result(candidate) for candidate in found]
    pooled = pool([result.fitted for result in results if result.fitted is not None and not result.reasons])
    if told.json:
        say_json(_as_json(kind, results, pooled, notes))
    else:
        _say_readably(kind, results, pooled)
        complain(bounded(notes))
    return NO if any(result.reasons for result in results) else YES


def _result(candidate: Candidate) -> Result:
    if candidate.run is None:
        return Result(candidate, candidate.reasons, None)
    judged: Judged = evaluate(candidate.run)
    return Result(candidate, tuple((r.code.value, r.sentence) for r in judged.reasons), judged.fitted)


def _minutes(length: timedelta) -> float:
    return round(length / timedelta(minutes=1), 2)


def _ends(interval: Interval) -> list[float]:
    return [_minutes(interval.low), _minutes(interval.high)]


def _figures(found: Fitted | Pooled) -> dict[str, object]:
    return {
        "time_constant_min": _minutes(found.time_constant),
        "time_constant_95_min": _ends(found.time_constant_interval),
        "dead_time_min": _minutes(found.dead_time),
        "dead_time_95_min": _ends(found.dead_time_interval),
    }


def _as_json(kind: Kind, results: Sequence[Result], pooled: Pooled | None, notes: list[str]) -> dict[str, object]:
    safe = _safe(kind, pooled)
    return {
        "kind": kind.id,
        "runs": [_run_json(result) for result in results],
        "pooled": {"runs": pooled.runs, **_figures(pooled), **_spreads(pooled)} if pooled is not None else None,
        "safe": _kind_json(safe) if safe is not None else None,
        "present": {**_kind_json(kind), "figures": "estimate" if kind.estimate else "measured"},
        "notes": notes,
        "accepting": ACCEPTING if pooled is not None else TOO_FEW,
    }


def _run_json(result: Result) -> dict[str, object]:
    fitted = result.fitted
    answer: dict[str, object] = {
        "file": result.candidate.file,
        "sensor": result.candidate.sensor,
        "used": not result.reasons,
        "reasons": [{"code": code, "sentence": sentence} for code, sentence in result.reasons],
    }
    if fitted is None:
        return answer
    return {
        **answer,
        **_figures(fitted),
        "start_c": round(fitted.start_c, 2),
        "room_c": round(fitted.room_c, 2),
        "rms_k": round(fitted.rms_k, 3),
        "r_squared": round(fitted.r_squared, 5),
        "readings": fitted.readings,
        "independent_readings": round(fitted.independent, 1),
    }


def _spreads(pooled: Pooled) -> dict[str, object]:
    return {
        "time_constant_between_runs_min": _minutes(pooled.time_constant_spread),
        "dead_time_between_runs_min": _minutes(pooled.dead_time_spread),
    }


def _kind_json(kind: Kind) -> dict[str, object]:
    return {
        "time_constant": written(kind.time_constant),
        "dead_time": written(kind.dead_time),
        "warm_up_5_to_21_of_23_c_min": _minutes(_warm_up(kind)),
    }


def _safe(kind: Kind, pooled: Pooled | None) -> Kind | None:
    """The kind as it would be with the figures to accept."""
    if pooled is None:
        return None
    return replace(kind, time_constant=pooled.safe_time_constant, dead_time=pooled.safe_dead_time, estimate=False)


def _warm_up(kind: Kind) -> timedelta:
    return time_to_reach(ROOM_C - CLOSE_TO_ROOM_K, FROM_C, ROOM_C, kind)


def _say_readably(kind: Kind, results: Sequence[Result], pooled: Pooled | None) -> None:
    table([("run", "", "time constant", "dead time", "misses by"), *map(_run_row, results)])
    for result in results:
        for code, sentence in result.reasons:
            say(f"  {result.candidate.name}: {code}: {sentence}")
    say()
    table(list(_summary(kind, pooled)))
    say()
    say(ACCEPTING if pooled is not None else TOO_FEW)


def _run_row(result: Result) -> tuple[str, str, str, str, str]:
    fitted = result.fitted
    mark = "refused" if result.reasons else "used"
    if fitted is None:
        return (result.candidate.name, mark, "-", "-", "-")
    return (
        result.candidate.name,
        mark,
        _told(fitted.time_constant, fitted.time_constant_interval),
        _told(fitted.dead_time, fitted.dead_time_interval),
        f"{fitted.rms_k:.2f} K",
    )


def _told(middle: timedelta, interval: Interval) -> str:
    low, high = _ends(interval)
    return f"{_minutes(middle):.1f} min (95 %: {low:.1f} to {high:.1f})"


def _summary(kind: Kind, pooled: Pooled | None) -> Iterator[tuple[str, str, str, str]]:
    yield ("", "time constant", "dead time", f"{FROM_C:g} C to within {CLOSE_TO_ROOM_K:g} K of {ROOM_C:g} C")
    if pooled is not None:
        yield (
            f"{pooled.runs} runs together",
            _told(pooled.time_constant, pooled.time_constant_interval),
            _told(pooled.dead_time, pooled.dead_time_interval),
            "",
        )
    safe = _safe(kind, pooled)
    rows = [("safe, to accept", safe)] if safe is not None else []
    for name, figures in (*rows, (f"{kind.id} now ({'estimate' if kind.estimate else 'measured'})", kind)):
        yield (name, written(figures.time_constant), written(figures.dead_time), span_up(_warm_up(figures)))
