"""Documents that mean harm, or were cut short: one line that names the place, exit status 2, and no plan file."""

import json
import subprocess
import sys
from time import process_time

import pytest

from planner import (
    PlanError,
    ProblemError,
    broken_rules,
    plan_from_json,
    plan_to_json,
    problem_from_json,
    quick_plan,
    read_problem,
    solve,
    write_plan,
    write_problem,
)
from planner.__main__ import main
from planner.documents import MOST_BYTES
from planner.fields import FARTHEST
from tests.planner.documents import GOOD, changed, nested, spoilt

STEP = {"id": "a", "segments": [{"minutes": 1, "need": "alone"}], "stations": []}
TEXT = json.dumps(GOOD)
MILLION = 1_000_000


@pytest.fixture(scope="module")
def plan_document() -> dict:
    lost = {"from": "cut", "to": "oil", "minutes": 5}
    left_out = {"step": "oil", "why": "nobody can oil and wipe"}
    return plan_to_json(quick_plan(problem_from_json(GOOD))) | {"missed": [lost], "unplaced": [left_out]}


def test_a_spoilt_problem_is_refused_or_planned_by_the_rules():
    planned = 0
    for document in spoilt(GOOD):
        try:
            problem = problem_from_json(document)
        except ProblemError:
            continue
        planned += 1
        assert not broken_rules(problem, quick_plan(problem))
    assert planned > 50


def test_a_spoilt_plan_is_refused_or_judged_and_begun_from(plan_document):
    problem = problem_from_json(GOOD)
    judged = 0
    for document in spoilt(plan_document):
        try:
            plan = plan_from_json(document)
        except PlanError:
            continue
        judged += 1
        assert broken_rules(problem, plan)
        assert not broken_rules(problem, solve(problem, seconds=0, start=plan))
    assert judged > 20


REFUSED = {
    "empty": (b"", ["empty"]),
    "blank": (b" \n", ["empty"]),
    "cut short": (TEXT.encode()[:-40], ["not JSON"]),
    "two values": (TEXT.encode() * 2, ["not JSON"]),
    "a list": (b"[]", ["an object is needed"]),
    "not UTF-8": (TEXT.replace("ana", "\xe4na").encode("latin-1"), ["not UTF-8"]),
    "UTF-16": (TEXT.encode("utf-16"), ["not UTF-8"]),
    "too deep": (b"[" * MILLION, ["nested too deep"]),
    "deep in a field": (json.dumps(changed("now", nested(900))).encode(), ["now"]),
    "NaN": (TEXT.replace('"weight": 1.5', '"weight": NaN').encode(), ["orders o1", "weight", "NaN"]),
    "minus infinity": (TEXT.replace("[480, 720]", "[480, -Infinity]").encode(), ["people ana", "hours", "Infinity"]),
    "NaN where nobody looks": (TEXT.replace('"route"', "NaN").encode(), ["steps cut", "about", "kind", "NaN"]),
    "beyond every double": (TEXT.replace('"weight": 1.5', '"weight": 1e999').encode(), ["orders o1", "weight"]),
    "thousands of digits": (TEXT.replace("480,", "9" * 5000 + ",", 1).encode(), ["now", "5,000 digits"]),
    "hundreds of digits": (TEXT.replace("480,", "9" * 300 + ",", 1).encode(), ["now", "whole number"]),
    "a name twice": (
        TEXT.replace('"minutes": 10,', '"minutes": 10, "minutes": 5,').encode(),
        ["cut", "minutes", "twice"],
    ),
    "a name twice over a NaN": (TEXT.replace('"now": 480,', '"now": NaN, "now": 480,').encode(), ["twice"]),
    "an id of two lines": (
        json.dumps(changed("orders", 0, "steps", ["a\nb\u2028c"])).encode(),
        ["o1", "a\\nb\\u2028c"],
    ),
    "half a letter": (json.dumps(changed("orders", 0, "steps", ["\ud800"])).encode(), ["o1", "\\ud800"]),
    "a long circle": (
        json.dumps(
            GOOD
            | {"steps": [STEP | {"id": str(n)} for n in range(5000)], "holds": [], "orders": []}
            | {"links": [{"from": str(n), "to": str((n + 1) % 5000), "min_wait": 0} for n in range(5000)]}
        ).encode(),
        ["links", "circle", "5,000 steps"],
    ),
    "a million steps": (
        b'{"format": "workshop-steps/1", "steps": [' + json.dumps(STEP).encode() * MILLION + b"]}",
        ["32 MiB"],
    ),
    "many small steps": (json.dumps(changed("steps", [STEP] * 100_000)).encode(), ["steps", "100,000", "20,000"]),
    "a million segments": (
        json.dumps(changed("steps", 0, "segments", [{"minutes": 1}] * MILLION)).encode(),
        ["steps cut", "segments", "1,000,000", "100"],
    ),
    "a million hours": (
        json.dumps(changed("people", 0, "hours", [[0, 1]] * MILLION)).encode(),
        ["people ana", "hours"],
    ),
    "a million changeovers": (
        json.dumps(changed("stations", 0, "changeovers", [{"from": 1}] * MILLION)).encode(),
        ["stations router", "changeovers", "1,000,000"],
    ),
    "a million stations to choose from": (
        json.dumps(changed("steps", 0, "stations", 0, "any_of", ["router"] * MILLION)).encode(),
        ["steps cut", "any_of", "1,000,000"],
    ),
    "a million further waits": (
        json.dumps(changed("links", 0, "also", [[1, 2]] * MILLION)).encode(),
        ["links cut -> oil", "also", "1,000,000"],
    ),
    "hours beyond fifty years": (
        json.dumps(changed("people", 0, "hours", [[480, 720], [760, 10**9]])).encode(),
        ["people ana", "hours [760, 1000000000]", "50 years"],
    ),
    "now beyond fifty years": (json.dumps(changed("now", -(10**8))).encode(), ["now", "50 years", "-100000000"]),
    "a step of more than fifty years": (
        json.dumps(changed("steps", 0, "segments", [{"minutes": 10**7, "need": "alone"}] * 3)).encode(),
        ["steps cut", "segments", "30,000,000 minutes together", "50 years"],
    ),
    "a wait of more than fifty years": (
        json.dumps(changed("links", 0, "also", [[2880, 10**8]])).encode(),
        ["links cut -> oil", "also", "50 years"],
    ),
    "hours of no length": (
        json.dumps(changed("people", 0, "hours", [[480, 480]])).encode(),
        ["people ana", "hours", "[480, 480] has no length"],
    ),
    "hours that close too soon": (
        json.dumps(changed("people", 0, "hours", [[480, 470]])).encode(),
        ["people ana", "hours", "[480, 470] closes before it opens"],
    ),
    "a weight below nothing": (
        json.dumps(changed("orders", 0, "weight", -1)).encode(),
        ["orders o1", "weight", "from 0 up", "not -1\n"],
    ),
    "a price below nothing": (json.dumps(changed("cost", "late_hour", -2)).encode(), ["cost", "late_hour", "not -2\n"]),
    "more room than can be counted": (
        json.dumps(changed("stations", 1, "capacity", 10**10)).encode(),
        ["stations rack", "capacity", "1,000,000,000"],
    ),
    "a million skills": (
        json.dumps(changed("people", 0, "skills", ["a"] * MILLION)).encode(),
        ["people ana", "skills"],
    ),
}


