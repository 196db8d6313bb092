"""Checks an exported record. Needs Python 3.9 or later and nothing else: no other file of the program, no network.

    python3 check_chain.py [FOLDER] [--digest HEX]...

FOLDER is the exported folder (by default the one this script lies in). Exit code 0: everything holds; 1: not.
READ-ME.txt says in words what is checked, so that anybody can write such a script anew and need not trust this one.
"""

from __future__ import annotations

import argparse
import csv
import hashlib
import json
import pathlib
import re
import sys
from collections.abc import Iterator

KEPT = {
    "attached": ("digest",),
    "delivered": ("digests",),
    "readings-imported": ("digest", "series"),
    "readings-withdrawn": ("digest", "series"),
    "excursion-found": ("readings",),
    "excursion-confirmed": ("readings",),
}
HASH = re.compile("[0-9a-f]{64}")


def sha256(path: pathlib.Path) -> str:
    """The SHA-256 of a file, in hex."""
    digest = hashlib.sha256()
    with path.open("rb") as file:
        for block in iter(lambda: file.read(1 << 20), b""):
            digest.update(block)
    return digest.hexdigest()


def lines(path: pathlib.Path) -> list[bytes]:
    """The lines of a file as bytes, without their ends."""
    content = path.read_bytes()
    if content and not content.endswith(b"\n"):
        content += b"\n"
    return content.split(b"\n")[:-1]


def check_sums(folder: pathlib.Path) -> Iterator[str]:
    """Every file is the one that was listed, and no other file lies here."""
    listed = {}
    for line in (folder / "SHA256SUMS").read_text(encoding="utf-8").splitlines():
        digest, _, name = line.partition("  ")
        listed[name] = digest
    found = {
        path.relative_to(folder).as_posix()
        for path in folder.rglob("*")
        if path.is_file() and path.name != "SHA256SUMS"
    }
    for name in sorted(found - set(listed)):
        yield f"{name}: not in SHA256SUMS"
    for name, digest in listed.items():
        if name not in found:
            yield f"{name}: missing"
        elif sha256(folder / name) != digest:
            yield f"{name}: changed since it was exported"


def heads(folder: pathlib.Path) -> Iterator[tuple[str, int, str, int, str]]:
    """What heads.csv says: journal, first number, hash before it, last number, head."""
    with (folder / "heads.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.reader(file, delimiter=";"))
    for row in rows[rows.index([]) + 2 :]:
        journal, first, before, last, head = (cell.removeprefix("'") for cell in row)
        yield journal, int(first), before, int(last), head


def check_chain(folder: pathlib.Path) -> Iterator[str]:
    """Each hash is the SHA-256 of the hash before it (32 bytes) and the line's bytes."""
    stored, hashes = lines(folder / "facts.jsonl"), lines(folder / "chain.txt")
    if len(stored) != len(hashes):
        yield f"facts.jsonl has {len(stored)} lines, chain.txt {len(hashes)}"
        return
    place = 0
    for journal, first, start, last, head in heads(folder):
        before = start
        for number in range(first, last + 1):
            if place == len(stored):
                yield f"journal {journal}, fact {number}: missing"
                return
            fact = json.loads(stored[place])
            if (fact["journal"], fact["seq"]) != (journal, number):
                yield f"line {place + 1}: journal {journal}, fact {number} should stand here"
                return
            before = hashlib.sha256(bytes.fromhex(before) + stored[place]).hexdigest()
            if before.encode() != hashes[place]:
                yield f"line {place + 1}: fact or hash was changed (journal {journal}, fact {number})"
                return
            place += 1
        if before != head:
            yield f"journal {journal}: the head is not the one in heads.csv"
    if place != len(stored):
        yield f"facts.jsonl has {len(stored) - place} lines that belong to no journal of heads.csv"


def check_kept(folder: pathlib.Path) -> Iterator[str]:
    """Every kept file that a fact names is here, and is what its name says."""
    for line in lines(folder / "facts.jsonl"):
        fact = json.loads(line)
        for field in KEPT.get(fact["name"], ()):
            named = fact["body"].get(field) or []
            for digest in [named] if isinstance(named, str) else named:
                path = folder / "evidence" / digest
                if not HASH.fullmatch(digest) or not path.is_file():
                    yield "journal {}, fact {}: kept file {} is missing".format(fact["journal"], fact["seq"], digest)
                elif sha256(path) != digest:
                    yield f"kept file {digest}: its content is another"


def check_digests(folder: pathlib.Path, wanted: list[str]) -> Iterator[str]:
    """Every digest noted earlier stands in the chain."""
    held = [line.decode("ascii", "replace") for line in lines(folder / "chain.txt")]
    for text in wanted:
        digest = "".join(text.split()).lower()
        if len(digest) < 16:
            yield f"digest {text}: too short to prove anything"
        elif not any(found.startswith(digest) for found in held):
            yield f"digest {text}: not in this chain"


def check(folder: pathlib.Path, wanted: list[str]) -> Iterator[str]:
    """Every fault, in words."""
    for part in (check_sums, check_chain, check_kept):
        try:
            yield from part(folder)
        except (OSError, ValueError, KeyError, TypeError) as error:
            yield f"{part.__name__}: cannot be done ({type(error).__name__}: {error})"
    yield from check_digests(folder, wanted)


def main() -> int:
    """Check the folder and say what was found."""
    parser = argparse.ArgumentParser(description="Checks an exported record.")
    parser.add_argument("folder", nargs="?", type=pathlib.Path, default=pathlib.Path(__file__).resolve().parent)
    parser.add_argument("--digest", action="append", default=[], help="a digest noted earlier, 16 digits or more")
    told = parser.parse_args()
    faults = list(check(told.folder, told.digest))
    for fault in faults:
        sys.stdout.write(fault + "\n")
    if faults:
        return 1
    for journal, first, _, last, head in heads(told.folder):
        sys.stdout.write(f"journal {journal}: facts {first} to {last}, head {head}\n")
    sys.stdout.write("ok: the chain holds. It has no key: compare the heads with digests noted elsewhere.\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
