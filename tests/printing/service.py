"""A print service of our own: the real cupsd on a socket in a folder of its own, and a printer that is a listener."""

import os
import pwd
import queue
import shutil
import signal
import socket
import subprocess
import tempfile
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

TOOLS = ("cupsd", "lp", "lpstat", "lpadmin", "pdftoppm")
DEADLINE_S = 30
TRIES = 2000
FOLDERS = ("root", "state", "spool", "cache", "tmp", "log")
ANYBODY = "Order allow,deny\nAllow all"
CONFIGURATION = f"""
Listen {{folder}}/socket
Browsing No
DefaultAuthType None
ErrorPolicy retry-job
JobRetryInterval 1
<Location />
{ANYBODY}
</Location>
<Location /admin>
{ANYBODY}
</Location>
<Policy default>
<Limit All>
{ANYBODY}
</Limit>
</Policy>
"""
# A printer that reports, by the way every driver reports, that it is out of labels, and takes nothing until then.
BACKENDS = Path("/usr/lib/cups/backend")
NO_LABELS = """#!/bin/sh
[ $# -eq 0 ] && exit 0
echo "STATE: +media-empty-error" >&2
exec tail -f /dev/null
"""
PLACES = """
ServerBin {folder}/bin
ServerRoot {folder}/root
StateDir {folder}/state
RequestRoot {folder}/spool
TempDir {folder}/tmp
CacheDir {folder}/cache
AccessLog {folder}/log/access
ErrorLog {folder}/log/error
PageLog {folder}/log/page
FileDevice Yes
"""
SEARCHED = f"{os.environ.get('PATH', os.defpath)}:/usr/sbin:/sbin"


def missing_tools() -> list[str]:
    """Programs these tests need that are not installed, and the way to a printer by its address."""
    missing = [tool for tool in TOOLS if shutil.which(tool, path=SEARCHED) is None]
    return missing if missing or (BACKENDS / "socket").exists() else ["the backend socket"]


class Printer:
    """Takes whatever comes in at a port of its own, one label for each connection, as label printers do."""

    def __init__(self) -> None:
        """Switched on."""
        self._labels: queue.SimpleQueue[bytes] = queue.SimpleQueue()
        self._socket = socket.create_server(("127.0.0.1", 0))
        self.port = self._socket.getsockname()[1]
        self._on = True
        self._thread = threading.Thread(target=self._take)
        self._thread.start()

    def label(self) -> bytes:
        """The next label that came in; queue.Empty where none comes."""
        return self._labels.get(timeout=DEADLINE_S)

    @property
    def is_empty(self) -> bool:
        """Whether no label came in that was not looked at."""
        return self._labels.empty()

    def switch_off(self) -> None:
        """Nobody listens at the port any more."""
        if self._on:
            self._on = False
            self._socket.shutdown(socket.SHUT_RDWR)
            self._thread.join(DEADLINE_S)
            self._socket.close()

    def _take(self) -> None:
        while True:
            try:
                connection, _ = self._socket.accept()
            except OSError:
                return
            with connection, connection.makefile("rb") as data:
                self._labels.put(data.read())


class Service:
    """One cupsd with queues."""

    def __init__(self, folder: Path) -> None:
        """Runs at once; `await_answer` before the first question."""
        self.folder = folder
        self.environment = {
            "CUPS_SERVER": str(folder / "socket"),
            "CUPS_SERVERROOT": str(folder / "root"),
            "HOME": str(folder),
        }
        (folder / "cupsd.conf").write_text(CONFIGURATION.format(folder=folder), encoding="utf-8")
        (folder / "files.conf").write_text(PLACES.format(folder=folder) + _account(folder), encoding="utf-8")
        program = shutil.which("cupsd", path=SEARCHED)
        assert program is not None
        with (folder / "out").open("wb") as out:
            self._process = subprocess.Popen(
                [program, "-f", "-c", folder / "cupsd.conf", "-s", folder / "files.conf"], stdout=out, stderr=out
            )

    def await_answer(self) -> None:
        """Until it answers."""
        for _ in range(TRIES):
            if "is running" in self.run("lpstat", "-r"):
                return
            assert self._process.poll() is None, (self.folder / "out").read_text(encoding="utf-8")
        raise AssertionError((self.folder / "log" / "error").read_text(encoding="utf-8"))

    def run(self, *command: str) -> str:
        """Run one of the service's programs and give back what it said."""
        environment = {**os.environ, **self.environment, "LC_ALL": "C", "PATH": SEARCHED}
        done = subprocess.run(command, env=environment, capture_output=True, text=True, check=False, timeout=DEADLINE_S)
        return done.stdout

    def add_queue(self, name: str, port: int, *more: str) -> None:
        """A queue to a printer at a port of this PC, open and started."""
        self.add_queue_to(f"socket://127.0.0.1:{port}/?snmp=false", name, *more)

    def add_queue_to(self, address: str, name: str, *more: str) -> None:
        """A queue to a printer at an address, open and started."""
        self.run("lpadmin", "-p", name, "-v", address, *more, "-E")
        assert f"printer {name} is idle" in self.run("lpstat", "-p", name)

    def jobs(self) -> str:
        """The jobs that wait."""
        return self.run("lpstat", "-W", "not-completed", "-o")

    def hang(self) -> None:
        """It takes connections as before and answers nobody."""
        self._process.send_signal(signal.SIGSTOP)

    def go_on(self) -> None:
        """It answers again."""
        self._process.send_signal(signal.SIGCONT)

    def await_no_jobs(self) -> None:
        """Until no job waits any more."""
        assert any(not self.jobs() for _ in range(TRIES)), self.jobs()

    def end(self) -> None:
        """End it and all it runs."""
        if self._process.poll() is None:
            self._process.send_signal(signal.SIGCONT)
            self._process.terminate()
        try:
            self._process.wait(DEADLINE_S)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait()


def _account(folder: Path) -> str:
    """Whom it runs filters as: root is refused, so for root it is the account that printing has on every Debian."""
    for name in FOLDERS:
        (folder / name).mkdir()
    _programs(folder / "bin")
    (folder / "spool" / "tmp").mkdir()
    me = pwd.getpwuid(os.getuid())
    if me.pw_uid != 0:
        return ""
    folder.chmod(0o755)
    for name in FOLDERS:
        shutil.chown(folder / name, "root", "lp")
        (folder / name).chmod(0o770)
    shutil.chown(folder / "spool" / "tmp", "root", "lp")
    (folder / "spool" / "tmp").chmod(0o770)
    return "User lp\nGroup lp\n"


def _programs(folder: Path) -> None:
    """The service's own programs, and one more way to a printer."""
    shutil.copytree(BACKENDS.parent, folder, symlinks=True, ignore=shutil.ignore_patterns("backend"))
    (folder / "backend").mkdir()
    shutil.copy(BACKENDS / "socket", folder / "backend" / "socket")
    made = folder / "backend" / "nolabels"
    made.write_text(NO_LABELS, encoding="ascii")
    made.chmod(0o755)


@contextmanager
def running_service() -> Iterator[Service]:
    """A cupsd that is gone afterwards."""
    # The path of a socket has room for 107 characters, and the account of the filters has to get in.
    folder = Path(tempfile.mkdtemp(prefix="print-service-", dir="/tmp"))
    try:
        service = Service(folder)
        try:
            service.await_answer()
            yield service
        finally:
            service.end()
    finally:
        shutil.rmtree(folder, ignore_errors=True)


@contextmanager
def printer() -> Iterator[Printer]:
    """A printer that is off afterwards."""
    made = Printer()
    try:
        yield made
    finally:
        made.switch_off()
