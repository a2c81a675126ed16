"""Cutting wanted lengths out of stock with the least of it: columns, their bound, and the choice of whole ones."""
