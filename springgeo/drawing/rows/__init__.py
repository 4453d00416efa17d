"""Rows of the tables on a sheet: data, ends, making; tables that flow."""