def refuses(capsys, *arguments) -> str:
    """The one line that the planner says to it."""
    assert main([str(each) for each in arguments]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert len(said.err.splitlines()) == 1, said.err[:500]
    assert len(said.err) < 1000
    return said.err


@pytest.mark.parametrize("name", REFUSED)
def test_a_hostile_problem_gets_one_line_that_names_the_place(name, tmp_path, capsys):
    data, words = REFUSED[name]
    (tmp_path / "problem.json").write_bytes(data)
    said = refuses(capsys, "solve", tmp_path / "problem.json", "-o", tmp_path / "plan.json")
    assert all(word in said for word in words), said
    assert [path.name for path in tmp_path.iterdir()] == ["problem.json"]


HOSTILE_PLANS = {
    "no plan": ({"format": "workshop-steps/1"}, ["plan", "format", "workshop-plan/1"]),
    "minutes that are none": ({"placed": [{"step": "cut", "start": 1.5}]}, ["placed cut", "start", "1.5"]),
    "negative changeover": (
        {"placed": [{"step": "cut", "start": 1, "end": 2, "stations": [], "changeover": -1}]},
        ["placed cut", "changeover", "-1"],
    ),
    "cost without end": ({"cost": float("inf")}, ["cost", "Infinity"]),
    "a million rows": ({"unplaced": [0] * MILLION}, ["unplaced", "1,000,000"]),
}


@pytest.mark.parametrize("name", HOSTILE_PLANS)
@pytest.mark.parametrize("command", ["check", "solve"])
def test_a_hostile_plan_is_refused_wherever_it_is_read(command, name, plan_document, tmp_path, capsys):
    more, words = HOSTILE_PLANS[name]
    (tmp_path / "problem.json").write_text(TEXT)
    (tmp_path / "hostile.json").write_text(json.dumps(plan_document | more))
    options = ["--from"] if command == "solve" else []
    said = refuses(capsys, command, tmp_path / "problem.json", *options, tmp_path / "hostile.json")
    assert all(word in said for word in words), said


@pytest.mark.parametrize("path", [".", "missing.json", "x" * 500, "/dev/zero"])
def test_what_is_no_document_is_refused(path, capsys):
    assert path[:20] in refuses(capsys, "solve", path)


@pytest.mark.parametrize("path", [".", "missing/plan.json", "x" * 500, "/proc/plan.json", "link/plan.json"])
def test_a_place_where_no_plan_can_be_written_is_refused_before_the_search(path, tmp_path, capsys):
    (tmp_path / "problem.json").write_text(TEXT)
    (tmp_path / "link").symlink_to("/proc")
    said = refuses(capsys, "solve", tmp_path / "problem.json", "-o", tmp_path / path, "--seconds", 1000)
    assert "cannot be written" in said
    assert sorted(each.name for each in tmp_path.iterdir()) == ["link", "problem.json"]


def test_a_plan_that_is_there_stays_as_it_was_until_a_new_one_is_written(tmp_path, capsys):
    (tmp_path / "plan.json").write_text("the old plan")
    refuses(capsys, "solve", tmp_path / "missing.json", "-o", tmp_path / "plan.json")
    assert [path.name for path in tmp_path.iterdir()] == ["plan.json"]
    assert (tmp_path / "plan.json").read_text() == "the old plan"


@pytest.mark.parametrize(
    "arguments",
    [
        [],
        ["plan"],
        ["solve"],
        ["check", "-", "-"],
        ["solve", "p", "--seconds", "nan"],
        ["solve", "p", "--seconds", "-1"],
        ["solve", "p", "--workers", "0"],
        ["solve", "p", "--iterations", "1.5"],
        ["solve", "p", "--gap", "inf"],
        ["solve", "p", "--move-price", "1"],
        ["compare", "p", "--workers", "9" * 5000],
    ],
)
def test_words_that_make_no_sense_are_refused_in_one_line(arguments, capsys):
    with pytest.raises(SystemExit, match="2"):
        main(arguments)
    assert len(capsys.readouterr().err.splitlines()) == 1


def test_a_document_too_large_for_the_memory_is_refused_in_one_line(tmp_path):
    (tmp_path / "problem.json").write_bytes(b"[" + b"[]," * (MOST_BYTES // 3 - 2) + b"1]")
    small = f"ulimit -v 300000; exec {sys.executable} -m planner solve {tmp_path / 'problem.json'}"
    solved = subprocess.run(["bash", "-c", small], capture_output=True, text=True, timeout=60, check=False)
    assert (solved.returncode, solved.stdout) == (2, "")
    assert "memory" in solved.stderr
    assert len(solved.stderr.splitlines()) == 1


def test_a_device_is_written_to_and_stays_one(tmp_path):
    (tmp_path / "problem.json").write_text(TEXT)
    solve = [sys.executable, "-m", "planner", "solve", tmp_path / "problem.json", "--seconds", "0", "-o"]
    done = subprocess.run([*solve, "/dev/stdout"], capture_output=True, text=True, timeout=60, check=True)
    assert {row["step"] for row in json.loads(done.stdout)["placed"]} == {"cut", "oil"}
    full = subprocess.run([*solve, "/dev/full"], capture_output=True, text=True, timeout=60, check=False)
    assert full.returncode == 2
    assert full.stderr.splitlines()[-1] == "/dev/full cannot be written: No space left on device"


def test_a_plan_that_ends_after_the_last_minute_that_a_problem_may_name_is_read_again(plan_document):
    late = plan_document["placed"][0] | {"start": 10**9, "end": 2 * 10**9}
    assert plan_from_json(plan_document | {"placed": [late]})[late["step"]].end == 2 * 10**9


FAR_APART = [[opens, opens + 60] for opens in range(0, FARTHEST - 60, FARTHEST // 10_000)]


@pytest.mark.parametrize(
    "document",
    [
        changed("people", 0, "hours", FAR_APART),
        changed("now", -FARTHEST, document=changed("people", 0, "hours", FAR_APART)),
        changed("now", -FARTHEST, document=changed("people", 0, "hours", [[0, FARTHEST]])),
        changed("people", 0, "hours", [[480, 481], [FARTHEST - 60, FARTHEST]]),
        changed("stations", 0, "hours", FAR_APART),
        changed("steps", 0, "release", FARTHEST - 100, document=changed("people", 0, "hours", [[0, FARTHEST]])),
    ],
)
def test_minutes_far_from_each_other_are_read_and_planned_at_once(document, tmp_path):
    (tmp_path / "problem.json").write_text(json.dumps(document))
    began = process_time()
    problem = read_problem(tmp_path / "problem.json")
    assert not broken_rules(problem, quick_plan(problem))
    assert process_time() - began < 20  # of this process; it takes a tenth of that


def test_ids_that_no_screen_can_show_are_written_and_read_again(tmp_path, capsys):
    odd = STEP | {"id": "a\nb\ud800"}
    write_problem(problem_from_json(changed("steps", [*GOOD["steps"], odd])), tmp_path / "problem.json")
    write_plan(quick_plan(read_problem(tmp_path / "problem.json")), tmp_path / "plan.json")
    assert main(["check", str(tmp_path / "problem.json"), str(tmp_path / "plan.json")]) == 0
    assert "keeps every rule" in capsys.readouterr().out
