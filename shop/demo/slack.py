"""How much longer a planned step may take before somebody, some place or the wood's own clock is kept waiting."""

from __future__ import annotations

from collections import defaultdict
from functools import cached_property

from planner import Need, Placed, Plan, Problem


class Slack:
    """Reads a plan for the minutes that stand free after its steps."""

    def __init__(self, problem: Problem, plan: Plan) -> None:
        self.problem, self.plan = problem, plan
        self.links = defaultdict(list)
        for link in problem.links:
            self.links[link.before].append(link)

    @cached_property
    def in_order(self) -> list[Placed]:
        return sorted(self.plan.placed, key=lambda placed: (placed.start, placed.step))

    def after(self, placed: Placed) -> int | None:
        """Minutes that `placed` may take longer; None where a window is counted from its end, so it is kept to."""
        links = self.links[placed.step]
        if any(most is not None for link in links for _, most in link.waits):
            return None
        return min([*self._of_people(placed), *self._of_places(placed), *self._of_wood(placed)], default=60)

    def _of_people(self, placed: Placed) -> list[int]:
        free_at = placed.end - self._alone_minutes(placed.step)
        mine = (other for other in self.in_order if other.person and other.person == placed.person)
        return [room for other in mine if (room := other.start - other.changeover - free_at) >= 0]

    def _of_places(self, placed: Placed) -> list[int]:
        here = (other for other in self.in_order if set(other.stations) & set(placed.stations))
        return [room for other in here if (room := other.start - other.changeover - placed.end) >= 0]

    def _of_wood(self, placed: Placed) -> list[int]:
        after = [(link, self.plan[link.after]) for link in self.links[placed.step] if link.after in self.plan]
        return [other.start - placed.end - link.min_wait for link, other in after]

    def _alone_minutes(self, step_id: str) -> int:
        last = self.problem.step[step_id].segments[-1]
        return last.minutes if last.need is Need.ALONE else 0
