"""`python -m plytide`: the command line, where the script is not on the path."""

from plytide.cli import main

main()
