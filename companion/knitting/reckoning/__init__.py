"""What a piece takes, costs and measures."""
