"""From what was ordered to what must be done: pieces, their routes, batches, one Problem."""
