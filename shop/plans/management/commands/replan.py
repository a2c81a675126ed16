"""Plan now, in the foreground."""

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from shop.plans import jobs, worker
from shop.plans.models import Plan
from shop.plans.templatetags.plan_words import progress_in_words

MOST_SECONDS = 24 * 60 * 60


class Command(BaseCommand):
    help = "Make a plan from the orders and the shop as they are, and put it in force."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--seconds", type=int, default=20, help="how long to search (20)")
        parser.add_argument("--unless-planned", action="store_true", help="do nothing if a plan is in force")
        parser.add_argument("--ask-only", action="store_true", help="leave the work to a server or worker")

    def handle(self, **options: Any) -> None:
        if not 0 <= options["seconds"] <= MOST_SECONDS:
            raise CommandError(f"--seconds is a number from 0 to {MOST_SECONDS}, such as 20, not {options['seconds']}.")
        if options["unless_planned"] and Plan.objects.in_force():
            self.stdout.write("A plan is in force.")
            return
        if options["ask_only"]:
            self.stdout.write(f"Asked: {jobs.ask(seconds=options['seconds'])}.")
            return
        self.stdout.write(f"Planning for {options['seconds']} seconds ...")
        self.stdout.flush()
        job = self._worked(jobs.begin(seconds=options["seconds"], because="asked from the command line"))
        if job.state != job.State.DONE:
            raise CommandError(job.message or f"The {job}.")
        self.stdout.write(f"{str(job.plan).capitalize()} is in force, at cost {job.plan.cost:,.0f}.")

    def _worked(self, lease: jobs.Lease) -> jobs.Job:
        told: list[int] = []

        def show(progress: dict) -> None:
            news = [round(progress.get(name) or 0) for name in ("cost", "bound")]
            if news != told:
                told[:] = news
                lease.job.progress = progress
                self.stdout.write(f"  {progress_in_words(lease.job)}")
                self.stdout.flush()

        try:
            worker.work(lease, also_tell=show)
        except KeyboardInterrupt:
            jobs.cancel(lease.job)
        lease.job.refresh_from_db()
        return lease.job
