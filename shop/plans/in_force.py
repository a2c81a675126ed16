"""How the plan in force stands, for the strip on top of every page: fresh, stale, being made anew."""

from __future__ import annotations

from dataclasses import dataclass

from django.db.models import Count, OuterRef, Q, Subquery
from django.http import HttpRequest
from django.utils.timezone import now

from shop.plans.jobs import OPEN
from shop.plans.models import Job, Plan, PlannedStep
from shop.plans.overtaken import should_have_begun


@dataclass(frozen=True)
class Standing:
    """The plan in force without its documents, and the planning run that people should hear of."""

    plan: Plan | None
    job: Job | None
    overtaken: int = 0  # steps that should have begun, and nobody began them

    @property
    def is_stale(self) -> bool:
        return self.plan is not None and self.plan.stale_since is not None

    @property
    def is_missing(self) -> bool:
        return self.plan is None


def standing_of(request: HttpRequest) -> Standing:
    """Read once a request, so that a page and its strip speak of the same plan."""
    if not hasattr(request, "standing"):
        request.standing = read_standing()
    return request.standing


def read_standing() -> Standing:
    """One query while all is quiet; one more where a run is under way, or has failed since the plan was made."""
    plans = Plan.objects.defer("problem", "document")
    plan = plans.annotate(news=Subquery(_news_since_it()), overtaken=Subquery(_overtaken())).in_force()
    if plan is None:
        return Standing(None, Job.objects.filter(OPEN | Q(state=Job.State.FAILED)).last())
    job = Job.objects.filter(pk=plan.news).first() if plan.news else None
    return Standing(plan, job, plan.overtaken or 0)


def _news_since_it():
    failed_since = Q(state=Job.State.FAILED, finished_at__gt=OuterRef("made_at"))
    return Job.objects.filter(OPEN | failed_since).order_by("-pk").values("pk")[:1]


def _overtaken():
    steps = PlannedStep.objects.filter(should_have_begun(now()), plan=OuterRef("pk")).order_by()
    return steps.values("plan").annotate(n=Count("pk")).values("n")
