"""``python -m parts_library`` reads the TOML files, checks every law and writes ``library.table`` anew."""

from __future__ import annotations

from parts_library.loader import DATA, library_from
from parts_library.table import TABLE, Shipped, checksum_of, write_table


def main() -> None:
    """Write the table and say what is in it."""
    files = sorted(DATA.glob("*.toml"))
    library = library_from(files)
    write_table(Shipped(checksum_of(files), tuple(library.entries.values()), tuple(library.packages.values())))
    print(f"{TABLE.name}: {len(library.entries)} entries, {len(library.packages)} packages")


if __name__ == "__main__":
    main()
