"""The command line: it parses, calls and shows; one file a sub-command.

Modules here import at their top only what starts at once. What a command needs to do its work it
imports when it runs.
"""
