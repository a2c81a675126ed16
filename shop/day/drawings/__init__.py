"""Pictures made of facts: bits as keys, pieces on a bed, the same on the screen and on paper."""
