"""The rules a plan keeps, one function a rule; nothing here comes from the search."""
