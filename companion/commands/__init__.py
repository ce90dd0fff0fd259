"""The commands: parse the words, call one function, print the answer. One file for those that belong together.

Libraries that only one command needs are imported by that command.
"""
