"""End styles: one file each; a style only contributes segments of the centreline."""
