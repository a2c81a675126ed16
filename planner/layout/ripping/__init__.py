"""Which boards to rip into which strips for which panels, and what to buy where stock runs short."""
