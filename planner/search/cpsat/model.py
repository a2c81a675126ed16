"""Think a part of a plan through with CP-SAT: the best places for its free steps while all else stays."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from ortools.sat.python import cp_model

from planner.plan import Placed, Plan
from planner.search.cpsat.alike import in_blocks
from planner.search.cpsat.objective import Objective
from planner.search.cpsat.part import Part
from planner.search.cpsat.rules import Rules
from planner.search.cpsat.variables import Deciding, NoRoomError, OutOfTimeError, Variables
from planner.search.drafting import finished_plan
from planner.search.stop import Stop

PROVERS = ["objective_lb_search_max_lp", "objective_lb_search"]  # the strategies that close the last of a gap
NOT_KNOWN = float("-inf")  # as a bound
BoundWatcher = Callable[[float], None]
Watcher = Callable[[Plan], object]


@dataclass(frozen=True, slots=True)
class Thought:
    """What came of it: a plan if one was found, a bound on the cost, and whether nothing is left to think about."""

    plan: Plan | None
    bound: float
    settled: bool


def think(
    part: Part,
    *,
    seconds: float,
    workers: int,
    seed: int,
    stop: Stop,
    watcher: Watcher | None = None,
    bound_watcher: BoundWatcher | None = None,
) -> Thought:
    """The best plan found for the part.

    `watcher` hears of each better plan, `bound_watcher` of each better bound on what any plan of the part costs.
    """
    try:
        model = Model(part, stop)
    except NoRoomError:
        return Thought(None, NOT_KNOWN, settled=True)
    except OutOfTimeError:
        return Thought(None, NOT_KNOWN, settled=False)
    most = stop.seconds_in_all if stop.is_repeatable else stop.seconds_left()
    solver = model.solver(min(seconds, most), workers, seed, repeatable=stop.is_repeatable)

    def ask_again() -> None:
        """An interrupt that came before the solver was ready is lost."""
        if stop.reached():
            solver.stop_search()

    def hear_bound(proved: float) -> None:
        ask_again()
        if bound_watcher:
            bound_watcher(model.objective.bound(proved))

    solver.best_bound_callback = hear_bound
    with stop.interrupts(solver.stop_search):
        if stop.reached():
            return Thought(None, NOT_KNOWN, settled=False)
        status = solver.solve(model.variables.cp, _Listener(model, watcher, ask_again) if watcher else None)
    return model.thought(solver, status)


class Model:
    """One part of a plan as a CP-SAT model, begun from the plan as it stands."""

    def __init__(self, part: Part, stop: Stop) -> None:
        self.part = part
        self.variables = Variables(part, stop)
        self.rules = Rules(self.variables)
        self.rules.state()
        self.objective = Objective(self.variables, self.rules.turns)
        self.objective.minimise(part.plan.cost + part.facts.in_force.moved(part.plan))
        self._hint()

    def _hint(self) -> None:
        plan = self.part.plan.by_step | dict(in_blocks(self.part, self.rules.alike))
        for name, step in self.variables.steps.items():
            if name in plan:
                row = plan[name]
                self.variables.cp.add_hint(step.start, row.start)
                self._hint_choice(step.who, row.person)
                self._hint_choice(step.where, row.stations)
                self._hint_choice(step.changes, row.changeover)

    def _hint_choice(self, choices: dict, chosen: object) -> None:  # type: ignore[type-arg]
        for choice, literal in choices.items():
            if literal is not self.variables.yes:
                self.variables.cp.add_hint(literal, choice == chosen)

    def solver(self, seconds: float, workers: int, seed: int, *, repeatable: bool) -> cp_model.CpSolver:
        """A solver for it; a repeatable one ends after so much work instead of by the clock."""
        solver = cp_model.CpSolver()
        if repeatable:
            solver.parameters.max_deterministic_time = seconds
        else:
            solver.parameters.max_time_in_seconds = max(0.01, seconds)
        solver.parameters.num_workers = max(1, workers)
        if self.part.is_whole:
            solver.parameters.subsolvers.extend(PROVERS[:workers])
        solver.parameters.random_seed = seed
        return solver

    def thought(self, solver: cp_model.CpSolver, status: cp_model.CpSolverStatus) -> Thought:
        """What came of it."""
        found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
        known = found or status == cp_model.UNKNOWN
        return Thought(
            plan=self.plan(solver.value) if found else None,
            bound=self.objective.bound(solver.best_objective_bound) if known else NOT_KNOWN,
            settled=status in (cp_model.OPTIMAL, cp_model.INFEASIBLE),
        )

    def plan(self, value: Callable[[cp_model.LinearExprT], int]) -> Plan:
        """The plan with the free steps where the solver has them."""
        placed = [self._placed(step, value) for step in self.variables.steps.values()]
        for row in self.part.fixed.values():
            if row.step in self.part.facts.steps:
                minutes = self.rules.turns.fixed_changes.get(row.step)
                placed.append(row if minutes is None else replace(row, changeover=value(minutes)))
        return finished_plan(self.part.facts, placed, set(self.part.out))

    def _placed(self, step: Deciding, value: Callable[[cp_model.LinearExprT], int]) -> Placed:
        start = value(step.start)
        return Placed(
            step.facts.id,
            start,
            start + step.facts.minutes,
            next(person for person, literal in step.who.items() if value(literal)),
            next(stations for stations, literal in step.where.items() if value(literal)),
            next(minutes for minutes, literal in step.changes.items() if value(literal)),
        )


class _Listener(cp_model.CpSolverSolutionCallback):
    """Passes each better plan on while the solver is still at it."""

    def __init__(self, model: Model, watcher: Watcher, ask_again: Callable[[], None]) -> None:
        super().__init__()
        self.model, self.watcher, self.ask_again = model, watcher, ask_again

    def on_solution_callback(self) -> None:
        self.ask_again()
        plan = self.model.plan(self.value)
        self.watcher(plan)
