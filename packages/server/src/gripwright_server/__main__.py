"""Run the command line as ``python -m gripwright_server``."""

from gripwright_server.cli import main

if __name__ == "__main__":
    main()
