"""The page, a front end: a piece served to a browser, on this computer or beside it, by the standard library alone."""
