"""The wood worked out for the plan: which boards to rip, how pieces lie on panels."""

from __future__ import annotations

from django.db import models
from django.utils import timezone

SHAPE = 2
"""Of the document: goes up when what is kept in it changes."""


class WoodPlan(models.Model):
    """What was worked out last, ready to be shown: drawings and figures as one document."""

    made_at = models.DateTimeField(default=timezone.now)
    until = models.DateTimeField(help_text="for pieces whose wood is begun before then")
    pieces = models.JSONField(default=list, help_text="for which pieces")
    document = models.JSONField()
    made_from = models.CharField(max_length=64, blank=True, help_text="boards and figures as they were")

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return f"wood until {self.until:%Y-%m-%d}"

    @classmethod
    def latest(cls) -> WoodPlan | None:
        """None too where it was kept in another shape, by an older Benchtide."""
        return cls.objects.filter(document__shape=SHAPE).first()

    def is_for(self, pieces: list[int], made_from: str) -> bool:
        """No piece or board has come or gone since it was worked out, and no figure or glue changed."""
        return sorted(self.pieces) == sorted(pieces) and self.made_from == made_from
