"""``python -m partgen``."""

from partgen.cli import main

if __name__ == "__main__":
    main(prog_name="partgen")
