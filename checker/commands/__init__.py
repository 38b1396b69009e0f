"""The commands of ``legwise``, one file each: ``arguments(parser)`` says what it takes, ``run(arguments)`` does
it.

``run`` returns the exit status. ``shared`` holds what they have in common. The table of commands is in
``checker.cli``.
"""
