"""The rules a plan keeps, one function a rule; nothing here is shared with the search."""
