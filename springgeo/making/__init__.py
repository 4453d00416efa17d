"""What the maker does with a spring that is specified: how the wire is bent, cut and measured."""

from springgeo.making.bending import Row, bending_table, replay

__all__ = ["Row", "bending_table", "replay"]
