"""The commands, each in the file of its name: parse the words, call one function, print the answer. ``given`` and
``options`` hold what several share.

Libraries that only one command needs are imported by that command.
"""
