"""`station restore BACKUP`: journal, key and kept files into an empty data folder, as a journal that continues."""

from argparse import Namespace

from station.bootstrap import JOURNAL_NAME, KEY_NAME
from station.cli.saying import NO, YES, complain, say
from station.journal.putting_back import put_back
from station.journal.verify import verify


def run(told: Namespace) -> int:
    """Restore; kept files that were not whole in the backup are named and answered with "no"."""
    done = put_back(told.file, told.data, JOURNAL_NAME, KEY_NAME)
    rows = sum(chain.rows for chain in verify(told.data / JOURNAL_NAME).chains)
    say(f"restored: {rows} facts, the key and {len(done.files)} kept files in {told.data}")
    say("Start the station, run station verify; labels printed after this backup are not on record.")
    say("From its first start all it knows is on hold: count the stores, then a shift lead releases it at the desk.")
    complain(done.lost)
    return NO if done.lost else YES
