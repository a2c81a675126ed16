"""Planning runs as rows: asked for, worked by whoever holds the lease, ended once.

The row is the record. Threads, Celery and Redis only say "look for work", so none of them can lose or double a run.
"""

from __future__ import annotations

import logging
import os
import platform
import threading
import uuid
from dataclasses import dataclass

from django.conf import settings
from django.db import transaction
from django.db.models import F, Q
from django.utils.timezone import now

from shop.plans.models import Job, Plan

State = Job.State
OPEN = Q(state__in=[State.QUEUED, State.RUNNING])
logger = logging.getLogger(__name__)

# Set when somebody asked for a plan in this process; the server's own thread waits for it.
asked_here = threading.Event()


class LeaseLost(Exception):  # noqa: N818 - not an error: the run was cancelled, or another process has it now
    """The run is no longer ours; stop without a word, the row says the rest."""


def ask(*, seconds: int = 20, because: str = "") -> Job:
    """A planning run that will start as soon as somebody is free.

    One that waits already will read the shop as it is when it starts, so it serves this wish too.
    """
    job = Job.objects.filter(state=State.QUEUED).first()
    if job is None:
        job = Job.objects.create(seconds=seconds, because=because)
    transaction.on_commit(call_a_worker)
    return job


def call_a_worker() -> None:
    """Say that there is work. If nobody hears it the row stays queued, and the next look finds it."""
    if settings.REDIS_URL:
        # A Redis that is down is tried for seconds; no page waits for that.
        threading.Thread(target=_call_through_redis, name="call a worker").start()
    else:
        asked_here.set()


def _call_through_redis() -> None:
    from kombu.exceptions import OperationalError

    from shop.celery import NUDGE, app

    try:
        app.send_task(NUDGE)
    except OperationalError as error:
        logger.warning("Redis does not answer (%s); the planning run starts when it is back", error)


def cancel(job: Job) -> bool:
    """Stop a run that has not ended; False if it had. Its worker notices at its next heartbeat."""
    return bool(Job.objects.filter(OPEN, pk=job.pk).update(state=State.CANCELLED, owner="", finished_at=now()))


@transaction.atomic
def claim() -> Lease | None:
    """The oldest run that waits, or whose worker fell silent, as ours; None if there is none."""
    silent = Q(state=State.RUNNING, heartbeat_at__lt=now() - Job.LEASE)
    Job.objects.filter(silent, runs__gte=Job.MOST_RUNS).update(
        state=State.FAILED,
        owner="",
        finished_at=now(),
        message=f"Gave up: the program stopped without a word in each of {Job.MOST_RUNS} tries.",
    )
    due = Job.objects.filter(Q(state=State.QUEUED) | silent)
    job = due.select_for_update(skip_locked=True).first()
    return job and _lease(job)


def begin(*, seconds: int, because: str = "") -> Lease:
    """A run that its asker works itself, so that no other worker takes it first."""
    return _lease(Job(seconds=seconds, because=because))


def _lease(job: Job) -> Lease:
    # Never the same twice, so that a worker whose lease ran out is not taken for the one that followed it.
    job.owner = f"{platform.node()[:30]}:{os.getpid()}:{uuid.uuid4().hex}"
    job.state, job.heartbeat_at, job.runs = State.RUNNING, now(), job.runs + 1
    job.save()
    return Lease(job, job.owner)


@dataclass(frozen=True)
class Lease:
    """The right to work a run, as long as its heartbeat is younger than `Job.LEASE`."""

    job: Job
    owner: str

    def report(self, progress: dict) -> None:
        """Say how far the run is, and that we live. Raises LeaseLost if it is no longer ours."""
        self._write(progress=progress, heartbeat_at=now())

    def done(self, plan: Plan | None) -> None:
        self._write(state=State.DONE, plan=plan, owner="", finished_at=now())

    def failed(self, why: str) -> None:
        self._write(state=State.FAILED, message=why[:300], owner="", finished_at=now())

    def stumbled(self) -> None:
        """Something nobody foresaw went wrong, perhaps only for a moment: try again, a few times."""
        if self.job.runs < Job.MOST_RUNS:
            self._write(state=State.QUEUED, owner="")
        else:
            self.failed(f"Gave up after {Job.MOST_RUNS} tries: something went wrong that the server's log describes.")

    def give_back(self) -> None:
        """Our end is near, not the run's: somebody else takes it at once, and it does not count as a try."""
        self._write(state=State.QUEUED, owner="", runs=F("runs") - 1)

    def _write(self, **fields: object) -> None:
        if not Job.objects.filter(pk=self.job.pk, owner=self.owner).update(**fields):
            raise LeaseLost(f"{self.job} is no longer ours")
