"""`plytide worker` that never gets done with a summary: it says when it has begun one, and then is busy for ever.

As `stuck.py planted worker` it has a planted fault as well: it crosses a job off before it has done it, as a worker
does that takes jobs off a queue.
"""

import sys
import time
from datetime import datetime

from plytide import jobs
from plytide.cli import main
from plytide.store import Store

PLANTED = "planted" in sys.argv


def recompute(store: Store, logbook_id: str, now: datetime, kept: object = None) -> int:
    if PLANTED:
        store.put_summary(logbook_id, store.seq(logbook_id), {}, now)
    print(logbook_id, flush=True)
    time.sleep(3600)
    return 0


jobs.recompute = recompute
sys.argv[1:] = ["worker"]
main()
