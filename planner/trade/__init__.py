"""The trade's sums."""
