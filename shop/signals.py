"""News that any room may send and a higher room acts on, so that imports run down only."""

from django.db import transaction
from django.dispatch import Signal

work_changed = Signal()
"""What must be made, or who can make it, has changed: the plan is stale. Sent with `because`, a short sentence."""


def tell_work_changed(sender: type, because: str) -> None:
    """Send it once what changed is sure to have happened: a plan made any sooner would not see it."""
    transaction.on_commit(lambda: work_changed.send(sender, because=because))
