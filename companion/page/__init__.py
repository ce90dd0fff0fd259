"""The page, a front end: a piece served to browsers, on this computer or beside it, by the standard library."""
