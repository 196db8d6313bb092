"""Programs end by themselves or at their limit; none is left behind."""

import os
import sys
import threading
from pathlib import Path

import pytest

from station.labels.faults import LabelFault
from station.printing.commands import Commands, NoAnswer
from station.printing.cups import CupsSpooler
from station.printing.media import Media
from station.printing.spooler import Drawn, UnknownFate

posix = pytest.mark.skipif(sys.platform == "win32", reason="shell scripts stand in for the programs of CUPS")
MEDIA = Media(60, 40, 203)


def test_it_gives_back_how_a_program_ended_and_what_it_wrote() -> None:
    script = "import sys; print(sys.stdin.read()[::-1]); print('bad', file=sys.stderr); sys.exit(3)"
    answer = Commands(20).run(sys.executable, "-c", script, data=b"abc")
    assert (answer.code, answer.out.strip(), answer.err.strip()) == (3, "cba", "bad")


def test_one_that_never_ends_is_ended_at_its_limit() -> None:
    """BR-29."""
    with pytest.raises(NoAnswer):
        Commands(0.2).run(sys.executable, "-c", "import threading; threading.Event().wait()")


@posix
def test_closing_ends_what_runs_and_begins_nothing_more(tmp_path: Path) -> None:
    commands, codes = Commands(60), []
    os.mkfifo(tmp_path / "begun")
    script = f"import threading; open({str(tmp_path / 'begun')!r}, 'w'); threading.Event().wait()"
    thread = threading.Thread(target=lambda: codes.append(commands.run(sys.executable, "-c", script).code))
    thread.start()
    (tmp_path / "begun").read_bytes()  # comes back once the program has opened the other end
    commands.close()
    thread.join(20)
    assert codes == [-9]
    with pytest.raises(NoAnswer):
        commands.run(sys.executable, "-c", "pass")


def programs(folder: Path, **scripts: str) -> Commands:
    """Only these programs are found, each a shell script."""
    for name, script in scripts.items():
        path = folder / name
        path.write_text(f"#!/bin/sh\n{script}\n", encoding="utf-8")
        path.chmod(0o755)
    return Commands(0.5, {"PATH": str(folder)})


def hand_over(commands: Commands) -> LabelFault:
    with pytest.raises(LabelFault) as caught:
        CupsSpooler("labels", MEDIA, commands).hand_over(Drawn("a label", 203, b"%PDF-1.4", b""))
    return caught.value


GOOD = "echo printer-state=3 printer-is-accepting-jobs=true printer-state-reasons=none"


@posix
def test_lp_that_hangs_leaves_the_label_unknown(tmp_path: Path) -> None:
    """BR-28, BR-29."""
    fault = hand_over(programs(tmp_path, lp="while :; do :; done", lpoptions=GOOD))
    assert isinstance(fault, UnknownFate)
    assert fault.sentence.startswith("The print service did not answer within 0.5 s.")


@posix
def test_an_answer_without_a_job_leaves_the_label_unknown(tmp_path: Path) -> None:
    fault = hand_over(programs(tmp_path, lp="echo thank you", lpoptions=GOOD))
    assert isinstance(fault, UnknownFate)
    assert fault.sentence == "Printer queue labels took the label without naming its job."


@posix
def test_a_refusal_of_lp_is_told_in_its_own_words_where_the_queue_has_no_fault(tmp_path: Path) -> None:
    fault = hand_over(programs(tmp_path, lp="echo 'lp: quota reached' >&2; exit 1", lpoptions=GOOD))
    assert not isinstance(fault, UnknownFate)
    assert fault.sentence == (
        "Printer queue labels did not take the label (lp: quota reached). Ask whoever looks after the printers."
    )


@posix
def test_a_pc_without_the_programs_of_the_print_service_says_so(tmp_path: Path) -> None:
    spooler = CupsSpooler("labels", MEDIA, programs(tmp_path))
    found = spooler.trouble()
    assert found is not None
    assert found.sentence == "This PC has no program lpoptions. Install the package cups-client."
    assert hand_over(programs(tmp_path, lpoptions=GOOD)).code == "no-service"
    assert not spooler.cancel("labels-1")


@posix
@pytest.mark.parametrize("told", [f"{GOOD} \\'odd", f"{GOOD} printer-info=\\'Labels by the door\\'"])
def test_texts_with_quotes_do_not_hide_how_the_queue_stands(tmp_path: Path, told: str) -> None:
    assert CupsSpooler("labels", MEDIA, programs(tmp_path, lpoptions=told)).trouble() is None


@posix
def test_a_queue_known_by_name_only_may_be_printed_on(tmp_path: Path) -> None:
    """Queues found on the network tell no state before the first job."""
    found = programs(tmp_path, lpoptions="echo copies=1", lpstat="[ $1 = -p ] || echo scheduler is running")
    assert CupsSpooler("labels", MEDIA, found).trouble() is None
