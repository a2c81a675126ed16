"""A made-up workshop with a full order book, for whoever wants to see the whole thing at work."""
