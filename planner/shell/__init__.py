"""What `python -m planner` understands, and how it answers."""
