"""Pages of orders and fairs."""
