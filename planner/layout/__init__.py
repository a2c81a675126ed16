"""Where things lie: pieces on a bed."""
