"""`station rehearse SCRIPT.jsonl`: plays a script on a station of its own and says what came of every step."""

from argparse import Namespace
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from station.bootstrap import build_player
from station.cli.saying import CANNOT, NO, YES, complain, say, say_json
from station.cli.script_values import script_faults
from station.rehearsal.player import Played
from station.rehearsal.script import ScriptRefused, Step, read_script
from station.services.outcome import Refusal
from station.services.site import Site
from station.settings.faults import SettingsRefused, render
from station.settings.load import load


def run(told: Namespace) -> int:
    """Play the script; a missed expectation is the answer "no"."""
    site, steps, faults = _read_both(told.script, told.config)
    if site is None or faults:
        complain(faults)
        return CANNOT
    missed = 0
    for step, played in _play(site, steps, told.script.name):
        if told.json:
            say_json(played.report)
        else:
            _say_readably(played, site.zone)
        complain(f"{told.script.name} line {step.line}: missed {fault}" for fault in played.missed)
        missed += bool(played.missed)
    if missed:
        complain([f"{missed} of {len(steps)} steps did not come out as expected."])
        return NO
    return YES


def _read_both(script: Path, config: Path) -> tuple[Site | None, tuple[Step, ...], tuple[str, ...]]:
    """Site and steps, and the faults of both: whoever mends the one wants to know of the other."""
    site: Site | None = None
    faults: tuple[str, ...] = ()
    try:
        site = load(config)
    except SettingsRefused as refused:
        faults = render(refused.faults, config)
    try:
        steps = read_script(script, site.zone if site is not None else ZoneInfo("UTC"))
    except ScriptRefused as refused:
        return site, (), (*faults, *refused.faults)
    if site is not None:
        faults = script_faults(script.name, steps, site)
    return site, steps, faults


def _play(site: Site, steps: tuple[Step, ...], name: str) -> Iterator[tuple[Step, Played]]:
    player = build_player(site, steps[0].at)
    for step in steps:
        try:
            played = player.step(step)
        except LookupError as unknown:
            sentence = f"{name} line {step.line}: {unknown} is not known then. Nothing after it was played."
            raise Refusal("step-unknown", sentence) from unknown
        yield step, played


def _say_readably(played: Played, zone: ZoneInfo) -> None:
    report = played.report
    at = datetime.fromisoformat(str(report["at"])).astimezone(zone)
    alarms = report["alarms"]
    ringing = f"  [{len(alarms)} open]" if isinstance(alarms, list) and alarms else ""
    verdict = report["verdict"] or ("refused" if report["refused"] else "")
    mark = "!" if played.missed else " "
    said = report["headline"] or report["refused"] or ""
    say(
        f"{mark}{report['line']:>4}  {at:%a %d %b %H:%M:%S}  {report['place']!s:<8} {report['action']!s:<12} "
        f"{verdict!s:<7} {said}{ringing}"
    )
    for sentence in (report["why"], report["todo"], report["note"]):
        if sentence:
            say(f"{'':30}{sentence}")
