"""`python -m takeoff` is the command `blankwright`."""

from takeoff.cli.main import run

if __name__ == "__main__":
    run()
