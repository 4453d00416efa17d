"""What the maker does with a spring that is specified: how the wire is bent, wound and measured."""

from springgeo.making.bending import Row, bending_table, replay
from springgeo.making.maker_data import (
    MakerData,
    bending_csv,
    inspection_csv,
    maker_data,
    making_json,
)

__all__ = [
    "MakerData",
    "Row",
    "bending_csv",
    "bending_table",
    "inspection_csv",
    "maker_data",
    "making_json",
    "replay",
]
