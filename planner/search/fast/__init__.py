"""Ruin and recreate at machine speed: take clusters of steps out of a plan, put them back in another order."""
