"""Planning runs with real workers, killed as a power cut would: each run is done, and done once."""

from datetime import timedelta

from celery import Celery
from django.utils.timezone import now

from shop.celery import NUDGE
from shop.plans.models import Job
from tests.services.servers import Redis, Site, eventually, with_demo

LONGER_THAN_A_LEASE = Job.LEASE + timedelta(seconds=1)


def ask(site: Site, *, seconds: int = 1) -> Job:
    site.manage("replan", "--ask-only", "--seconds", seconds)
    return Job.objects.get()


def job_is(state: str):
    return lambda: Job.objects.filter(state=state).exists()


def its_lease_runs_out() -> None:
    """As if so much time had passed; nobody waits for a clock."""
    Job.objects.update(heartbeat_at=now() - LONGER_THAN_A_LEASE)


def test_a_run_asked_for_through_redis_is_done_once(site: Site, redis: Redis):
    site.start_celery()
    ask(site)
    eventually(job_is("done"))
    assert Job.objects.get().runs == 1


def test_messages_that_come_five_times_make_one_run(site: Site, redis: Redis):
    ask(site)
    for _ in range(4):
        Celery(broker=redis.url).send_task(NUDGE)
    site.start_celery(at_once=3)
    eventually(job_is("done"))
    eventually(lambda: site.log.read_text().count("succeeded in") >= 5)
    assert Job.objects.get().runs == 1


@with_demo
def test_a_run_whose_worker_was_killed_is_taken_again_when_its_lease_ran_out(site: Site, redis: Redis):
    worker = site.start_celery()
    ask(site, seconds=3)
    eventually(lambda: Job.objects.get().progress)
    site.kill(worker)
    its_lease_runs_out()
    site.start_celery()
    eventually(job_is("done"))
    assert Job.objects.get().runs == 2


def test_with_redis_down_the_wish_is_kept_and_done_when_it_is_back(site: Site, redis: Redis):
    redis.stop()
    assert ask(site).state == "queued"
    redis.start()
    site.start_celery()
    eventually(job_is("done"))
    assert Job.objects.get().runs == 1


@with_demo
def test_a_server_killed_in_the_middle_finishes_the_run_when_it_is_started_again(site: Site):
    server = site.serve()
    ask(site, seconds=3)
    eventually(lambda: Job.objects.get().progress)
    site.kill(server)
    its_lease_runs_out()
    site.serve()
    eventually(job_is("done"))
    assert Job.objects.get().runs == 2


@with_demo
def test_a_server_that_is_ended_politely_gives_its_run_back(site: Site):
    server = site.serve()
    ask(site, seconds=30)
    eventually(lambda: Job.objects.get().progress)
    server.terminate()
    assert server.wait(timeout=10) == 0
    job = Job.objects.get()
    assert (job.state, job.runs) == ("queued", 0)
