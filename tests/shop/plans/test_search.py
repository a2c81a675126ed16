"""The search in its own process: what it answers, what it tells meanwhile, how it is ended."""

import tempfile
from pathlib import Path

import pytest

from planner import Order, Prices, plan_from_json, problem_to_json
from shop.plans.search import SearchFailed, search
from tests.planner.makers import make_problem, make_step

MANY = [make_step(f"step {number}", 5 + number * 7 % 23) for number in range(40)]
LATE = [Order(step.id, (step.id,), due=500, weight=1 + number * 5 % 7) for number, step in enumerate(MANY)]
LONG_PROBLEM = problem_to_json(make_problem(*MANY, orders=LATE, prices=Prices(late_hour=1)))
PROBLEM = problem_to_json(make_problem(make_step("glue"), make_step("sand")))


@pytest.fixture
def told() -> list[dict]:
    return []


@pytest.fixture(autouse=True)
def own_folder(tmp_path, monkeypatch):
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))


def still_searching(folder: Path) -> bool:
    return any(str(folder).encode() in file.read_bytes() for file in Path("/proc").glob("[1-9]*/cmdline"))


def test_a_plan_document_answers_a_problem_document(told):
    found = search(PROBLEM, seconds=0, on_progress=told.append)
    assert set(plan_from_json(found).by_step) == {"glue", "sand"}


def test_progress_is_told_to_the_end_with_the_cost_of_the_plan(told):
    found = search(LONG_PROBLEM, seconds=1, on_progress=told.append)
    assert told[-1]["cost"] == pytest.approx(found["cost"])


def test_what_it_is_told_to_start_from_is_never_made_worse(told):
    first = search(LONG_PROBLEM, seconds=0, on_progress=told.append)
    assert search(LONG_PROBLEM, seconds=1, start=first, on_progress=told.append)["cost"] <= first["cost"]


def test_whoever_hears_of_it_can_end_it_at_once_and_nothing_is_left(tmp_path):
    def cancel(progress: dict) -> None:
        assert still_searching(tmp_path)
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        search(LONG_PROBLEM, seconds=30, on_progress=cancel)
    assert not still_searching(tmp_path)
    assert not list(tmp_path.iterdir())


def test_a_problem_that_cannot_be_read_is_told_in_the_planners_own_words(told):
    with pytest.raises(SearchFailed, match="people"):
        search(PROBLEM | {"people": "everybody"}, seconds=1, on_progress=told.append)
