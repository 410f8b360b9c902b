"""Two hundred houses by chance. See random_houses_check.py."""

from random_houses_check import main

main(160, 40)
