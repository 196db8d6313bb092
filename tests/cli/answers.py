"""What a command answered, and where the settings for it lie."""

import json
import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "demo_config"
PLANT_T = ROOT / "tests" / "plant_t"
PLAIN_DAY = ROOT / "tests" / "rehearsal" / "days" / "plain_day.jsonl"


@dataclass(frozen=True, slots=True)
class Answer:
    """Exit code, standard output, standard error."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> dict[str, Any]:
        """The one JSON object it answered with."""
        (line,) = self.out.splitlines()
        answer = json.loads(line)
        assert isinstance(answer, dict)
        return answer


def as_a_program(*words: object, **surroundings: str) -> Answer:
    """The command as people start it: `python -m station`, in a process of its own."""
    done = subprocess.run(
        [sys.executable, "-m", "station", *map(str, words)],
        capture_output=True,
        cwd=ROOT,
        env={**os.environ, **surroundings},
        timeout=60,
        check=False,
    )
    return Answer(done.returncode, done.stdout.decode("utf-8"), done.stderr.decode("utf-8"))
