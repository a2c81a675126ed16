"""The planner's face: the only names that the site uses."""

from planner.costing import cost, distance_words
from planner.errors import MakingError, PlanError, PlannerError, ProblemError
from planner.exchange import (
    plan_from_json,
    plan_to_json,
    problem_from_json,
    problem_to_json,
    read_plan,
    read_problem,
    write_plan,
    write_problem,
)
from planner.explain import why
from planner.hours import open_intervals
from planner.lateness import Lateness, why_late
from planner.making.assembly import problem_of
from planner.making.pieces import (
    Bed,
    Blank,
    CommonMinutes,
    Design,
    Detail,
    Finish,
    Floor,
    Glue,
    OrderFacts,
    Pass,
    Piece,
    StandingStep,
    Work,
)
from planner.plan import Missed, Placed, Plan, Status, Unplaced
from planner.problem import (
    Begun,
    Hold,
    Interval,
    Link,
    Need,
    Order,
    Person,
    Prices,
    Problem,
    Segment,
    Station,
    StationNeed,
    Step,
)
from planner.rules import broken_rules
from planner.solve import quick_plan, solve
from planner.trade.outlines import outline_of
from planner.trade.price import price_floor
from planner.units import NM_PER_INCH, parse_length_nm, say_inches

__all__ = [
    "NM_PER_INCH",
    "Bed",
    "Begun",
    "Blank",
    "CommonMinutes",
    "Design",
    "Detail",
    "Finish",
    "Floor",
    "Glue",
    "Hold",
    "Interval",
    "Lateness",
    "Link",
    "MakingError",
    "Missed",
    "Need",
    "Order",
    "OrderFacts",
    "Pass",
    "Person",
    "Piece",
    "Placed",
    "Plan",
    "PlanError",
    "PlannerError",
    "Prices",
    "Problem",
    "ProblemError",
    "Segment",
    "StandingStep",
    "Station",
    "StationNeed",
    "Status",
    "Step",
    "Unplaced",
    "Work",
    "broken_rules",
    "cost",
    "distance_words",
    "open_intervals",
    "outline_of",
    "parse_length_nm",
    "plan_from_json",
    "plan_to_json",
    "price_floor",
    "problem_from_json",
    "problem_of",
    "problem_to_json",
    "quick_plan",
    "read_plan",
    "read_problem",
    "say_inches",
    "solve",
    "why",
    "why_late",
    "write_plan",
    "write_problem",
]
