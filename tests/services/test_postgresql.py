"""The site on a real PostgreSQL: constraints hold, nothing is doubled, a plan comes out."""

import subprocess
import sys

import pytest
from django.db import IntegrityError

from shop.orders.models import Order
from shop.plans.models import Job, Plan
from tests.services.servers import ROOT, Site, succeeds, with_demo
from tests.shop.makers import make_plan

CLAIM_ALL = """
from shop.plans import jobs
while lease := jobs.claim():
    print("claimed", lease.job.pk)
    lease.done(None)
"""
TWO_ORDERS = """\
reference,placed,channel,fair,customer,due,hard,design,species,quantity,text,price,note
A-1,2026-11-20,online,,Orla Vance,2027-01-15,no,{design},{species},2,,48.00,
A-2,2026-11-20,online,,Teo Brandt,2027-01-16,no,{design},{species},1,,48.00,
"""


def test_of_two_plans_only_one_is_in_force(site: Site):
    make_plan()
    with pytest.raises(IntegrityError, match="one_plan_in_force"):
        make_plan()


def test_four_workers_at_once_work_each_run_exactly_once(site: Site):
    made = Job.objects.bulk_create(Job(seconds=1) for _ in range(80))
    workers = [
        subprocess.Popen([sys.executable, "manage.py", "shell", "-c", CLAIM_ALL], cwd=ROOT, env=site.env, stdout=-1)
        for _ in range(4)
    ]
    said = b"".join(worker.communicate(timeout=60)[0] for worker in workers).decode()
    claimed = [int(line.split()[1]) for line in said.splitlines() if line.startswith("claimed")]
    assert sorted(claimed) == [job.pk for job in made]
    assert set(Job.objects.values_list("state", "runs")) == {("done", 1)}


@with_demo
def test_the_same_file_twice_makes_no_order_twice(site: Site):
    line = Order.objects.filter(lines__isnull=False).first().lines.first()
    file = site.folder / "orders.csv"
    file.write_text(TWO_ORDERS.format(design=line.design.name, species=line.species.name))
    before = Order.objects.count()
    for _ in range(2):
        site.manage("import_orders", file)
    assert Order.objects.count() == before + 2


@with_demo
def test_the_demo_shop_is_planned_and_the_plan_keeps_every_rule(site: Site):
    site.manage("replan", "--seconds", "2")
    assert Plan.objects.in_force().steps.filter(starts_at__isnull=False).exists()
    site.manage("export_plan", site.folder)
    documents = [site.folder / "problem.json", site.folder / "plan.json"]
    assert "keeps every rule" in succeeds(sys.executable, "-m", "planner", "check", *documents)
