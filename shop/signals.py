"""News that any room may send and a higher room acts on, so that imports run down only."""

from django.dispatch import Signal

work_changed = Signal()
"""What must be made, or who can make it, has changed: the plan is stale. Sent with `because`, a short sentence."""
