"""The main job at its full size: the demo's book and sixty orders from a file it has not seen."""

import csv
import io
import random
from datetime import datetime, timedelta

import pytest

from benchmarks.bit_changes import changes_first_come, changes_of_plan
from planner import broken_rules, plan_from_json, problem_from_json
from shop.designs.models import Design
from shop.orders.importing import bring_in, exact, read_sheet
from shop.orders.models import Fair
from shop.plans import services
from shop.plans.models import Plan
from shop.plans.search import search
from shop.stations.models import Workshop
from shop.stock.models import Species
from tests.shop.demo.conftest import WEDNESDAY

COLUMNS = "reference placed channel fair customer due hard design species quantity text price note"
pytestmark = [pytest.mark.django_db, pytest.mark.parametrize("demo", [WEDNESDAY], indirect=True, ids=["Wednesday"])]


def sixty_orders(at: datetime, chance: random.Random) -> str:
    """A file of sixty orders for the demo's designs, fairs and woods, due in 6 to 28 days."""
    designs, woods, fairs = list(Design.objects.all()), list(Species.objects.all()), list(Fair.objects.all())
    out = io.StringIO()
    rows = csv.writer(out)
    rows.writerow(COLUMNS.split())
    for number in range(60):
        channel = chance.choice(["fair", "online", "online", "in person", "shop stock"])
        fair = chance.choice(fairs) if channel == "fair" else None
        due = "" if fair else (at + timedelta(days=chance.randint(6, 28))).date()
        who = "" if fair else f"Customer {number}"
        for _ in range(chance.choice([1, 1, 2])):
            what = [chance.choice(designs), chance.choice(woods), chance.choice([1, 1, 2, 3])]
            rows.writerow([f"X-{number}", at.isoformat(), channel, fair or "", who, due, "", *what, "", "", ""])
    return out.getvalue()


@pytest.fixture
def plan(demo: datetime) -> Plan:
    sheet = read_sheet(sixty_orders(demo, random.Random(60)))  # noqa: S311 - nothing here is secret
    _, taken = bring_in(sheet, exact(sheet.header), good_rows_only=False, at=demo, zone=Workshop.get().zone)
    assert taken == 60
    return services.replan(seconds=8, search=search, at=demo)


def test_sixty_more_orders_are_planned_nearly_all_on_time_with_few_bit_changes(plan: Plan):
    problem = problem_from_json(plan.problem)
    assert broken_rules(problem, plan_from_json(plan.document)) == []
    expected = plan.expectations.all()
    on_time = [each for each in expected if each.ready_at and not each.late_minutes]
    assert len(on_time) >= 0.95 * len(expected) > 60
    assert sum(changes_of_plan(plan.problem, plan.document)) <= changes_first_come(plan.problem) / 2
