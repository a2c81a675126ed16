"""The planner from a shell: documents in, a plan out, exit status and progress."""

import json
import signal
import subprocess
import sys
import time

import pytest

from benchmarks.workshops import workshop
from planner import problem_to_json, write_problem
from planner.compare import PLANNERS
from tests.planner.makers import make_problem, make_step

COMMAND = [sys.executable, "-m", "planner"]


def run(*arguments, **more):
    return subprocess.run(
        [*COMMAND, *map(str, arguments)], capture_output=True, text=True, timeout=60, check=False, **more
    )


@pytest.fixture
def problem_file(tmp_path):
    write_problem(workshop(40, seed=3), tmp_path / "problem.json")
    return tmp_path / "problem.json"


def test_a_solved_plan_passes_the_check(problem_file, tmp_path):
    solved = run("solve", problem_file, "-o", tmp_path / "plan.json", "--seconds", 1)
    assert solved.returncode == 0
    assert solved.stdout == ""
    checked = run("check", problem_file, tmp_path / "plan.json")
    assert checked.returncode == 0, checked.stdout
    assert "keeps every rule" in checked.stdout


def test_progress_is_one_object_a_line_at_least_once_a_second(problem_file, tmp_path):
    lines = run("solve", problem_file, "-o", tmp_path / "plan.json", "--seconds", 2).stderr.splitlines()
    told = [json.loads(line) for line in lines]
    assert len(told) >= 2
    assert all({"seconds", "cost", "bound", "late_orders", "says"} <= set(each) for each in told)


def test_the_last_line_tells_the_plan_that_is_written_and_the_memory(problem_file, tmp_path):
    last = run("solve", problem_file, "-o", tmp_path / "plan.json", "--seconds", 0).stderr.splitlines()[-1]
    plan = json.loads((tmp_path / "plan.json").read_text())
    told = json.loads(last)
    assert told["cost"] == plan["cost"]
    assert 10 < told["memory_mib"] < 2000
    assert told["says"].startswith(f"cost {plan['cost']:,.1f}, ")


def test_a_plan_that_breaks_rules_is_said_so(problem_file, tmp_path):
    run("solve", problem_file, "-o", tmp_path / "plan.json", "--seconds", 0)
    plan = json.loads((tmp_path / "plan.json").read_text())
    plan["placed"][0]["start"] -= 1
    (tmp_path / "plan.json").write_text(json.dumps(plan))
    checked = run("check", problem_file, tmp_path / "plan.json")
    assert checked.returncode == 1
    assert plan["placed"][0]["step"] in checked.stdout


def test_standard_input_and_output_carry_the_documents():
    document = json.dumps(problem_to_json(make_problem(make_step("cut"))))
    solved = run("solve", "-", "-o", "-", "--seconds", 0, input=document)
    assert json.loads(solved.stdout)["placed"][0]["step"] == "cut"


@pytest.mark.parametrize("document", ["{}", "nonsense", '{"format": "workshop-steps/1", "now": true}'])
def test_a_bad_document_gets_one_line_and_no_plan_file(tmp_path, document):
    solved = run("solve", "-", "-o", tmp_path / "plan.json", input=document)
    assert solved.returncode == 2
    assert len(solved.stderr.splitlines()) == 1
    assert list(tmp_path.iterdir()) == []


def test_the_plan_in_force_is_never_made_worse(problem_file, tmp_path):
    run("solve", problem_file, "-o", tmp_path / "good.json", "--seconds", 2)
    run("solve", problem_file, "-o", tmp_path / "next.json", "--seconds", 0, "--from", tmp_path / "good.json")
    good, after = (json.loads((tmp_path / name).read_text())["cost"] for name in ("good.json", "next.json"))
    assert after <= good


def test_planners_are_compared_in_a_table(problem_file):
    compared = run("compare", problem_file, "--seconds", 0.5, "--workers", 1)
    assert compared.returncode == 0, compared.stdout + compared.stderr
    head, *rows = compared.stdout.splitlines()
    assert head.split()[:5] == ["planner", "cost", "ratio", "late", "changeover"]
    assert [row[:16] for row in rows] == [name[:16].ljust(16) for name in PLANNERS]
    assert all(row.endswith("kept") for row in rows)


