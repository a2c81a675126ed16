"""Planning runs as rows: who may work one, and what becomes of it."""

from datetime import timedelta

import pytest
from django.utils.timezone import now

from shop.plans import jobs
from shop.plans.models import Job

pytestmark = pytest.mark.django_db
LONG_AGO = Job.LEASE + timedelta(seconds=1)


def fall_silent(lease: jobs.Lease) -> None:
    Job.objects.filter(pk=lease.job.pk).update(heartbeat_at=now() - LONG_AGO)


def state_of(lease: jobs.Lease) -> str:
    return Job.objects.get(pk=lease.job.pk).state


def test_a_run_is_claimed_once_and_the_oldest_first():
    first = jobs.ask()
    assert jobs.claim().job == first
    second = jobs.ask()
    assert jobs.claim().job == second
    assert jobs.claim() is None


def test_a_run_that_waits_serves_whoever_asks_next():
    assert jobs.ask() == jobs.ask()


def test_a_run_is_taken_again_when_its_worker_fell_silent():
    lease = jobs.begin(seconds=1)
    assert jobs.claim() is None
    fall_silent(lease)
    again = jobs.claim()
    assert (again.job, again.job.runs) == (lease.job, 2)


def test_whoever_lost_the_lease_can_write_nothing_more():
    late = jobs.begin(seconds=1)
    fall_silent(late)
    jobs.claim().report({"cost": 1})
    with pytest.raises(jobs.LeaseLost):
        late.done(None)
    assert state_of(late) == Job.State.RUNNING


def test_a_cancelled_run_stops_at_its_next_heartbeat_and_stays_cancelled():
    lease = jobs.begin(seconds=1)
    assert jobs.cancel(lease.job)
    with pytest.raises(jobs.LeaseLost):
        lease.report({})
    assert state_of(lease) == Job.State.CANCELLED
    assert jobs.claim() is None


def test_what_has_ended_is_not_cancelled():
    lease = jobs.begin(seconds=1)
    lease.done(None)
    assert not jobs.cancel(lease.job)
    assert state_of(lease) == Job.State.DONE


def test_a_run_that_kills_its_worker_every_time_is_given_up_with_a_reason():
    fall_silent(jobs.begin(seconds=1))
    for _ in range(Job.MOST_RUNS - 1):
        fall_silent(jobs.claim())
    assert jobs.claim() is None
    job = Job.objects.get()
    assert (job.state, "Gave up" in job.message) == (Job.State.FAILED, True)


def test_a_stumble_is_tried_again_a_few_times():
    jobs.ask()
    for _ in range(Job.MOST_RUNS):
        lease = jobs.claim()
        lease.stumbled()
    assert jobs.claim() is None
    assert state_of(lease) == Job.State.FAILED


def test_a_server_that_ends_gives_its_run_back_uncounted():
    jobs.begin(seconds=1).give_back()
    assert jobs.claim().job.runs == 1


def test_asking_wakes_the_worker_of_this_server_once_the_row_is_there(django_capture_on_commit_callbacks):
    jobs.asked_here.clear()
    with django_capture_on_commit_callbacks(execute=True):
        jobs.ask()
        assert not jobs.asked_here.is_set()
    assert jobs.asked_here.is_set()
