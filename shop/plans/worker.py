"""Works planning runs: a thread of the server, a process of its own, or a Celery worker, all by the same loop."""

from __future__ import annotations

import atexit
import logging
import threading
from collections.abc import Callable

from django.conf import settings
from django.db import Error as DatabaseError
from django.db import close_old_connections

from planner import PlannerError
from shop.plans import jobs, services
from shop.plans.overtaken import ask_if_overtaken
from shop.plans.search import SearchFailed, search

SECONDS_BETWEEN_LOOKS = 5
Report = Callable[[dict], None]
logger = logging.getLogger(__name__)
stopping = threading.Event()


def look() -> None:
    """Ask for a run where time has overtaken the plan, then work whatever waits."""
    ask_if_overtaken()
    work_until_none_waits()


def work_until_none_waits() -> None:
    while not stopping.is_set() and (lease := jobs.claim()):
        work(lease)


def work(lease: jobs.Lease, *, also_tell: Report = lambda _: None) -> None:
    """Make the plan that a run asks for, and end the run one way or another."""

    def report(progress: dict) -> None:
        if stopping.is_set():
            raise SystemExit
        lease.report(progress)
        also_tell(progress)

    try:
        lease.done(services.replan(seconds=lease.job.seconds, search=search, on_progress=report))
    except jobs.LeaseLost as lost:
        logger.info("%s", lost)
    except (KeyboardInterrupt, SystemExit):
        lease.give_back()
        raise
    except (PlannerError, SearchFailed) as error:
        lease.failed(str(error))
    except Exception:
        logger.exception("%s stumbled", lease.job)
        lease.stumbled()


def run() -> None:
    """Work whatever waits, and wait for more, until `stopping`."""
    while not stopping.is_set():
        jobs.asked_here.clear()  # before looking, so that a wish that comes meanwhile is seen next
        try:
            close_old_connections()
            look()
        except (DatabaseError, jobs.LeaseLost) as error:
            logger.warning("The worker could not write to its run (%s); it looks again in a moment", error)
        jobs.asked_here.wait(SECONDS_BETWEEN_LOOKS)


def start_with_server() -> None:
    """A thread of this server process works planning runs, unless Celery workers do."""
    if settings.REDIS_URL:
        return
    thread = threading.Thread(target=run, name="planning runs", daemon=True)
    thread.start()
    atexit.register(stop, thread)


def stop(thread: threading.Thread | None = None) -> None:
    stopping.set()
    jobs.asked_here.set()
    if thread:
        thread.join(timeout=5)
