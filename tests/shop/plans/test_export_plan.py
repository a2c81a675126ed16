"""The plan in force as files that anybody can read."""

import json
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from shop.plans.models import Plan
from tests.shop.makers import MONDAY

pytestmark = pytest.mark.django_db


def make_plan(**fields: object) -> Plan:
    own = {"read_at": MONDAY, "is_in_force": True, "problem": {"now": 5}, "document": {"status": "feasible"}}
    return Plan.objects.create(cost=1, **own | fields)


def test_both_documents_of_the_plan_in_force_are_written(tmp_path: Path):
    make_plan(is_in_force=False, problem={"now": 4})
    make_plan()
    call_command("export_plan", tmp_path / "new")
    assert json.loads((tmp_path / "new" / "problem.json").read_text()) == {"now": 5}
    assert json.loads((tmp_path / "new" / "plan.json").read_text()) == {"status": "feasible"}


def test_nothing_else_is_left_in_the_folder(tmp_path: Path):
    make_plan()
    call_command("export_plan", tmp_path)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["plan.json", "problem.json"]


def test_without_a_plan_it_says_so_and_writes_nothing(tmp_path: Path):
    with pytest.raises(CommandError, match="no plan yet"):
        call_command("export_plan", tmp_path / "new")
    assert not (tmp_path / "new").exists()


def test_a_folder_that_is_a_file_is_refused_in_a_sentence(tmp_path: Path):
    make_plan()
    (tmp_path / "taken").write_text("")
    with pytest.raises(CommandError, match="taken cannot be written to"):
        call_command("export_plan", tmp_path / "taken")


def test_a_later_export_takes_the_place_of_the_one_before(tmp_path: Path):
    make_plan()
    call_command("export_plan", tmp_path)
    Plan.objects.update(problem={"now": 6})
    call_command("export_plan", tmp_path)
    assert json.loads((tmp_path / "problem.json").read_text()) == {"now": 6}
