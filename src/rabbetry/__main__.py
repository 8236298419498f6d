"""`python -m rabbetry`."""

from rabbetry.cli import main

main()
