"""Working a planning run: how it ends when all goes well, and when it does not."""

import threading

import pytest

from shop.plans import jobs, worker
from shop.plans.models import Job, Plan
from shop.plans.search import SearchFailed
from tests.shop.makers import make_design, make_line, make_person, make_workplaces

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def workshop(db):
    make_workplaces()
    make_person("Ada")
    make_line(design=make_design())


def outcome() -> tuple[str, str]:
    return Job.objects.values_list("state", "message").get()


def breaks(monkeypatch, error: Exception) -> None:
    def search(*_: object, **__: object) -> dict:
        raise error

    monkeypatch.setattr(worker, "search", search)


def test_a_run_ends_with_its_plan_in_force():
    jobs.ask(seconds=1)
    worker.work_until_none_waits()
    assert outcome() == ("done", "")
    assert Job.objects.get().plan == Plan.objects.in_force()


def test_a_run_that_is_cancelled_while_it_searches_stays_so_and_changes_no_plan_after_the_quick_one():
    lease = jobs.begin(seconds=30)
    worker.work(lease, also_tell=lambda _: jobs.cancel(lease.job))
    assert outcome() == ("cancelled", "")
    assert Plan.objects.count() <= 1


def test_a_server_that_stops_gives_its_run_back(monkeypatch):
    stopping = threading.Event()
    monkeypatch.setattr(worker, "stopping", stopping)
    with pytest.raises(SystemExit):
        worker.work(jobs.begin(seconds=30), also_tell=lambda _: stopping.set())
    assert outcome() == ("queued", "")


def test_a_search_that_fails_says_why(monkeypatch):
    breaks(monkeypatch, SearchFailed("The search ended without a plan: nobody can carve."))
    worker.work(jobs.begin(seconds=1))
    assert outcome() == ("failed", "The search ended without a plan: nobody can carve.")


def test_what_nobody_foresaw_is_logged_and_tried_again(monkeypatch, caplog):
    breaks(monkeypatch, RuntimeError("the disk is full"))
    worker.work(jobs.begin(seconds=1))
    assert outcome() == ("queued", "")
    assert "the disk is full" in caplog.text
