"""`python -m generators` is the same as `waterkey`."""

from generators.cli import main

if __name__ == "__main__":
    main()
