"""Charts in spreadsheets: cells to plans, and pieces to cells. The standard library alone."""
