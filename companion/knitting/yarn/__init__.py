"""Yarn: what a stitch takes, what it weighs, how it is wound."""
