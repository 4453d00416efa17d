"""The exporters that come with the package: one file each, no kernel before it is needed."""