def test_a_plan_of_yesterday_is_begun_from_whatever_has_changed(problem_file, tmp_path):
    run("solve", problem_file, "-o", tmp_path / "yesterday.json", "--seconds", 0)
    problem = json.loads(problem_file.read_text())
    gone = problem["orders"].pop()["steps"][-1]
    problem["steps"] = [step for step in problem["steps"] if step["id"] != gone]
    problem["links"] = [link for link in problem["links"] if gone not in (link["from"], link["to"])]
    problem["orders"] = [order for order in problem["orders"] if gone not in order["steps"]]
    problem["steps"][0]["segments"][0]["minutes"] += 45
    problem["people"][1]["hours"] = problem["people"][1]["hours"][4:]
    problem["steps"].append(problem["steps"][0] | {"id": "one more"})
    problem_file.write_text(json.dumps(problem))
    solved = run(
        "solve", problem_file, "-o", tmp_path / "p.json", "--seconds", 0, "--from", tmp_path / "yesterday.json"
    )
    assert solved.returncode == 0, solved.stderr
    assert "keeps every rule" in run("check", problem_file, tmp_path / "p.json").stdout


def test_what_starts_soon_stays_where_the_plan_in_force_has_it(problem_file, tmp_path):
    run("solve", problem_file, "-o", tmp_path / "first.json", "--seconds", 0)
    first = json.loads((tmp_path / "first.json").read_text())["placed"]
    frozen = ["--frozen-minutes", 600, "--from", tmp_path / "first.json"]
    run("solve", problem_file, "-o", tmp_path / "next.json", "--seconds", 1, *frozen)
    after = {row["step"]: row for row in json.loads((tmp_path / "next.json").read_text())["placed"]}
    now = json.loads(problem_file.read_text())["now"]
    soon = [row for row in first if row["start"] < now + 600]
    assert soon
    assert all(after[row["step"]] == row for row in soon)


def test_moving_what_is_planned_can_be_too_dear(problem_file, tmp_path):
    run("solve", problem_file, "-o", tmp_path / "first.json", "--seconds", 0)
    dear = ["--move-price", 1e6, "--from", tmp_path / "first.json"]
    run("solve", problem_file, "-o", tmp_path / "next.json", "--seconds", 1, *dear)
    first, after = (json.loads((tmp_path / name).read_text()) for name in ("first.json", "next.json"))
    assert (after["placed"], after["cost"]) == (first["placed"], first["cost"])


def test_so_many_iterations_give_the_same_plan_again(tmp_path):
    write_problem(workshop(120, seed=3), tmp_path / "problem.json")
    effort = ["--iterations", 6, "--workers", 1, "--seed", 7]
    plans = []
    for name in ("one.json", "other.json"):
        run("solve", tmp_path / "problem.json", "-o", tmp_path / name, *effort)
        plans.append(json.loads((tmp_path / name).read_text())["placed"])
    assert plans[0] == plans[1]


def test_a_search_ends_once_it_is_near_enough(tmp_path):
    write_problem(workshop(150, seed=1), tmp_path / "problem.json")
    solved = run("solve", tmp_path / "problem.json", "-o", tmp_path / "plan.json", "--seconds", 50, "--gap", 100)
    plan = json.loads((tmp_path / "plan.json").read_text())
    assert solved.returncode == 0
    assert plan["status"] == "feasible"
    assert plan["seconds"] < 25


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGINT])
def test_a_search_that_is_ended_by_a_signal_ends_at_once(tmp_path, number):
    write_problem(workshop(300, seed=3), tmp_path / "problem.json")
    arguments = ["solve", str(tmp_path / "problem.json"), "-o", str(tmp_path / "plan.json"), "--seconds", "60"]
    with subprocess.Popen([*COMMAND, *arguments], stderr=subprocess.PIPE, text=True) as search:
        assert search.stderr is not None
        search.stderr.readline()
        began = time.monotonic()
        search.send_signal(number)
        _, told = search.communicate(timeout=10)
        assert time.monotonic() - began < 5
    if number == signal.SIGTERM:
        assert search.returncode == 128 + signal.SIGTERM
        assert [path.name for path in tmp_path.iterdir()] == ["problem.json"]
    else:
        assert search.returncode == 0
        assert json.loads(told.splitlines()[-1])["cost"] == json.loads((tmp_path / "plan.json").read_text())["cost"]
        assert run("check", tmp_path / "problem.json", tmp_path / "plan.json").returncode == 0
