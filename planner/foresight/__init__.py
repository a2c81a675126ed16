"""What lies ahead: what to make."""
