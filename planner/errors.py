"""Everything the planner can refuse, in one tree. Raised where the fact is known, shown by whoever asked."""


class PlannerError(Exception):
    """The planner was given something that makes no sense; the message is one sentence for a person."""


class ProblemError(PlannerError):
    """A problem, or a value in it, breaks the plan exchange: the sentence names the field and the id."""


class PlanError(PlannerError):
    """A plan document does not fit its problem or its format."""


class MakingError(PlannerError):
    """A piece cannot be made as asked: it is larger than the bed, or no clamp is long enough."""


class OutlineError(PlannerError):
    """An outline that can't be drawn or cut."""


class CuttingError(PlannerError):
    """A pass that a bit or a machine can't make."""
